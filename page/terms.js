// Help where one stands: a term, pressed, is explained beside itself. What it means is read from docs/words.md, the one source;
// it comes with the program, and is fetched when it is first asked for.
import { h, put } from "./dom.js";

// Rows of the tables: every word by which a row goes, and what it means.
export function wordsOf(text) {
  const rows = text.split("\n").filter((line) => /^\|(?! *(?:-|uk |word ))/.test(line)).map((line) => line.split("|").slice(1, -1).map((cell) => cell.trim().replaceAll("`", "").replace(/\*(.+?)\*/g, "$1")));
  const all = new Map();
  for (const cells of rows) {
    const names = cells.slice(0, -1).filter((cell) => cell !== "the same").flatMap((cell) => cell.replace(/\(.*?\)/g, "").split(","));
    for (const name of names.map((one) => one.trim().replaceAll('"', "").toLowerCase())) if (name && !all.has(name)) all.set(name, cells[cells.length - 1]);
  }
  return all;
}

let known = null;

async function means(word) {
  known ??= fetch("/words.md").then((answer) => answer.text()).then(wordsOf).catch(() => { known = null; return new Map(); });
  return (await known).get(word.toLowerCase()) ?? null;
}

// One note for the whole page, in the top layer; Esc, or a press elsewhere, closes it.
function note() {
  const there = document.getElementById("note");
  if (there) return there;
  const made = h("div", { id: "note", popover: "auto", role: "status" });
  document.body.append(made);
  return made;
}

// Puts a note beside something, within the screen.
export function stand(box, beside) {
  const at = beside.getBoundingClientRect();
  const width = Math.min(24 * 16, window.innerWidth - 24);
  box.style.width = `${width}px`;
  box.style.left = `${Math.max(12, Math.min(at.left, window.innerWidth - width - 12))}px`;
  const below = at.bottom + 6;
  box.style.top = `${below + box.offsetHeight > window.innerHeight ? Math.max(12, at.top - box.offsetHeight - 6) : below}px`;
}

async function explain(button, word) {
  const box = note();
  const text = await means(word);
  put(box, h("p", {}, h("b", {}, word), text ? `: ${text}.` : ": this word is explained nowhere yet."));
  box.showPopover();
  stand(box, button);
}

// words: what is shown; word: under what it is explained, where that is another.
export function term(words, word = words) {
  return h("button", { type: "button", class: "term", "data-key": `term-${word}-${words}`, onclick: (event) => { event.stopPropagation(); explain(event.currentTarget, word); } }, words);
}

// A text with the first of each of these words made a term.
export function explained(text, list) {
  const words = list.filter((word) => new RegExp(`\\b${word}\\b`, "i").test(text)).sort((a, b) => b.length - a.length);
  let parts = [text];
  for (const word of words) {
    let done = false;
    parts = parts.flatMap((part) => {
      const match = done || typeof part !== "string" ? null : new RegExp(`\\b${word}\\b`, "i").exec(part);
      if (!match) return [part];
      done = true;
      return [part.slice(0, match.index), term(match[0], word), part.slice(match.index + match[0].length)];
    });
  }
  return parts;
}

// Words of reasons and remedies that somebody may not know.
export const TERMS = ["entry delay", "exit delay", "abort window", "cancel window", "follower", "interior", "perimeter", "chime", "supervision", "tamper", "cross-zone", "swinger limit", "bypass", "duress", "hold-up", "monitoring station", "usual routine", "blind floor", "exit restart", "exit error", "24-hour", "jamming"];
