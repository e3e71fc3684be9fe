// The story of the selected finding over its seconds: an axis with each event where it happens, and the words below.
import { h, put, s } from "./dom.js";

const WIDTH = 1000;
const EDGE = 40;

// A step of the axis that gives four to ten marks.
export function axisStep(seconds) {
  return [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 43200, 86400].find((step) => seconds / step <= 9) ?? 86400;
}

function place(second, first, last) {
  return EDGE + (second - first) / Math.max(1, last - first) * (WIDTH - 2 * EDGE);
}

export function span(seconds) {
  if (seconds < 120) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  return minutes < 120 ? `${minutes} min ${seconds % 60} s` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

function axis(story) {
  const first = story[0].at_s;
  const last = story[story.length - 1].at_s;
  const step = axisStep(last - first);
  const marks = [];
  for (let second = first; second <= last; second += step) {
    const x = place(second, first, last).toFixed(1);
    marks.push(s("line", { x1: x, y1: 20, x2: x, y2: 44, class: "hair" }),
      s("text", { x, y: 14, "text-anchor": "middle", class: "label" }, second === first ? story[0].clock || "0 s" : `+${span(second - first)}`));
  }
  const events = story.map((line) => {
    const x = place(line.at_s, first, last).toFixed(1);
    return line.bad
      ? s("path", { d: `M${x} 22 l6 10 l-6 10 l-6 -10 z`, class: "bad" })
      : s("circle", { cx: x, cy: 32, r: 4, class: "event" });
  });
  return s("svg", { viewBox: `0 0 ${WIDTH} 50`, class: "axis", role: "img", "aria-label": `${story.length} events within ${span(last - first)}` },
    s("line", { x1: EDGE, y1: 32, x2: WIDTH - EDGE, y2: 32, class: "line" }), marks, events);
}

export function showRibbon(title, body, finding) {
  const story = finding?.story ?? [];
  title.textContent = story.length > 0 ? finding.headline : "Story";
  if (story.length === 0) {
    return put(body, h("p", { class: "soft" }, finding ? "This finding has no story: it is about a setting." : "Choose a finding to see how it comes about."));
  }
  return put(body, axis(story), h("ol", { class: "story" }, story.map((line) => h("li", { class: line.bad ? "bad" : null },
    h("span", { class: "clock" }, line.clock), h("span", {}, line.what, line.because ? h("span", { class: "soft" }, ` · ${line.because}`) : null)))));
}
