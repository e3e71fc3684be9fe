// On a phone the bench shows one part at a time, under the sentence; a bar at its foot has their words.
import { h, put } from "./dom.js";

export const narrow = matchMedia("(max-width: 47.99em)");

// Paper is no phone, however narrow it is.
export const isNarrow = () => narrow.matches && !document.body.hasAttribute("data-paper");

// The section of each.
const PARTS = { verdict: "findings", drawing: "drawing", zones: "schedule", story: "ribbon" };

// Which sections are shown of those that a face has: on paper all of them.
export function shownOf(sections, face, part) {
  return isNarrow() && face === "bench" ? [PARTS[part]] : sections;
}

// In which part a path of the site file is edited; null: in none of its own.
export function partOf(path) {
  return /^building\b/.test(path) ? "drawing" : /^(zones|devices)\b/.test(path) ? "zones" : null;
}

// The part that holds a section.
export function partWith(id) {
  return Object.keys(PARTS).find((part) => PARTS[part] === id) ?? "verdict";
}

// guide: on a phone it stands at the foot of every part.
export function showParts(bar, guide, face, chosen, turn) {
  bar.hidden = !narrow.matches || face !== "bench";
  const foot = document.getElementById(narrow.matches ? "foot" : "drawing");
  if (guide.parentNode !== foot) foot.append(guide);
  put(bar, Object.keys(PARTS).map((part) => h("button", { type: "button", "data-key": `part-${part}`, "aria-current": part === chosen ? "page" : null, onclick: () => {
    turn(part);
    const top = document.getElementById(PARTS[part]).getBoundingClientRect().top;
    if (top < 0) scrollBy(0, top);
  } }, part.charAt(0).toUpperCase() + part.slice(1))));
}
