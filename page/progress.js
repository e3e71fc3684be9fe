// While a check runs that takes more than a moment: how many routines are done, in words and as a hairline that fills; after a
// while the way to stop it. A check that was stopped says how to go on.
import { h } from "./dom.js";

const STOP_FROM_S = 10;

// told: {done, of, for_s}, as the bench has it.
function words({ done, of }) {
  return `${done} of ${of} routine${of === 1 ? "" : "s"} done`;
}

// before: what leads up to it.
export function showProgress(before, told, stop) {
  return h("span", { class: "progress", "aria-live": "off" }, before, h("span", {}, words(told), told.of === 0 ? null : h("progress", { max: told.of, value: told.done, "aria-label": "routines done" })),
    told.for_s < STOP_FROM_S ? null : [" ", h("button", { type: "button", class: "link", "data-key": "stop", onclick: stop }, "Stop")]);
}

export function showWaysOn(goOn, narrow) {
  return [" ", h("button", { type: "button", class: "link", "data-key": "go-on", onclick: goOn }, "Go on"), " · ", h("button", { type: "button", class: "link", "data-key": "narrow", onclick: narrow }, "What would narrow it")];
}
