// What a step of undo changed, to be brought into view; and the word by which the bench knows this page's own steps.
import { echoes, subjectOf } from "./subjects.js";

// The same over a reload, another in another tab. Nothing of the site is in it.
export function pageWord() {
  const word = sessionStorage.getItem("lintel-page") ?? Array.from(crypto.getRandomValues(new Uint8Array(8)), (byte) => byte.toString(16).padStart(2, "0")).join("");
  sessionStorage.setItem("lintel-page", word);
  return word;
}

const isThing = (value) => typeof value === "object" && value !== null;

// The path of the first value of a site file that is otherwise after than before; of a list that grew or shrank, that of the
// thing which came or went. Null: they are the same. Pure.
export function firstDifference(before, after, path = "") {
  if (!isThing(before) || !isThing(after) || Array.isArray(before) !== Array.isArray(after)) return Object.is(before, after) ? null : path;
  const list = Array.isArray(after);
  if (list && before.length !== after.length) {
    const longer = before.length > after.length ? before : after;
    return `${path}[${longer.findIndex((one, i) => JSON.stringify(before[i]) !== JSON.stringify(after[i]))}]`;
  }
  for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
    const found = firstDifference(before[key], after[key], list ? `${path}[${key}]` : path ? `${path}.${key}` : key);
    if (found !== null) return found;
  }
  return null;
}

// The face on which a path is edited.
export function faceOf(path) {
  return /^(routines|people|ways|break-ins)\b/.test(path) ? "routines" : "bench";
}

// The keys of the controls in which a path is shown, the nearest first: its own, that of its thing, that of a zone which is one
// matter with it.
export function keysOf(file, path) {
  const subject = subjectOf(path);
  const zone = /^zones\[(\d+)\]\.([a-z-]+)/.exec(path);
  return [path, zone && `zone-${zone[1]}-${zone[2]}`, subject, ...echoes(file, subject)].filter((key, i, all) => key && all.indexOf(key) === i);
}

// Shows it, and puts the focus on it: on a text only where somebody has a keyboard at hand, a tablet would bring up its own. False:
// it is shown nowhere.
export function reveal(file, path, byKey) {
  const quoted = (key) => CSS.escape(key);
  const found = keysOf(file, path).flatMap((key) => [...document.querySelectorAll(`main [data-key="${quoted(key)}"], main .plan [data-about="${quoted(key)}"]`)])
    .concat(...document.querySelectorAll(`main [data-key^="${quoted(path)}."]`)) // a part of it, where it has no control of its own
    .find((one) => one.getClientRects().length > 0);
  found?.scrollIntoView({ block: "nearest" });
  if (found && (byKey || !found.matches("input[type=text]"))) found.focus({ preventScroll: true });
  return found !== undefined;
}
