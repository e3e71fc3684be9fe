// The storey in words, an equal of its drawing: room by room what is in it, the measures of what is chosen as fields, and one line
// by which all is added that can be drawn. It ends in the same edits.
import { fieldsOf } from "./editbar.js";
import { h } from "./dom.js";
import { movedBy } from "./moves.js";
import { devicesOffered } from "./offered.js";
import { boxOf, cornersOf, edgesOf, pointOn, points } from "./snap.js";
import { besideEdits, deviceEdits, namedContacts, openingEdits, spotIn } from "./survey.js";
import { newFurniture, newStairs } from "./tools.js";

const own = { typed: "", wrong: "" };

// The point that words name in a room: a corner, the middle of a wall, its middle.
function pointOf(site, { room, wall, corner }) {
  const outline = site.drawing.house.rooms[room].outline_mm;
  const { low, high } = boxOf(points(outline));
  if (corner) return cornersOf(outline).find((one) => one.name === corner).at;
  const edge = wall && edgesOf(outline).find((one) => one.side === wall);
  return edge ? pointOn(edge, edge.length / 2) : [0, 1].map((axis) => Math.round((low[axis] + high[axis]) / 2));
}

function standing(make) {
  return (typed, { site, storey }) => {
    const spot = spotIn(typed, site.file);
    const made = spot && make(site, storey, pointOf(site, spot));
    return made?.edits.length > 0 ? made : { wrong: made ? made.words : "say in which room, and where in it: kitchen back left" };
  };
}

/* The first that the line begins with, or speaks of. */
const SORTS = [
  [/^room\b/i, (typed, { site }) => besideEdits(typed, site.file)],
  [/^stairs\b/i, standing(newStairs)],
  [/^furniture\b/i, standing(newFurniture)],
  [/^contact\b/i, (typed, { site, devices }) => namedContacts(typed, site.file, site.offers, devices)],
  [/\b(panel|keypad|motion|siren)\b/i, (typed, { site, devices }) => deviceEdits(typed, site.file, site.offers, devices)],
  [/\b(door|gate|shutter|window)\b/i, (typed, { site }) => openingEdits(typed, site.file)],
];

// What a line adds: its edits, or what is wrong with it. Pure. at: site, storey, devices (what could be fitted).
export function lineEdits(typed, at) {
  const sort = SORTS.find(([pattern]) => pattern.test(typed.trim()));
  return sort ? sort[1](typed, at) : { wrong: "begin with what it is: room, door, window, panel, keypad, motion, siren, contact, stairs, furniture" };
}

async function add(view, devices) {
  const result = lineEdits(own.typed, { site: view.site, storey: view.storey, devices });
  own.wrong = result.wrong ?? "";
  if (!result.wrong && await view.editor.write(result.edits, "")) own.typed = "";
  view.editor.redraw();
}

function line(view) {
  const devices = devicesOffered(() => view.editor.redraw());
  return h("form", { class: "fields", autocomplete: "off", "aria-label": "add in words", onsubmit: (event) => { event.preventDefault(); add(view, devices ?? []); } },
    h("label", { class: "said" }, "Add: ", h("input", { type: "text", value: own.typed, "data-key": "words-line", "aria-label": "what is added, and where", placeholder: "front door hall front", "aria-invalid": own.wrong ? "true" : null, oninput: (event) => { own.typed = event.target.value; } })),
    h("button", { type: "submit", class: "act-words", "data-key": "words-add" }, "add"),
    h("p", { class: "soft" }, "As “room kitchen 4.2 x 3.1 right of hall”, “front door hall front”, “door hall kitchen”, “motion hall back left”, “contact front door”, “furniture kitchen back”; with commas between."),
    own.wrong ? h("p", { class: "refusal", role: "alert" }, own.wrong) : null);
}

// Where something is, as one says it.
function whereOf(site, moved) {
  const { building } = site.file;
  const thing = building[moved.list === "contact" ? "openings" : moved.list][moved.opening ?? moved.index];
  if (moved.list === "rooms") { const { low, high } = boxOf(points(site.drawing.house.rooms[moved.index].outline_mm)); return `${((high[0] - low[0]) / 1000).toFixed(2)} x ${((high[1] - low[1]) / 1000).toFixed(2)} m`; }
  if (thing.corner) return `${thing.corner} corner`;
  if (thing.to) return `to the ${thing.to}`;
  return thing.wall ? `${thing.wall} wall` : thing.at ?? "";
}

function item(view, about, words) {
  const moved = movedBy(view.site, about);
  const where = moved ? whereOf(view.site, moved) : "";
  return h("li", {}, h("button", { type: "button", "aria-pressed": String(view.echoes.has(about)), "data-key": `word-${about}`, onclick: () => view.select(about) }, words, where ? h("span", { class: "soft" }, `, ${where}`) : null),
    view.editor && view.wordsOpen && about === view.subject ? fieldsOf(view) : null);
}

// Things of each room, room by room; what is in none comes last.
function byRoom(view, things) {
  const { rooms } = view.file.building;
  const roomOf = ({ about }) => {
    const moved = movedBy(view.site, about);
    const { building } = view.file;
    return moved === null ? -1 : moved.list === "rooms" ? moved.index : rooms.findIndex((room) => room.name === building[moved.list === "contact" ? "openings" : moved.list][moved.opening ?? moved.index].room);
  };
  const groups = new Map();
  for (const thing of things) {
    const room = roomOf(thing);
    groups.set(room, [...(groups.get(room) ?? []), thing]);
  }
  return [...groups].sort(([a], [b]) => (a < 0) - (b < 0) || a - b);
}

// Whether the chosen thing has its fields here.
export function holdsFields(view, things) {
  return view.wordsOpen && things.some(({ about }) => about === view.subject);
}

// things: what can be chosen on the storey, each once; label(thing): what it is called.
export function inWords(view, things, label) {
  const isRoom = ({ about }) => about.startsWith("building.rooms");
  const list = (all) => h("ul", {}, all.map((thing) => item(view, thing.about, label(thing))));
  return h("details", { class: "words", open: view.wordsOpen, ontoggle: (event) => { if (event.target.open !== view.wordsOpen) view.setWords(event.target.open); } },
    h("summary", { "data-key": "words" }, "In words"),
    view.editor ? line(view) : null,
    h("ul", { class: "tree" }, byRoom(view, things).map(([, all]) => {
      const room = all.find(isRoom);
      const rest = all.filter((thing) => thing !== room);
      if (!room) return h("li", {}, list(rest));
      const head = item(view, room.about, label(room));
      if (rest.length > 0) head.append(list(rest));
      return head;
    })));
}
