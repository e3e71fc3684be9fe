// Keying in: the programming sheet, one thing at a time, large, to be ticked off line by line while it is keyed into the
// panel. What was keyed, and as what, is kept by the bench; a line whose value changed since says so.
import { h, put } from "./dom.js";

// Lines of one thing (a zone, an area, a user, the panel itself), in keying order: [{id, title, lines}].
export function groupsOf(lines) {
  const groups = [];
  for (const line of lines) {
    const id = [line.part, line.number, line.thing].filter((part) => part !== null && part !== "").join(" ");
    const last = groups[groups.length - 1];
    const entry = { ...line, id: `${id} ${line.key}` };
    if (last?.id === id) last.lines.push(entry);
    else groups.push({ id, title: titleOf(line), lines: [entry] });
  }
  return groups;
}

function titleOf(line) {
  const name = line.part.charAt(0).toUpperCase() + line.part.slice(1);
  return [line.number ? `${name} ${line.number}` : name, line.thing].filter(Boolean).join(" · ");
}

// "keyed", "changed" (keyed with another value), "open".
export function stateOfLine(line, keyed) {
  if (!(line.id in keyed)) return "open";
  return keyed[line.id] === line.value ? "keyed" : "changed";
}

export function left(group, keyed) {
  return group.lines.filter((line) => stateOfLine(line, keyed) !== "keyed").length;
}

// Digits of a serial number in fours, for reading aloud.
export function spaced(line) {
  if (line.key !== "serial" || !/^[\w ]+$/.test(line.value)) return line.value;
  return line.value.replaceAll(" ", "").replace(/(.{4})(?=.)/g, "$1 ");
}

// From one to the next by arrows: a list is one tab stop.
function arrows(event) {
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const all = [...event.currentTarget.querySelectorAll("button")];
  const next = by && all[all.indexOf(document.activeElement) + by];
  if (!by || event.altKey || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  next?.focus();
}

// What the button of a line says before and after, by kind of line.
const WORDS = { setting: ["key", "keyed"], step: ["do", "done"], "fill-in": ["find", "found"], clear: ["clear", "cleared"] };

function row(line, view, stop) {
  const state = stateOfLine(line, view.keyed);
  const was = state === "changed" ? h("span", { class: "was" }, ` was keyed as ${view.keyed[line.id]}`) : null;
  return h("li", { class: `line ${state} ${line.usual ? "usual" : ""}` },
    h("button", {
      type: "button", role: "checkbox", class: "tick", tabindex: stop ? 0 : -1, "aria-checked": String(state === "keyed"), "data-key": `tick-${line.id}`, "aria-label": `${line.label}: ${line.value}`,
      onclick: () => view.note({ [line.id]: state === "keyed" ? null : line.value }),
    }, (WORDS[line.kind] ?? WORDS.setting)[state === "keyed" ? 1 : 0]),
    h("span", { class: "what" }, line.label), h("span", { class: line.kind === "step" ? "step" : line.usual ? "value" : "value own" }, spaced(line) || "—", line.usual ? h("span", { class: "soft" }, " as delivered") : null, was));
}

function list(groups, view, at) {
  return h("ol", { class: "groups", onkeydown: arrows }, groups.map((group, index) => {
    const open = left(group, view.keyed);
    return h("li", {}, h("button", { type: "button", "aria-current": index === at ? "true" : null, tabindex: index === at ? 0 : -1, "data-key": `group-${group.id}`, onclick: () => view.go(group.id) },
      h("span", {}, group.title), h("span", { class: "soft" }, open === 0 ? "keyed" : open === group.lines.length ? "" : `${open} left`)));
  }));
}

// view: lines, keyed, group (id or null), problem, awake (what is to be said of the screen); note(changes), go(id).
export function showKeying(body, view) {
  const groups = groupsOf(view.lines);
  if (groups.length === 0) return put(body, h("p", { class: "soft" }, "Nothing to key in yet."));
  const found = groups.findIndex((group) => group.id === view.group);
  const at = found >= 0 ? found : Math.max(0, groups.findIndex((group) => left(group, view.keyed) > 0));
  const group = groups[at];
  const all = groups.flatMap((one) => one.lines);
  const done = all.filter((line) => stateOfLine(line, view.keyed) === "keyed").length;
  const next = groups[at + 1];
  const stop = Math.max(0, group.lines.findIndex((line) => stateOfLine(line, view.keyed) !== "keyed"));
  const finish = () => {
    view.note(Object.fromEntries(group.lines.filter((line) => stateOfLine(line, view.keyed) !== "keyed").map((line) => [line.id, line.value])));
    if (next) view.go(next.id);
  };
  return put(body,
    h("p", { class: "caution" }, "Put the account on test with the monitoring station first. The maker's instructions win over this sheet."),
    view.awake ? h("p", { class: "caution soft" }, view.awake) : null,
    view.problem ? h("p", { class: "caution", role: "alert" }, view.problem) : null,
    h("div", { class: "keying" },
      h("div", { class: "aside" }, h("p", { class: "soft", role: "status" }, done === all.length ? "All lines are keyed." : `${done} of ${all.length} lines are keyed.`), list(groups, view, at)),
      h("div", { class: "one" },
        groups[at - 1] ? h("button", { type: "button", class: "neighbour", "data-key": "before", onclick: () => view.go(groups[at - 1].id) }, `before: ${groups[at - 1].title}`) : null,
        h("h2", {}, group.title),
        h("ul", { class: "lines", onkeydown: arrows }, group.lines.map((line, i) => row(line, view, i === stop))),
        h("button", { type: "button", class: "act", "data-key": "finish", onclick: finish }, left(group, view.keyed) === 0 ? (next ? "Next" : "Done") : next ? "All keyed, next" : "All keyed"),
        next ? h("button", { type: "button", class: "neighbour", "data-key": "after", onclick: () => view.go(next.id) }, `next: ${next.title}`) : null)));
}
