// "What can be done here" (Shift+F10, or "more" below the sheet): the verbs of what has the focus, each with its key where it has one.
// Each is the same as the key or the button that it names.
import { h, put } from "./dom.js";
import { stand } from "./terms.js";

const press = (key, more) => (target) => target.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true, ...more }));
const click = (element) => () => element.click();

// [words, its key, what does it]: of a thing on the drawing, or the whole sheet.
function onDrawing(target, { editor, subject, storeys, zoom }) {
  const about = target.dataset.about ?? null;
  const key = (words, name) => [words, name, press(name)];
  return [about && (about === subject ? key("let it go", "Escape") : key("choose it", "Enter")), ...(about ? editor.verbs(about) : []).map(([words, name]) => key(words, name)),
    key("show the next layer", "v"), ...(storeys > 1 ? [key("one storey up", "PageUp"), key("one storey down", "PageDown")] : []), key("look closer", "+"), zoom > 1 && key("the whole sheet", "0"), key("list it in words", "l")];
}

function inRow(row) {
  const number = row.querySelector(".number");
  const told = [];
  for (let next = row.nextElementSibling; next && !next.dataset.zone; next = next.nextElementSibling) told.push(next);
  const within = (selector) => told.map((one) => one.querySelector(selector)).find(Boolean);
  const of = (words, element) => element && [words, "", click(element)];
  return [of(number.getAttribute("aria-pressed") === "true" ? "let it go" : "choose it", number), of("say what is wrong with it", row.querySelector(".verdict button")), of("make the first remedy", within('.remedy .act:not([aria-disabled="true"])')),
    of("the next finding about it", within('[data-key="next"]')), of("live with it", within(".waive summary")), of("turn its chime", row.querySelector('[data-key$="-chime"]'))];
}

function inStory(lanes, playing) {
  const key = (words, name, more, shown = name) => [words, shown, () => press(name, more)(lanes)];
  return [key(playing ? "stop" : "play", " ", {}, "Space"), key("to the next event", "ArrowRight", { shiftKey: true }, "Shift →"), key("to the event before", "ArrowLeft", { shiftKey: true }, "Shift ←"), key("to its beginning", "Home"), key("to its end", "End"), key("the next story", "."), key("the story before", ",")];
}

// What it is about, and its verbs; null: nothing can be done there.
function verbsAt(element, view) {
  const plan = element.closest(".plan");
  let row = element.closest("#schedule tbody tr");
  while (row && !row.dataset.zone) row = row.previousElementSibling; // what is told of a zone belongs to its row
  const lanes = element.closest("#ribbon")?.querySelector(".lanes");
  const name = (one) => one.getAttribute("aria-label") ?? "";
  if (plan) return { name: element.dataset.about ? name(element) : "the sheet", list: onDrawing(element, view) };
  if (row) return { name: name(row.querySelector(".number")), list: inRow(row) };
  return lanes ? { name: "the story", list: inStory(lanes, view.playing) } : null;
}

// view(): editor, subject, storeys, zoom, playing.
export function attachHere(view) {
  const box = h("div", { id: "here", popover: "auto", role: "region", "aria-label": "what can be done here" });
  document.body.append(box);
  const there = (key, element) => (element.isConnected ? element : document.querySelector(`[data-key="${CSS.escape(key)}"]`));
  const open = (element) => {
    const found = verbsAt(element, view());
    if (!found) return false;
    const { key } = element.dataset;
    const done = (act) => () => { box.hidePopover(); const target = there(key, element); target?.focus(); if (target) act(target); };
    put(box, h("p", { class: "soft" }, found.name), h("ul", {}, found.list.filter(Boolean).map(([words, name, act]) => h("li", {}, h("button", { type: "button", onclick: done(act) }, h("span", {}, words), h("span", { class: "soft" }, name.replace("Escape", "Esc")))))));
    box.showPopover();
    stand(box, element.matches(".plan") ? document.getElementById("drawing-title") : element);
    box.querySelector("button").focus();
    return true;
  };
  box.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const all = [...box.querySelectorAll("button")];
    if (step) { all[(all.indexOf(document.activeElement) + step + all.length) % all.length].focus(); event.preventDefault(); }
    event.stopPropagation();
  });
  document.addEventListener("keydown", (event) => { if (event.key === "F10" && event.shiftKey && open(event.target)) event.preventDefault(); });
  return open;
}
