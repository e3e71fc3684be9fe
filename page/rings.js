// The ring: closed (holds), dotted (risk), pulled apart (fault); struck through where somebody answers for it; a question where
// nobody knows. Shape and word, never colour alone.
import { h, s } from "./dom.js";
import { WORDS } from "./subjects.js";

const SHAPES = {
  holds: () => [s("circle", { cx: 8, cy: 8, r: 5.75, class: "line" })],
  risk: () => Array.from({ length: 8 }, (_, i) => s("circle", {
    cx: (8 + 5.75 * Math.cos(i * Math.PI / 4)).toFixed(2), cy: (8 + 5.75 * Math.sin(i * Math.PI / 4)).toFixed(2), r: 1, class: "dot",
  })),
  fault: () => [s("path", { d: "M5.35 12.25 A5 5 0 0 1 5.35 2.25", class: "line" }),
    s("path", { d: "M10.65 3.75 A5 5 0 0 1 10.65 13.75", class: "line" })],
};

const STRUCK = { "waived fault": "fault", "waived risk": "risk" };

// The shape alone, in a box of 16 units; for the drawing.
export function ringShape(state) {
  if (state === "unsettled") return [s("text", { x: 8, y: 13, "text-anchor": "middle", class: "asks" }, "?")];
  if (STRUCK[state]) return [...SHAPES[STRUCK[state]](), s("path", { d: "M1.5 14.5 L14.5 1.5", class: "strike" })];
  return SHAPES[state]();
}

// state: one of WORDS. quiet: no word is written beside it, only read out. word: says more than the state's own.
export function ring(state, quiet = false, word = WORDS[state]) {
  const mark = SHAPES[state] || STRUCK[state]
    ? s("svg", { viewBox: "0 0 16 16", width: 16, height: 16, "aria-hidden": "true" }, ringShape(state))
    : h("span", { "aria-hidden": "true", class: "mark" }, state === "unsettled" ? "?" : "–");
  return h("span", { class: `ring ${state}` }, mark, h("span", { class: quiet ? "read" : "word" }, word));
}
