// How much is left: a dimension line with its figure, |<- 7 s ->|, the same wherever a margin is told.
import { h } from "./dom.js";

export function spare(figure) {
  return h("span", { class: "spare" }, h("span", { "aria-hidden": "true" }, "←"), ` ${figure} `, h("span", { "aria-hidden": "true" }, "→"));
}

// A sentence in which "7 s to spare" stands, with the figure as a dimension line.
export function withSpare(sentence) {
  const match = /^(.*?)(\d+ (?:s|min|h))( to spare.*)$/s.exec(sentence);
  return match ? [match[1], spare(match[2]), match[3]] : sentence;
}
