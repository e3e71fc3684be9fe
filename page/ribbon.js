// The ribbon: the story of the chosen finding as lanes over its seconds, with a line of time that can be moved, and the same
// course in words. It plays: main.js is told the second and moves people on the drawing.
import { h, put, s } from "./dom.js";
import { breaksAt, clockOf, laneOf, lanesOf, lineAt, lineOf, nextInstant, spanOf, stretches } from "./story.js";
import { isOpen } from "./subjects.js";

const ROW = 30;
const BAR = 20;
const HEAD = 26;
const QUIET = 32; // more, for the words of what is left out between two stretches
const LETTER = 6.6; // width of one at 13 px, about
const NAME = 7.2; // of one of a lane's name
const TEXT_PX = 13;
/* The same as the reader has letters spaced. */
const pen = { letter: LETTER, name: NAME };
const GAP = 72;
const PAPER = 690; // as wide as a sheet of A4 less its margins
const EDGE = 16; // right of the last second

// A step of the axis that gives at most nine marks.
export function axisStep(seconds) {
  return [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 43200, 86400].find((step) => seconds / step <= 9) ?? 86400;
}

export function span(seconds) {
  if (seconds < 120) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  const two = (large, of, small, rest) => `${large} ${of}${rest > 0 ? ` ${rest} ${small}` : ""}`;
  return minutes < 120 ? two(minutes, "min", "s", Math.round(seconds) % 60) : two(Math.floor(minutes / 60), "h", "min", minutes % 60);
}

function headOf(line) {
  return line.placed.length > 1 ? HEAD + QUIET : HEAD;
}

function axis(line, clock, left, height) {
  const head = headOf(line);
  const seconds = line.placed.reduce((sum, one) => sum + one.to - one.from + 1, 0);
  const right = left + line.placed.at(-1).stop + EDGE;
  const step = axisStep(seconds * 70 / Math.max(1, seconds * line.scale) * 8); // a clock is some 60 px wide
  const marks = line.placed.flatMap((one, i) => {
    const list = [];
    for (let at = one.from; at <= one.to; at += 1) {
      const x = left + line.at(at);
      if (at !== one.from && (at % step !== 0 || x < left + one.start + (i === 0 ? 104 : 70))) continue;
      list.push(s("line", { x1: x, y1: head - 6, x2: x, y2: height, class: "hair" }), s("text", { x, y: 13, class: "label", "text-anchor": at === one.from && i === 0 ? "start" : x + 30 > right ? "end" : "middle" }, clock(at)));
    }
    const before = line.placed[i - 1];
    if (before) {
      const x = left + (before.stop + one.start) / 2;
      list.push(s("rect", { x: left + before.stop + 2, y: HEAD - 4, width: one.start - before.stop - 4, height: height - HEAD + 4, class: "quiet" }),
        s("text", { x, y: HEAD + 12, class: "label", "text-anchor": "middle" }, span(one.from - before.to)), s("text", { x, y: HEAD + 26, class: "label", "text-anchor": "middle" }, "later"));
    }
    return list;
  });
  return marks;
}

// Words in the bar where they fit, else behind it up to the next one; none where there is no room: they stand in words below.
function words(bar, x, wide, room, y) {
  const long = bar.says.length * pen.letter;
  if (long + 12 <= wide) return s("text", { x: x + 6, y: y + 14, class: "in" }, bar.says);
  if (long + 12 <= room - wide) return s("text", { x: x + wide + 6, y: y + 14, class: "out" }, bar.says);
  const fits = Math.floor((Math.max(room - wide, wide) - 14) / pen.letter);
  if (fits < 5) return null;
  return s("text", { x: room - wide > wide ? x + wide + 6 : x + 6, y: y + 14, class: room - wide > wide ? "out" : "in" }, `${bar.says.slice(0, fits - 1)}…`);
}

// Beside a flag, up to the next one; before it where it stands too near to the end, and nothing else is before it.
function flagWords(bar, x, room, before, y) {
  const fits = Math.floor((room - 18) / pen.letter);
  if (bar.says.length > fits && bar.says.length * pen.letter + 12 <= before) return s("text", { x: x - 6, y: y + 14, "text-anchor": "end", class: "out" }, bar.says);
  if (fits < 5 && bar.says.length > fits) return null;
  return s("text", { x: x + 16, y: y + 14, class: "out" }, bar.says.length <= fits ? bar.says : `${bar.says.slice(0, fits - 1)}…`);
}

// j: which of the lane's bars. Of two that begin together the second has the words: there is one place for them.
function drawn(lane, j, line, left, y, end) {
  const bar = lane.bars[j];
  const after = lane.bars[j + 1];
  const next = after?.from_s > bar.from_s ? after.from_s : null;
  const x = left + line.at(bar.from_s);
  const stop = left + line.at(bar.to_s ?? end);
  const wide = Math.max(lane.lane === "person" ? 5 : 3, stop - x);
  const room = (next === null ? left + line.at(end) : left + line.at(next)) - x;
  const title = s("title", {}, bar.says);
  if (lane.lane === "station") return s("g", { class: `bar station ${bar.bad ? "bad" : ""}` }, title, s("path", { d: `M${x} ${y + BAR} V${y} L${x + 12} ${y + 5} L${x} ${y + 10}` }), flagWords(bar, x, next === null ? left + line.at(end) + EDGE - x : room, j === 0 ? x - left : 0, y));
  /* Upright strokes, clear of its word: no print and no eye takes it for somebody's. */
  const from = bar.says.length * pen.letter + 12 <= wide ? bar.says.length * pen.letter + 14 : 4;
  const strokes = bar.state === "siren" ? Array.from({ length: Math.max(0, Math.floor((wide - from) / 5)) }, (_, i) => s("line", { x1: x + from + i * 5, x2: x + from + i * 5, y1: y + 4, y2: y + BAR - 4, class: "stroke" })) : [];
  return s("g", { class: `bar ${lane.lane} ${bar.state} ${bar.bad ? "bad" : ""}` }, title, s("rect", { x, y, width: wide, height: BAR, rx: lane.lane === "person" ? 4 : 0 }), strokes, after?.from_s === bar.from_s ? null : words(bar, x, wide, room, y));
}

// Tones and the siren of one area may sound at once: the siren over the tone.
function rows(lanes) {
  return lanes.flatMap((lane) => (lane.lane === "sound"
    ? ["tone", "siren"].map((state) => ({ ...lane, bars: lane.bars.filter((bar) => bar.state === state), name: `${lane.of}: ${state}` })).filter((one) => one.bars.length > 0)
    : [{ ...lane, name: lane.of }]));
}

// As much to the left as the longest name of a lane takes, within reason.
function leftOf(list, width) {
  const longest = Math.max(...list.map((lane) => lane.name.length));
  return Math.min(Math.max(longest * pen.name + 16, 88), width < 600 ? 150 : 200);
}

function shortened(name, left) {
  const fits = Math.floor((left - 10) / pen.name);
  return name.length <= fits ? name : `${name.slice(0, fits - 1)}…`;
}

function spacePen(body) {
  const { letterSpacing, fontSize } = getComputedStyle(body);
  const more = (parseFloat(letterSpacing) || 0) / parseFloat(fontSize) * TEXT_PX;
  Object.assign(pen, { letter: LETTER + more, name: NAME + more });
}

function lanesPicture(view, width) {
  const { finding, second } = view;
  const list = rows(lanesOf(finding));
  const left = leftOf(list, width);
  const { end } = spanOf(finding);
  const line = lineOf(stretches(finding), width - left - EDGE, GAP);
  const head = headOf(line);
  const height = head + list.length * ROW + 8;
  const breaks = breaksAt(finding);
  const clock = clockOf(finding);
  const now = left + line.at(second);
  const parts = list.map((lane, i) => {
    const y = head + i * ROW + 4;
    return s("g", {}, s("line", { x1: 0, x2: width, y1: y + ROW - 5, y2: y + ROW - 5, class: "hair" }), s("text", { x: left - 10, y: y + 14, "text-anchor": "end", class: "lane" }, s("title", {}, lane.name), shortened(lane.name, left)),
      lane.bars.map((_, j) => drawn(lane, j, line, left, y, end)));
  });
  const move = (event) => view.seek(line.back(event.clientX - event.currentTarget.getBoundingClientRect().left - left));
  return s("svg", {
    class: "lanes", width, height: height + 16, viewBox: `0 0 ${width} ${height + 16}`, role: "slider", tabindex: 0, "data-key": "time", "aria-label": "second of the story", "aria-valuemin": spanOf(finding).first, "aria-valuemax": end,
    "aria-valuenow": Math.round(second), "aria-valuetext": `${clock(second)}: ${lineAt(finding, second)?.what ?? ""}`,
    onkeydown: (event) => keys(event, view),
    onpointerdown: (event) => { event.currentTarget.setPointerCapture(event.pointerId); move(event); },
    onpointermove: (event) => { if (event.buttons === 1) move(event); },
  }, axis(line, clock, left, height), breaks === null ? null : s("line", { x1: left + line.at(breaks), x2: left + line.at(breaks), y1: head - 6, y2: height, class: "breaks" }), parts,
  s("g", { class: "now", transform: `translate(${now.toFixed(1)} 0)` }, s("line", { y1: head - 8, y2: height + 2 }), s("path", { d: `M0 ${height} l7 12 h-14 z` })));
}

// Moves the line of time without drawing the rest anew. False: there is none to move.
export function moveTime(body, finding, second) {
  const picture = body.querySelector(".lanes");
  const now = picture?.querySelector(".now");
  if (!now) return false;
  const width = Number(picture.getAttribute("width"));
  const left = leftOf(rows(lanesOf(finding)), width);
  now.setAttribute("transform", `translate(${(left + lineOf(stretches(finding), width - left - EDGE, GAP).at(second)).toFixed(1)} 0)`);
  picture.setAttribute("aria-valuenow", String(Math.round(second)));
  picture.setAttribute("aria-valuetext", `${clockOf(finding)(second)}: ${lineAt(finding, second)?.what ?? ""}`);
  const line = lineAt(finding, second);
  const told = body.querySelector(".telling");
  if (told) told.replaceChildren(...telling(finding, second, line));
  body.querySelectorAll(".story li").forEach((item, i) => item.classList.toggle("current", finding.story[i] === line));
  return true;
}

function keys(event, view) {
  const { finding, second } = view;
  const { first, end } = spanOf(finding);
  const to = event.key === "Home" ? first : event.key === "End" ? end
    : event.key === "ArrowRight" || event.key === "ArrowUp" ? (event.shiftKey ? nextInstant(finding, second) : Math.min(end, Math.floor(second) + 1))
      : event.key === "ArrowLeft" || event.key === "ArrowDown" ? (event.shiftKey ? nextInstant(finding, second, true) : Math.max(first, Math.ceil(second) - 1)) : null;
  if (to !== null) view.seek(to);
  else if (event.key === " ") view.play();
  else if (event.key === ",") view.turn(-1);
  else if (event.key === ".") view.turn(1);
  else return;
  event.preventDefault();
}

function telling(finding, second, line) {
  return [h("span", { class: "clock" }, clockOf(finding)(second)), " ", h("span", { class: line?.bad ? "bad" : null }, line?.what ?? ""), line?.because ? h("span", { class: "soft" }, ` · ${line.because}`) : ""];
}

const SPEEDS = [["1", "real time"], ["10", "ten times"], ["next", "event by event"]];

function controls(view) {
  return h("div", { class: "controls" },
    h("button", { type: "button", class: "play", "data-key": "play", onclick: view.play }, view.playing ? "Stop" : "Play"),
    h("select", { "aria-label": "speed", "data-key": "speed", onchange: (event) => view.setSpeed(event.target.value) }, SPEEDS.map(([value, name]) => h("option", { value, selected: view.speed === value }, name))),
    view.sound?.can ? h("button", { type: "button", class: "heard", "data-key": "sound", "aria-pressed": String(view.sound.on), onclick: view.turnSound }, "Sound") : null,
    view.count > 1 ? h("span", { class: "turns" }, `story ${view.number} of ${view.count} `,
      h("button", { type: "button", "data-key": "story-before", "aria-label": "previous story", onclick: () => view.turn(-1) }, "‹"), " ",
      h("button", { type: "button", "data-key": "story-after", "aria-label": "next story", onclick: () => view.turn(1) }, "›")) : null);
}

// view: finding (or null), second, playing, speed, sound, number and count of stories; seek, play, setSpeed, turn, turnSound.
export function showRibbon(title, body, view) {
  const { finding } = view;
  const story = finding?.story ?? [];
  title.textContent = story.length > 0 ? finding.headline : "Story";
  if (story.length === 0) {
    return put(body, h("p", { class: "soft" }, finding ? (isOpen(finding) ? "Nobody knows yet whether this goes wrong: there is no story to tell." : "This finding has no story: it is about a setting.") : view.nothing ?? "Choose a finding to see how it comes about."));
  }
  const now = lineAt(finding, view.second);
  spacePen(body);
  const width = document.body.hasAttribute("data-paper") ? PAPER : Math.max(560, body.clientWidth);
  return put(body, h("div", { class: "head" }, h("p", { class: "telling", "aria-live": view.playing ? "polite" : "off" }, telling(finding, view.second, now)), controls(view)),
    (finding.bars ?? []).length > 0 ? h("div", { class: "scroll" }, lanesPicture(view, width)) : null,
    h("ol", { class: "story" }, story.map((line) => h("li", { class: [line.bad ? "bad" : "", line === now ? "current" : ""].join(" ").trim() || null },
      h("button", { type: "button", class: "clock", "data-key": `line-${line.at_s}-${story.indexOf(line)}`, "aria-label": `go to ${line.clock}`, onclick: () => view.seek(line.at_s) }, line.clock),
      h("span", { class: "soft of" }, laneOf(finding, line)),
      h("span", {}, line.what, line.because ? h("span", { class: "soft" }, ` · ${line.because}`) : null)))));
}
