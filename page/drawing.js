// The drawing: one storey of the building with what hangs in it, and one layer over it. The shapes come from the bench; here
// they get ink, and what they stand for can be chosen. Measures are the building's millimetres, x to the right, y to the back.
import { aside } from "./aside.js";
import { h, makeKeeper, put, s } from "./dom.js";
import { editBar } from "./editbar.js";
import { gripsOf } from "./grips.js";
import { holdsFields, inWords } from "./inwords.js";
import { CLOSEST } from "./lens.js";
import { brokenOf, flawsOf, measuresOf, restOf, storeyOf } from "./marks.js";
import { ring, ringShape } from "./rings.js";
import { sentenceOf } from "./spoken.js";
import { echoes, indexOf, nameOf } from "./subjects.js";

const CHOSEN = /^(zones|building\.(openings|places|rooms|furniture|stairs))\[/;
/* Names and measures of a thing are not the thing. */
const WORDS = new Set(["label", "small", "wall", "leader"]);
const ROUND_MM = 2500;
const RING = 1.75; // of the sign that it surrounds

function outline(drawing, points) {
  const at = [];
  for (let i = 0; i < points.length; i += 2) at.push(`${points[i]},${drawing.high_mm[1] - points[i + 1]}`);
  return at.join(" ");
}

// Closed outlines one after the other; the inner ones are holes.
function rings(drawing, one) {
  let at = 0;
  return one.rings.map((count) => {
    const points = one.points_mm.slice(at, at + 2 * count);
    at += 2 * count;
    return `M${outline(drawing, points).replaceAll(" ", " L")} Z`;
  }).join(" ");
}

function shape(drawing, one) {
  const name = `d-${one.role}`;
  if (one.form === "text") {
    /* The name of ground that reaches past the sheet stands at its edge. */
    const half = [one.text.length * one.width_mm * 0.3, one.width_mm];
    const within = one.points_mm.map((value, axis) => (one.about?.startsWith("building.rooms") ? Math.max(Math.min(value, drawing.high_mm[axis] - half[axis]), drawing.low_mm[axis] + half[axis]) : value));
    const y = drawing.high_mm[1] - within[1] + one.width_mm * 0.35;
    return s("text", { x: within[0], y, "font-size": one.width_mm, "stroke-width": one.width_mm / 3, "text-anchor": one.anchor, class: name }, one.text);
  }
  if (one.form === "walls") return s("path", { d: one.outlines.map((points) => `M${outline(drawing, points).replaceAll(" ", " L")} Z`).join(" "), class: name, "stroke-width": one.width_mm });
  if (one.form === "rings") return s("path", { d: rings(drawing, one), "fill-rule": "evenodd", class: name });
  return s(one.form === "area" ? "polygon" : "polyline", { points: outline(drawing, one.points_mm), class: name, "stroke-width": one.width_mm ?? null });
}

// The walls of all rooms as one shape: laid over each other one by one, their edges would be darker where they share a line.
function wallsJoined(shapes) {
  const walls = shapes.filter((one) => one.role === "wall");
  if (walls.length < 2) return shapes;
  const joined = { role: "wall", form: "walls", outlines: walls.map((one) => one.points_mm), points_mm: walls.flatMap((one) => one.points_mm), width_mm: walls[0].width_mm };
  return shapes.flatMap((one) => (one === walls[0] ? [joined] : one.role === "wall" ? [] : [one]));
}

// What the shapes about one thing cover: left, top, right, bottom as they are drawn.
function boxOf(drawing, shapes) {
  const xs = shapes.flatMap((one) => one.points_mm.filter((_, i) => i % 2 === 0));
  const ys = shapes.flatMap((one) => one.points_mm.filter((_, i) => i % 2 === 1)).map((y) => drawing.high_mm[1] - y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

// Shapes one after the other about one thing are one group.
function runs(shapes) {
  const groups = [];
  for (const one of shapes) {
    const last = groups[groups.length - 1];
    if (last && last.about === one.about) last.shapes.push(one);
    else groups.push({ about: one.about, shapes: [one] });
  }
  return groups;
}

// Middle and half width of a sign: of its outline, not of its leader.
function signPlace(drawing, shapes) {
  const sign = shapes.filter((one) => one.role === "sign" || one.role === "sign-dark");
  const [left, top, right, bottom] = boxOf(drawing, sign.length > 0 ? sign : shapes);
  return { x: (left + right) / 2, y: (top + bottom) / 2, r: Math.max(right - left, bottom - top) / 2 };
}

function ringAt(drawing, group, state) {
  const { x, y, r } = signPlace(drawing, group.shapes);
  const scale = r * RING / 8;
  return s("g", { class: `d-ring ${state}`, transform: `translate(${x - 8 * scale} ${y - 8 * scale}) scale(${scale.toFixed(2)})`, "aria-hidden": "true" }, ringShape(state));
}

// Four corner ticks: the one look of what is chosen.
function ticks(drawing, groups) {
  const grown = drawing.scale * 1.6;
  const boxes = groups.map((group) => boxOf(drawing, group.shapes));
  const [left, top, right, bottom] = [Math.min(...boxes.map((b) => b[0])) - grown, Math.min(...boxes.map((b) => b[1])) - grown,
    Math.max(...boxes.map((b) => b[2])) + grown, Math.max(...boxes.map((b) => b[3])) + grown];
  const arm = drawing.scale * 3;
  const corner = (x, y, dx, dy) => `M${x + dx * arm} ${y} H${x} V${y + dy * arm}`;
  return s("path", { class: "d-chosen", d: [corner(left, top, 1, 1), corner(right, top, -1, 1), corner(left, bottom, 1, -1), corner(right, bottom, -1, -1)].join(" "), "aria-hidden": "true" });
}

// What it is called: with the letter that its sign bears, where the name does not hold it.
function label(view, group) {
  const state = view.stateOf(group.about);
  const name = nameOf(view.file, group.about);
  const mark = group.shapes.find((one) => one.form === "text" && (one.role.startsWith("mark") || one.role === "small"))?.text ?? "";
  return `${name.includes(mark) ? "" : `${mark}, `}${name}${state === "holds" ? "" : `, ${view.wordOf(group.about)}`}`;
}

// What is chosen in one frame each: a device and its opening together.
function framed(view, chosen) {
  const of = (subject) => { const about = echoes(view.file, subject); return chosen.filter((group) => about.has(group.about)); };
  return (view.several?.length > 1 ? view.several.map(of) : [chosen]).filter((groups) => groups.length > 0);
}

const KEYS = "Arrows move between things, Enter edits, L lists in words";

function spoken(view, { about, shapes }) {
  return sentenceOf(view, about, { marked: shapes.find((one) => one.role.startsWith("mark"))?.text, tall: shapes.some((one) => one.role === "tall") });
}

function thing(view, group) {
  const { drawing } = view;
  const chosen = view.echoes.has(group.about);
  const [left, top, right, bottom] = boxOf(drawing, group.shapes);
  const room = indexOf(group.about, "building.rooms") >= 0;
  return s("g", {
    class: room ? "d-thing d-room" : group.shapes.some((one) => one.role === "mark" && /^S\d*$/.test(one.text)) ? "d-thing horn" : "d-thing", role: "button", tabindex: -1, "data-about": group.about, "data-key": `draw-${group.about}`, "aria-label": spoken(view, group),
    "aria-pressed": String(chosen), onclick: (event) => { event.stopPropagation(); view.select(group.about, event.shiftKey || event.ctrlKey || event.metaKey); },
  }, room ? null : s("rect", { x: left, y: top, width: right - left, height: bottom - top, class: "d-hit" }), group.shapes.map((one) => shape(drawing, one)));
}

// over: it stands over the drawing, which must not be read through it.
function scaleBar(drawing, x, y, metres, over = false) {
  const ticks = Array.from({ length: metres + 1 }, (_, metre) => `M${x + metre * 1000} ${y} v${-drawing.scale * 1.2}`).join(" ");
  const pad = drawing.scale * 1.5;
  return s("g", { class: "d-scale", "aria-hidden": "true" }, over && s("rect", { class: "d-backing", x: x - pad, y: y - 2 * pad, width: metres * 1000 + 4 * pad, height: drawing.scale * 3 + 2.5 * pad }), s("path", { d: `M${x} ${y} h${metres * 1000} ${ticks}`, class: "d-dimension" }),
    [0, metres].map((metre) => s("text", { x: x + metre * 1000, y: y + drawing.scale * 3, "font-size": drawing.scale * 2.1, "text-anchor": "middle", class: "d-small" }, metre === 0 ? "0" : `${metre} m`)));
}

function isThing(group) {
  return CHOSEN.test(group.about ?? "") && group.shapes.some((one) => !WORDS.has(one.role));
}

// What can be chosen on the storey, in the order of the file.
export function thingsOf(storey) {
  return runs([...storey.floors, ...storey.building, ...storey.things]).filter(isThing);
}

// Seen floor leans to the right, blind floor to the left and closer.
function hatches(drawing) {
  const hatch = (id, by, turn) => s("pattern", { id, width: by, height: by, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` }, s("line", { x1: by / 2, y1: 0, x2: by / 2, y2: by, class: `d-${id}` }));
  return s("defs", {}, hatch("hatch-seen", drawing.scale * 1.8, 45), hatch("hatch-blind", drawing.scale * 1.1, -45));
}

// What the layer's inks mean: a line or a patch of each, and its words.
function legend(layer) {
  const drawn = new Set(layer.storeys.flatMap((storey) => [...storey.under, ...storey.over]).map((one) => one.role));
  const rows = (layer.legend ?? []).filter((row) => drawn.has(row.role));
  if (rows.length === 0) return null;
  const patch = (role) => (/^(seen|blind|radio-.*)$/.test(role) ? s("rect", { width: 28, height: 14, class: `d-${role}` }) : s("polyline", { points: "0,7 28,7", class: `d-${role}` }));
  return h("ul", { class: "legend soft" }, rows.map((row) => h("li", {}, s("svg", { viewBox: "0 0 28 14", width: 28, height: 14, class: "plan-ink", "aria-hidden": "true" }, legendHatch(row.role), patch(row.role)), row.says)));
}

function legendHatch(role) {
  if (role !== "seen" && role !== "blind") return null;
  const by = role === "seen" ? 6 : 4;
  return s("defs", {}, s("pattern", { id: `legend-${role}`, width: by, height: by, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${role === "seen" ? 45 : -45})` }, s("line", { x1: by / 2, y1: 0, x2: by / 2, y2: by, class: `d-hatch-${role}` })));
}

function picture(view) {
  const { drawing } = view;
  /* The sheet is as large however closely one looks; where letters are larger on a small screen, its edges are. */
  const usual = view.site?.drawing?.scale ?? drawing.scale;
  const whole = Math.max(usual, drawing.scale);
  const storey = drawing.storeys[view.storey];
  const layer = drawing.layers.find((one) => one.name === view.layer)?.storeys[view.storey] ?? { under: [], over: [] };
  /* While a room is drawn there is ground round the house to draw it on. */
  const edge = drawing.outer_mm + whole * 2 + (view.editor?.held?.two && !view.editor.held.near && drawing.house.rooms.length > 0 ? ROUND_MM : 0);
  const [wide, high] = [drawing.high_mm[0] - drawing.low_mm[0], drawing.high_mm[1] - drawing.low_mm[1]];
  /* What is no thing is for the eye alone. */
  const unheard = (shapes, name = null) => s("g", { class: name, "aria-hidden": "true" }, shapes.map((one) => shape(drawing, one)));
  const parts = (shapes) => runs(shapes).map((group) => (isThing(group) ? thing(view, group) : unheard(group.shapes)));
  const things = thingsOf(storey);
  const wrong = runs(storey.things).filter((group) => view.stateOf(group.about) !== "holds" && /^zones/.test(group.about));
  const chosen = things.filter((group) => view.echoes.has(group.about) && indexOf(group.about, "building.rooms") < 0);
  const { editor } = view;
  const sheet = [drawing.low_mm[0] - edge, -edge, wide + 2 * edge, high + 2 * edge + whole * 7];
  const part = view.lens?.part(sheet, view.subject, chosen.length > 0 ? middleOf(drawing, chosen[0]) : null) ?? sheet;
  return s("svg", {
    viewBox: part.map((value) => value.toFixed(0)).join(" "), class: part === sheet ? "plan" : "plan near", role: "application", "aria-roledescription": "plan",
    "aria-label": `${storey.name}: ${new Set(things.map(({ about }) => about)).size} things`, "aria-description": KEYS, tabindex: 0, "data-key": "plan",
    onkeydown: (event) => keys(event, view),
    onclick: () => view.select(null),
  },
  hatches(drawing),
  s("g", { id: editor ? "plan-inks" : null }, s("g", {}, parts(wallsJoined(storey.floors))),
  editor?.underlay?.shape(drawing, view.storey),
  unheard(layer.under, "layer"),
  s("g", {}, parts(storey.building)),
  unheard(asideOf(layer.over, storey, drawing, edge, whole > usual), "layer"),
  unheard(storey.things.filter((one) => one.role === "leader")),
  s("g", {}, parts(storey.things.filter((one) => one.role !== "leader"))),
  wrong.map((group) => ringAt(drawing, group, view.stateOf(group.about))),
  editor?.held ? null : framed(view, chosen).map((groups) => ticks(drawing, groups)),
  brokenOf(drawing, view.storey, view.select),
  flawsOf(view.site, drawing, view.storey),
  editor && view.subject ? measuresOf(view.site, drawing, view.subject) : null,
  editor?.held ? restOf(drawing, editor.held) : editor && view.subject ? gripsOf(view.site, drawing, view.subject) : null,
  s("g", { class: "actors", "aria-hidden": "true" })),
  part === sheet ? scaleBar(drawing, drawing.low_mm[0], high + edge + whole * 2, 5) : scaleBar(drawing, part[0] + drawing.scale * 2, part[1] + part[3] - drawing.scale * 5, part[2] > 9000 ? 5 : 1, true));
}

// Worked out once for what the bench sent. The words stay on the sheet, and off its scale bar.
const stepped = new WeakMap();
function asideOf(shapes, storey, { low_mm: low, high_mm: high, scale, outer_mm: wall }, edge, narrow) {
  const known = stepped.get(shapes);
  if (known?.storey === storey) return known.shapes;
  const sheet = [low[0] - edge, low[1] - edge - scale * 7, high[0] + edge, high[1] + edge];
  const bar = [low[0] - scale * 2, low[1] - edge - scale * 7, low[0] + 5000 + scale * 3, low[1] - edge - scale * 0.5];
  const moved = aside(shapes, storey, sheet, wall, [bar], narrow);
  stepped.set(shapes, { storey, shapes: moved });
  return moved;
}

function middleOf(drawing, group) {
  const [left, top, right, bottom] = boxOf(drawing, group.shapes);
  return [(left + right) / 2, (top + bottom) / 2];
}

// The thing nearest to `from` in the direction of an arrow key: what lies aside counts double.
function nearest(things, drawing, from, [dx, dy]) {
  const middle = (group) => middleOf(drawing, group);
  const [x, y] = from ? middle(from) : [drawing.low_mm[0] - dx * 1e6, -dy * 1e6];
  const far = (group) => {
    const [ax, ay] = middle(group);
    const ahead = (ax - x) * dx + (ay - y) * dy;
    return ahead <= 0 ? Infinity : ahead + 2 * Math.abs((ax - x) * dy - (ay - y) * dx);
  };
  const best = things.filter((group) => group !== from).reduce((a, b) => (a && far(a) <= far(b) ? a : b), null);
  return best && far(best) < Infinity ? best : null;
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function keys(event, view) {
  const about = event.target.closest("[data-about]")?.dataset.about;
  const things = thingsOf(view.drawing.storeys[view.storey]);
  const here = things.find((group) => group.about === about);
  if (view.editor?.key(event, about)) return event.preventDefault();
  if (view.lens?.key(event, here && middleOf(view.drawing, here))) return event.preventDefault();
  const step = ARROWS[event.key];
  if (step && !event.altKey && !event.ctrlKey) {
    const next = here ? nearest(things, view.drawing, here, step) : things[0];
    if (next) event.currentTarget.querySelector(`[data-about="${next.about}"]`).focus();
    if (next) view.lens?.reveal(middleOf(view.drawing, next));
  } else if ((event.key === "Enter" || event.key === " ") && about) view.select(about);
  else if (event.key === "Escape" && view.subject) view.select(null);
  else if (event.key === "PageUp") view.setStorey(Math.min(view.storey + 1, view.drawing.storeys.length - 1));
  else if (event.key === "PageDown") view.setStorey(Math.max(view.storey - 1, 0));
  else if (event.key.toLowerCase() === "l" && !event.ctrlKey && !event.metaKey) { view.setWords(true); document.querySelector('[data-key="words"]').focus(); }
  else if (event.key.toLowerCase() === "v" && !event.ctrlKey && !event.metaKey) view.setLayer(1);
  else return undefined;
  return event.preventDefault();
}

// The building cut from top to bottom: one line for each storey, the highest first, as it stands.
function section(view) {
  const { storeys } = view.drawing;
  if (storeys.length < 2) return null;
  return h("div", { class: "section", role: "group", "aria-label": "storeys" }, storeys.map((storey, index) => h("button", {
    type: "button", "aria-pressed": String(index === view.storey), "data-key": `storey-${index}`, onclick: () => view.setStorey(index),
  }, storey.name)).reverse());
}

function layers(view) {
  const { layers: list } = view.drawing;
  if (list.length < 2) return null;
  return h("div", { class: "layers", role: "group", "aria-label": "layer" }, h("span", { class: "soft" }, "showing:"), list.map((layer) => h("button", {
    type: "button", "aria-pressed": String(layer.name === view.layer), "data-key": `layer-${layer.name}`, onclick: () => view.setLayer(layer.name),
  }, layer.name)));
}

// How closely one looks, in words: what wheel, fingers and keys do.
function nearness({ lens, more }) {
  if (!lens) return null;
  const word = (name, words, act, disabled) => h("button", { type: "button", "data-key": `lens-${name}`, disabled, onclick: act }, words);
  return h("div", { class: "nearness", role: "group", "aria-label": "how closely" }, word("closer", "closer", () => lens.closer(), lens.zoom >= CLOSEST), word("farther", "farther", () => lens.farther(), lens.zoom === 1), word("whole", "whole sheet", () => lens.whole(), lens.zoom === 1),
    more && h("button", { type: "button", "data-key": "more", "aria-label": "more: what can be done here", onclick: more }, "more"));
}

// What can be chosen on a storey, each thing once.
function onceOn(storey) {
  const seen = new Set();
  return thingsOf(storey).filter((group) => !seen.has(group.about) && seen.add(group.about));
}

// Rooms too small for their name bear a letter; here it is explained.
function letters(view) {
  const rooms = view.file.building?.rooms ?? [];
  const short = view.drawing.storeys[view.storey].things.filter((one) => one.role === "label" && one.text.length === 1)
    .map((one) => [one.text, rooms[indexOf(one.about, "building.rooms")]?.name ?? ""]);
  return [listed(short, "soft letters"), listed(fixed(view), "soft letters on-paper")];
}

function listed(pairs, name) {
  return pairs.length > 0 ? h("p", { class: name }, pairs.map(([mark, words], i) => [i > 0 ? " · " : "", h("b", {}, mark), ` ${words}`])) : null;
}

// On paper nothing can be pointed at: what the letters of keypads, panel and sirens stand for.
function fixed({ drawing, storey, file }) {
  return thingsOf(drawing.storeys[storey]).filter((group) => indexOf(group.about, "building.places") >= 0)
    .map((group) => [group.shapes.find((one) => one.role.startsWith("mark"))?.text, nameOf(file, group.about)]).filter(([mark]) => mark);
}

// What the broken rings on the drawing say, each with the way to its finding.
function flaws({ site, storey, flawed, chooseFinding }) {
  const here = (flawed ?? []).filter(({ finding }) => storeyOf(site, finding.place?.path) === storey);
  return here.length === 0 ? null : h("ul", { class: "flaws" }, here.map(({ finding, index }) => h("li", {}, ring("fault", true), h("button", { type: "button", "data-key": `flaw-${index}`, onclick: () => chooseFinding(index) }, finding.headline))));
}

// Another storey of the same view, for paper.
export function paperOf(view, storey) {
  const name = view.drawing.storeys[storey].name;
  return h("section", { class: "paper", "aria-label": name }, h("h2", {}, name), h("div", { class: "sheet" }, picture({ ...view, storey, editor: null, lens: null, echoes: new Set() })), letters({ ...view, storey }));
}

const SKETCHED = 4; // how many times as large the one sign stands there: it is all that is looked for

// Where one thing hangs, as small as it can be read at arm's length: the walls of its storey and its sign. Null: it is not drawn.
export function sketchOf(drawing, about) {
  const storey = drawing?.storeys.find((one) => thingsOf(one).some((group) => group.about === about));
  if (!storey) return null;
  const group = thingsOf(storey).find((one) => one.about === about);
  const walls = [...wallsJoined(storey.floors), ...storey.building].filter((one) => one.form !== "text" && !/^building\.furniture/.test(one.about ?? ""));
  const { x, y, r } = signPlace(drawing, group.shapes);
  const size = [drawing.high_mm[0] - drawing.low_mm[0], drawing.high_mm[1] - drawing.low_mm[1]];
  const edge = r * SKETCHED;
  /* In the middle of its sign, so that it stands where it hangs. */
  const larger = `translate(${x} ${y}) scale(${SKETCHED / 2}) translate(${-x} ${-y})`;
  return s("svg", { class: "plan sketch", role: "img", "aria-label": `where it hangs: ${storey.name}`, viewBox: [drawing.low_mm[0] - edge, -edge, size[0] + 2 * edge, size[1] + 2 * edge].map((value) => value.toFixed(0)).join(" ") },
    walls.map((one) => shape(drawing, one)),
    s("g", { transform: larger }, group.shapes.filter((one) => one.role !== "leader").map((one) => shape(drawing, one)), ticks(drawing, [{ shapes: group.shapes.filter((one) => one.role !== "leader") }])));
}

// The foot of the sheet: whose it is, how it was found, which revision, when it was written.
function foot(view) {
  return view.stands ? h("p", { class: "stands", role: "group", "aria-label": "state of the sheet" }, view.stands.map((words) => h("span", {}, words))) : null;
}

// The sheet stays as long as nothing that it shows changes: while nothing is in the hand, one looks at all of it, and nobody walks on it.
const keep = makeKeeper();

function mayStay(view) {
  const plan = document.querySelector(".sheet .plan");
  const walked = plan?.querySelector(".actors > *, .ajar, .shut") || plan?.classList.contains("sounds");
  return view.lens?.zoom === 1 && !view.lens.paper && !view.editor?.held && !view.editor?.late() && !view.editor?.underlay?.shape(view.drawing, view.storey) && !walked;
}

function sheet(view) {
  const { editor } = view;
  const made = () => h("div", { class: `sheet${editor ? " editable" : ""}${editor?.held && !editor.held.done ? " held" : ""}${editor?.late() ? " late" : ""}` }, picture(view), h("div", { class: "title-block" }, section(view)));
  if (!mayStay(view)) {
    keep.forget("sheet");
    return made();
  }
  const things = thingsOf(view.drawing.storeys[view.storey]);
  const states = things.map((group) => view.stateOf(group.about)).join();
  const kept = keep("sheet", [view.drawing, view.site?.drawing, view.file?.building, view.file?.devices, view.storey, view.layer, view.subject, [...view.echoes].join(), states, editor], made);
  /* What is said of a thing may be another though it looks as before. */
  for (const group of things) {
    const one = kept.querySelector(`[data-key="draw-${group.about}"]`);
    const says = spoken(view, group);
    if (one.getAttribute("aria-label") !== says) one.setAttribute("aria-label", says);
  }
  return kept;
}

// view: site, subject, lens, editor (null: it may only be looked at), drawing, file, storey, layer, echoes (paths that are chosen), stateOf(path), wordOf(path): the word of its ring, wordsOpen, worst(paths): what is wrong with any of them, flawed (findings of the drawing itself, with their numbers); chooseFinding, select, setStorey, setLayer, setWords.
export function showDrawing(title, body, view) {
  const { drawing } = view;
  title.textContent = drawing ? drawing.storeys[view.storey].name : "Drawing";
  if (!drawing) {
    return put(body, h("p", { class: "soft" }, "Nothing is drawn yet: ways and sight are not computed."),
      view.site ? h("p", {}, h("button", { type: "button", class: "act", "data-key": "draw-first", onclick: view.begin }, "Draw the first room")) : null);
  }
  const layer = drawing.layers.find((one) => one.name === view.layer);
  const problem = layer?.problem;
  const things = onceOn(drawing.storeys[view.storey]);
  return put(body, layers(view), problem ? h("p", { class: "soft" }, `${view.layer} is not computed: ${problem}`) : null,
    sheet(view), foot(view), flaws(view), nearness(view),
    inWords(view, things, (group) => label(view, group)), view.editor ? editBar(view, holdsFields(view, things)) : null, letters(view), layer ? keep("legend", [layer], () => legend(layer)) : null);
}
