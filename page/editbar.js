// Below the drawing: the measures of the chosen thing as words with fields, and what can be done with it. Everything that can be
// dragged can be typed here, and comes out as the same edits.
import { halved } from "./divide.js";
import { h } from "./dom.js";
import { lengthOf, pairOf, written, writtenPair } from "./measures.js";
import { changed, looksOf, moveContact, movedBy, middleOf, moveOpening, quoted, sortOf, turnBy } from "./moves.js";
import { moveRoom, outlineRoom, resizeRoom, stepWall } from "./rooms.js";
import { against, boxOf, edgesOf, isNamed, pointOn, points } from "./snap.js";
import { storeyOf } from "./marks.js";
import { nameOf } from "./subjects.js";
import { newStorey, renamed, typedRoom, unplaced } from "./tools.js";

const CORNERS = ["front left", "front right", "back right", "back left"];
const SIDES = ["front", "right", "back", "left"];
const FACES = ["front", "front right", "right", "back right", "back", "back left", "left", "front left"];
const OPENINGS = ["door", "window", "sliding door", "garage door", "roof light", "hatch", "gap"];

// A text field. read: what is typed as the file has it, or null: the bench then says what is wrong with it. edits(value): what it writes.
function field(view, key, name, value, read, edits, size = 7) {
  const { editor } = view;
  const draft = editor.drafts.get(key);
  const leave = async () => {
    const typed = editor.drafts.get(key)?.typed;
    if (typed === undefined || editor.drafts.get(key).refused === typed) return;
    const got = read(typed);
    editor.drafts.set(key, { typed, refused: typed });
    if (got !== null && got === value) editor.drafts.delete(key);
    else await editor.write(edits(got === null ? JSON.stringify(typed) : got), "", key);
  };
  return h("label", {}, `${name} `, h("input", {
    type: "text", value: draft?.typed ?? value ?? "", size, "data-key": key, "aria-label": name, "aria-invalid": draft?.refused ? "true" : null,
    oninput: (event) => editor.drafts.set(key, { typed: event.target.value }),
    onkeydown: (event) => {
      if (event.key === "Enter") leave();
      if (event.key === "Escape" && editor.drafts.delete(key)) { event.stopPropagation(); editor.redraw(); }
    },
    /* Made anew while one types, the field is left and entered again at once: that is no leaving. */
    onblur: () => setTimeout(() => { if (document.activeElement?.dataset.key !== key) leave(); }),
  }));
}

function length(view, key, name, value, edits) {
  return field(view, key, name, value, (typed) => { const mm = lengthOf(typed); return mm === null ? null : written(mm); }, edits);
}

function pair(view, key, name, value, edits) {
  return field(view, key, name, value, (typed) => { const two = pairOf(typed, true); return two && writtenPair(two); }, edits, 12);
}

function choice(view, key, name, value, list, edits) {
  return h("label", {}, `${name} `, h("select", { "data-key": key, "aria-label": name, onchange: (event) => { const list_ = edits(event.target.value); if (list_.length > 0) view.editor.write(list_); } },
    list.map(([is, words]) => h("option", { value: is, selected: is === value }, words))));
}

function act(key, words, onclick, more = {}) {
  return h("button", { type: "button", "data-key": key, onclick, ...more }, words);
}

function one(path, key, value) {
  return [{ path: `${path}.${key}`, value }];
}

// Where a place is said to be: in a corner, on a wall, at a point; and the same in figures.
function placeFields(view, index) {
  const { site } = view;
  const place = site.file.building.places[index];
  const path = `building.places[${index}]`;
  const { house } = site.drawing;
  const room = site.file.building.rooms.findIndex((is) => is.name === place.room);
  const outline = house.rooms[room]?.outline_mm ?? [];
  const low = outline.length > 0 ? boxOf(points(outline)).low : [0, 0];
  const at = house.places[index].at_mm;
  const none = { corner: null, wall: null, "from-left": null, at: null };
  const said = place.corner ?? (place.wall ? `${place.wall} wall` : "point");
  const set = (keys) => changed(path, place, keys);
  const stands = { ...Object.fromEntries(CORNERS.map((name) => [name, { ...none, corner: name }])), ...Object.fromEntries(SIDES.map((name) => [`${name} wall`, { ...none, wall: name }])), point: { ...none, at: writtenPair([at[0] - low[0], at[1] - low[1]]) } };
  const edge = edgesOf(outline).find((is) => is.side === place.wall && isNamed(outline, is));
  const left = edge ? Math.round(edge.length - against(edge, at).along) : 0;
  return [
    choice(view, `${path}.room`, "in", place.room, site.file.building.rooms.map((is) => [is.name, is.name]), (name) => set({ room: name })),
    choice(view, `${path}.stands`, "stands", said, [...CORNERS.map((name) => [name, `${name} corner`]), ...SIDES.map((name) => [`${name} wall`, `${name} wall`]), ["point", "at a point"]], (name) => set(stands[name])),
    edge ? length(view, `${path}.from-left`, "from the left corner", written(left), (value) => one(path, "from-left", value)) : null,
    edge ? length(view, `${path}.from-right`, "from the right", written(Math.round(edge.length) - left), (value) => one(path, "from-left", lengthOf(value) === null ? value : written(Math.round(edge.length) - lengthOf(value)))) : null,
    said === "point" ? pair(view, `${path}.at`, "right x back", place.at ?? writtenPair([at[0] - low[0], at[1] - low[1]]), (value) => set({ ...none, at: value })) : null,
    length(view, `${path}.height`, "height", place.height ?? written(house.places[index].height_mm), (value) => one(path, "height", value)),
    sortOf(site, place) === "motion" ? field(view, `${path}.angle`, "looks at, in °", String(Math.round(looksOf(house, index) ?? 0)), (typed) => (/^-?\d+$/.test(typed.trim()) ? typed.trim() : null), (value) => (/^-?\d+$/.test(value) ? turnBy(site, index, Number(value) - (looksOf(house, index) ?? 90)) : one(path, "towards", value)), 4) : null,
    place.device ? choice(view, `${path}.faces`, "looks", place.faces ?? "", [["", place.towards ? "to its point" : "away from its wall"], ...FACES.map((name) => [name, name])], (name) => set({ faces: name || null, towards: null })) : null,
  ];
}

// Every wall of the storey by which an opening can be said to be: [[where, words]...], where being its room and edge.
function wallsOf(view) {
  const { house } = view.site.drawing;
  return house.rooms.flatMap((room, i) => (room.good && room.storey === view.storey ? edgesOf(room.outline_mm).filter((edge) => isNamed(room.outline_mm, edge)).map((edge) => [`${i} ${edge.index}`, `${edge.side} wall of ${view.site.file.building.rooms[i].name}`]) : []));
}

// To the middle of that wall, as if dragged there.
function toWall(site, storey, index, where) {
  const [room, at] = where.split(" ").map(Number);
  const edge = edgesOf(site.drawing.house.rooms[room].outline_mm)[at];
  return moveOpening(site, storey, index, pointOn(edge, edge.length / 2), true)?.edits ?? [];
}

function openingFields(view, index) {
  const { site } = view;
  const opening = site.file.building.openings[index];
  const path = `building.openings[${index}]`;
  const { house } = site.drawing;
  const is = house.openings[index];
  const usual = { width: is.good && !is.flat ? Math.round(Math.hypot(is.near_mm[2] - is.near_mm[0], is.near_mm[3] - is.near_mm[1])) : null };
  const edge = is.good && !is.flat ? edgesOf(house.rooms[is.room].outline_mm)[is.edge] : null;
  const lefts = edge ? points(is.near_mm).map((point) => Math.round(edge.length - against(edge, point).along)).sort((a, b) => a - b) : [];
  const right = edge ? Math.round(edge.length) - lefts[1] : 0;
  return [
    choice(view, `${path}.is`, "is a", opening.is, OPENINGS.map((name) => [name, name]), (name) => one(path, "is", quoted(name))),
    edge ? choice(view, `${path}.wall`, "in the", `${is.room} ${is.edge}`, wallsOf(view), (where) => toWall(site, view.storey, index, where)) : null,
    edge ? length(view, `${path}.from-left`, "from the left corner", written(lefts[0]), (value) => one(path, "from-left", value)) : null,
    edge ? length(view, `${path}.from-right`, "from the right", written(right), (value) => one(path, "from-left", lengthOf(value) === null ? value : written(lefts[0] + right - lengthOf(value)))) : null,
    length(view, `${path}.width`, "width", opening.width ?? (usual.width === null ? "" : written(usual.width)), (value) => one(path, "width", value)),
    length(view, `${path}.height`, "height", opening.height ?? (opening.is === "window" ? "1.2 m" : "2 m"), (value) => one(path, "height", value)),
    length(view, `${path}.sill`, "sill", opening.sill ?? (opening.is === "window" ? "900 mm" : "0 mm"), (value) => one(path, "sill", value)),
  ];
}

function blockFields(view, list, index) {
  const block = view.site.file.building[list][index];
  const path = `building.${list}[${index}]`;
  return [
    pair(view, `${path}.at`, "from the front left corner, right x back", block.at, (value) => one(path, "at", value)),
    pair(view, `${path}.size`, "size, right x back", block.size, (value) => one(path, "size", value)),
    list === "furniture" ? length(view, `${path}.height`, "height", block.height, (value) => one(path, "height", value)) : choice(view, `${path}.up`, "up towards the", block.up, SIDES.map((name) => [name, name]), (name) => one(path, "up", name)),
  ];
}

const WALLS = [["back right", "back and right walls"], ["front left", "front and left walls"]];
const KINDS = ["room", "yard", "flat roof", "balcony"];

function roomFields(view, index) {
  const { site, editor } = view;
  const room = site.file.building.rooms[index];
  const path = `building.rooms[${index}]`;
  const list = points(site.drawing.house.rooms[index].outline_mm);
  const { low, high } = boxOf(list);
  const plain = room.outline === undefined;
  const corners = list.map(([x, y]) => writtenPair([x - low[0], y - low[1]])).join(", ");
  const typed = (value) => { const all = value.split(/[,;]\s*(?=[-\d])/).map((one_) => pairOf(one_, true)); return all.length > 2 && !all.includes(null) ? value : null; };
  const write = (make) => () => editor.write(make(), "");
  return [
    field(view, `${path}.name`, "called", room.name, (value) => value.trim() || null, (value) => renamed(site, index, value.startsWith('"') ? JSON.parse(value) : value), 14),
    plain ? pair(view, `${path}.size`, "clear inside, wide x deep", writtenPair([high[0] - low[0], high[1] - low[1]]), (value) => (pairOf(value) ? resizeRoom(site, index, pairOf(value), editor.walls === "front left") : one(path, "size", value)))
      : field(view, `${path}.outline`, "corners", corners, typed, (value) => (value.startsWith('"') ? one(path, "outline", value) : outlineRoom(site, index, value.split(/[,;]\s*(?=[-\d])/).map((one_) => pairOf(one_, true)))), 30),
    plain ? choice(view, `${path}.walls`, "by its", editor.walls, WALLS, (walls) => { editor.walls = walls; editor.redraw(); return []; }) : null,
    pair(view, `${path}.stands`, "stands at, right x back", writtenPair(low), (value) => { const to = pairOf(value, true); return to ? moveRoom(site, index, [0, 1].map((axis) => (high[axis] - low[axis]) / 2 + to[axis]), true).edits : one(path, "at", value); }),
    choice(view, `${path}.is`, "is", room.is, KINDS.map((name) => [name, name]), (name) => one(path, "is", quoted(name))),
    plain && room.is === "room" ? [act("divide-right", "divide left and right", write(() => halved(site, index, "right-of")), { class: "act-words" }), act("divide-behind", "divide front and back", write(() => halved(site, index, "behind")), { class: "act-words" })] : null,
    h("label", {}, "a step in the ", h("select", { "aria-label": "a step in the wall", "data-key": `${path}.step`, onchange: (event) => { const edge = edgesOf(list.flat()).find((is) => is.side === event.target.value); if (edge) editor.write(stepWall(site, index, edge.index), ""); } },
      ["wall", ...SIDES].map((name) => h("option", { value: name }, name)))),
  ];
}

/* All but the first want a room to be in. */
const TOOLS = [["room", "Room"], ["door", "Door"], ["window", "Window"], ["stairs", "Stairs"], ["furniture", "Furniture"]];
const BESIDE = ["right-of", "left-of", "behind", "in-front-of"];

// What can be made anew, as words along the foot; and a room typed for those who do not drag.
function toolsFoot(view) {
  const { site, editor } = view;
  const rooms = site.file.building.rooms;
  const missing = unplaced(site);
  const holding = editor.held?.by === "tool";
  const begun = rooms.length > 0;
  const storeyAbove = async () => {
    const { edits, unsaid } = newStorey(site);
    if (!await editor.write(edits, "a storey above")) await editor.write(unsaid, "a storey above");
  };
  const addTyped = (event) => {
    event.preventDefault();
    const form = event.target;
    const size = pairOf(form.elements.size.value);
    if (size) editor.write(typedRoom(site, view.storey, size, form.elements.where?.value, form.elements.beside?.value), "");
    else { editor.problem = "Nothing was written: two lengths, as 4.2 x 3.1"; editor.redraw(); }
  };
  return [
    h("div", { class: "tools-foot", role: "group", "aria-label": "draw" },
      (begun ? TOOLS : TOOLS.slice(0, 1)).map(([name, words]) => act(`tool-${name}`, words, () => editor.tools[name]())),
      begun && missing.length > 0 ? h("select", { "data-key": "tool-place", "aria-label": "hang in the drawing", onchange: (event) => { const what = missing[Number(event.target.value)]; if (what) editor.tools.place(what.place); } },
        h("option", { value: "" }, `Hang up (${missing.length} not in the drawing)`), missing.map((one_, i) => h("option", { value: i }, one_.words))) : null,
      begun ? act("tool-storey", "Storey above", storeyAbove) : null,
      holding ? act("tool-none", "Put it down", () => editor.cancel(), { class: "act" }) : null,
      view.leave ? act("tool-leave", "No drawing for now", view.leave) : null),
    editor.underlay?.bar(),
    h("form", { class: "fields", onsubmit: addTyped, "aria-label": "a room typed" }, h("label", {}, begun ? "Or a room typed: " : "Or typed, wide x deep: ", h("input", { type: "text", name: "size", size: 11, "data-key": "typed-size", "aria-label": "size of the new room, wide x deep", placeholder: "4.2 x 3.1" })),
      begun ? h("select", { name: "where", "data-key": "typed-where", "aria-label": "where the new room stands" }, BESIDE.map((name) => h("option", { value: name }, name.replaceAll("-", " ")))) : null,
      begun ? h("select", { name: "beside", "data-key": "typed-beside", "aria-label": "beside which room" }, rooms.filter((_, i) => site.drawing.house.rooms[i].storey === view.storey).map((room) => h("option", { value: room.name }, room.name))) : null,
      h("button", { type: "submit", class: "act-words", "data-key": "typed-add" }, "add")),
  ];
}

function contactFields(view, moved) {
  const doors = view.site.file.doors ?? [];
  const path = `devices[${moved.index}]`;
  const { site, storey } = view;
  const { openings } = site.file.building;
  /* What has no name yet becomes one of the doors, as if it were dragged there. */
  const nameless = openings.flatMap((opening, i) => (opening.door || storeyOf(site, `building.openings[${i}]`) !== storey ? [] : [[`${i}`, nameOf(site.file, `building.openings[${i}]`)]]));
  const onto = (where) => (/^\d+$/.test(where) ? moveContact(site, storey, moved.index, middleOf(site, { list: "openings", index: Number(where) }))?.edits ?? [] : one(path, "on", quoted(where)));
  return [choice(view, `${path}.on`, "on the", site.file.devices[moved.index].on, [...doors.map((door) => [door.name, door.name]), ...nameless], onto)];
}

// The measures of the chosen thing as fields, and what can be done with it; null where it has none.
export function fieldsOf(view) {
  const { editor, site, subject } = view;
  const moved = subject ? movedBy(site, subject) : null;
  const fields = moved && { places: () => placeFields(view, moved.index), openings: () => openingFields(view, moved.index), contact: () => contactFields(view, moved), furniture: () => blockFields(view, "furniture", moved.index), stairs: () => blockFields(view, "stairs", moved.index), rooms: () => roomFields(view, moved.index) }[moved.list]();
  return fields ? h("div", { class: "fields", role: "group", "aria-label": `measures of ${nameOf(site.file, subject)}` }, h("b", {}, nameOf(site.file, subject)), fields,
    act("pick-up", editor.held?.by === "keys" ? "Leave it" : "Pick up", () => (editor.held?.by === "keys" ? editor.cancel() : editor.pickUp(subject)), { class: "act" }),
    moved.list === "contact" ? null : act("take-off", "take off the drawing", () => editor.remove(subject), { class: "act-words" })) : null;
}

/* Read out as they change, each for itself: made anew with the rest, no reader would hear them. */
const said = [h("span", {}), h("span", {})];
const status = h("p", { class: "soft edit-words", role: "status", "aria-atomic": "false" }, said);

function say(texts) {
  texts.forEach((text, i) => { if (said[i].textContent !== text) said[i].textContent = text; });
  return status;
}

// view: site, subject, editor. elsewhere: its fields stand in words already.
export function editBar(view, elsewhere) {
  const { editor } = view;
  return [say([[editor.words, editor.links].filter(Boolean).join(" · "), editor.verdict ? ` ${editor.verdict}` : ""]), h("div", { class: "edit-bar" },
    editor.problem ? h("p", { class: "refusal", role: "alert" }, editor.problem) : null,
    elsewhere ? null : fieldsOf(view),
    view.layer === "building" ? toolsFoot(view) : null)];
}
