// Each thing of the drawing as one sentence, for whoever hears it: what it is called, what it is, where, what watches it, and what is
// wrong with it. "Yard door, outer door, passage, left wall, 1.6 m from the upper corner; zone 3, contact; fault: ..." Pure.
import { against, boxOf, cornersOf, distance, edgesOf, points } from "./snap.js";
import { movedBy, sensed, sortOf } from "./moves.js";
import { indexOf, nameOf } from "./subjects.js";

const AT_MM = 5; // so near to a wall it hangs on it
const metres = (mm) => `${Number((mm / 1000).toFixed(2))}`;
const size = ([x, y]) => `${metres(x)} x ${metres(y)} m`;

// From the nearer end of its wall, as the wall lies on the sheet.
function fromCorner(edge, low, high) {
  const [name, axis, sign] = /left|right/.test(edge.side) ? [["upper", "lower"], 1, -1] : [["left", "right"], 0, 1];
  const ends = [[edge.from, low], [edge.to, edge.length - high]].sort((a, b) => sign * (a[0][axis] - b[0][axis])).map(([, far]) => Math.round(far));
  const nearer = ends[0] <= ends[1] ? 0 : 1;
  return `${metres(ends[nearer])} m from the ${name[nearer]} corner`;
}

function inRoom(outline, [x, y]) {
  const { low } = boxOf(points(outline));
  return `${metres(x - low[0])} m from the left wall, ${metres(y - low[1])} m from the front wall`;
}

// Where something hangs: [on which wall, how far along it], or what says it at once.
function hangsAt(outline, at) {
  const corner = cornersOf(outline).find((one) => distance(one.at, at) < AT_MM);
  if (corner) return [`${corner.name} corner`];
  const on = edgesOf(outline).map((edge) => ({ edge, ...against(edge, at) })).find(({ edge, along, out }) => Math.abs(out) < AT_MM && along > -1 && along < edge.length + 1);
  return on ? [`${on.edge.side} wall`, fromCorner(on.edge, on.along, on.along)] : [inRoom(outline, at)];
}

function openingAt(house, rooms, opening, now) {
  if (!now?.good) return [opening.room, "not in a wall"];
  const outline = house.rooms[now.room].outline_mm;
  const name = rooms[now.room].name;
  const near = points(now.near_mm);
  if (now.flat) return [name, "ceiling", inRoom(outline, [0, 1].map((axis) => Math.min(near[0][axis], near[1][axis])))];
  const edge = edgesOf(outline)[now.edge];
  const alongs = near.map((one) => against(edge, one).along).sort((a, b) => a - b);
  return [name, `${edge.side} wall`, fromCorner(edge, ...alongs)];
}

function roomAt(outline) {
  const { low, high } = boxOf(points(outline));
  const list = points(outline);
  const area = list.reduce((sum, [x, y], i) => { const [nx, ny] = list[(i + 1) % list.length]; return sum + (x * ny - nx * y) / 2; }, 0);
  const box = [high[0] - low[0], high[1] - low[1]];
  return [Math.abs(box[0] * box[1] - area) < 1 ? size(box) : `${list.length} corners`, `${(area / 1e6).toFixed(1)} m²`];
}

function blockAt(house, rooms, block, now) {
  if (!now) return [block.room];
  const { low, high } = boxOf(points(now.corners_mm));
  return [block.room, inRoom(house.rooms[rooms.findIndex((room) => room.name === block.room)].outline_mm, low), size([high[0] - low[0], high[1] - low[1]])];
}

// Where a thing of the drawing is, in parts from the room to the centimetre; none: it is not drawn.
export function whereIs(site, house, about) {
  const moved = movedBy(site, about);
  if (!moved) return [];
  const { building } = site.file;
  const { rooms } = building;
  const { list, index } = moved;
  if (list === "rooms") return roomAt(house.rooms[index].outline_mm);
  if (list === "places") { const { room, at_mm } = house.places[index]; return room >= 0 ? [rooms[room].name, ...hangsAt(house.rooms[room].outline_mm, at_mm)] : []; }
  if (list === "openings" || list === "contact") { const at = list === "contact" ? moved.opening : index; return openingAt(house, rooms, building.openings[at], house.openings[at]); }
  return blockAt(house, rooms, building[list][index], house[list][index]);
}

// What is said once it was put down: so much of where it now is as is new.
export function nowAt(before, after) {
  const same = after.findIndex((part, i) => part !== before[i]);
  return (same < 0 ? after.slice(-1) : after.slice(same)).join(", ");
}

function kindOf(site, about, name, marked) {
  const { file } = site;
  const of = (list) => file.building?.[list]?.[indexOf(about, `building.${list}`)];
  const [opening, room, place, stairs] = ["openings", "rooms", "places", "stairs"].map(of);
  const zone = file.zones?.[indexOf(about, "zones")];
  const inside = (name) => file.building.rooms.find((one) => one.name === name)?.is === "room";
  if (opening) return `${inside(opening.to) ? "inner" : "outer"} ${opening.is}${opening.to && !name.endsWith(` to ${opening.to}`) ? ` to the ${opening.to}` : ""}`;
  if (room) return room.is;
  if (stairs) return `up towards the ${stairs.up}`;
  if (zone) { const moved = movedBy(site, about); const sense = sensed(site, zone) ?? "device"; return moved?.list === "contact" ? `${sense} on the ${file.devices[moved.index].on}` : sense; }
  if (place) return place.protects ? "worth protecting" : place.is ?? (place.keypad ? "keypad" : /^S\d*$/.test(marked) ? "siren" : sortOf(site, place));
  return "furniture";
}

// The paths whose findings are told with a thing: its own, and those of what hangs there.
function toldWith({ file }, about) {
  const { openings = [], places = [] } = file.building ?? {};
  const opening = openings[indexOf(about, "building.openings")];
  const place = places[indexOf(about, "building.places")];
  const zone = file.zones?.[indexOf(about, "zones")];
  const all = (list, items, wanted) => (items ?? []).flatMap((one, i) => (wanted(one) ? [`${list}[${i}]`] : []));
  const onIt = new Set(opening?.door ? file.devices?.filter((one) => one.on === opening.door).map((one) => one.name) : [zone?.device ?? place?.device].filter(Boolean));
  return [about, ...all("zones", file.zones, (one) => onIt.has(one.device)), ...all("devices", file.devices, (one) => onIt.has(one.name)),
    ...zone ? all("building.places", places, (one) => onIt.has(one.device)) : [],
    ...opening?.door ? all("doors", file.doors, (one) => one.name === opening.door) : [],
    ...place?.keypad ? all("keypads", file.keypads, (one) => one.name === place.keypad) : []];
}

// view: site, drawing (what is shown), file, worst(paths): {word, says} of what is wrong with any of them, or null.
// marked: what its sign bears; tall: it cuts sight.
export function sentenceOf(view, about, { marked = "", tall = false } = {}) {
  const { site, file } = view;
  const opening = file.building?.openings?.[indexOf(about, "building.openings")];
  const name = nameOf(file, about);
  const watched = opening?.door ? (file.zones ?? []).filter((zone) => file.devices?.find((one) => one.name === zone.device)?.on === opening.door) : [];
  const kind = kindOf(site, about, name, marked);
  /* Of several of a kind the sign bears a number. */
  const which = /^[A-Z]\d+$/.test(marked) ? ` ${marked}` : "";
  const parts = [...(name.endsWith(kind) ? [`${name}${which}`] : [name, `${kind}${which}`]), ...whereIs(site, view.drawing.house, about), tall ? "cuts sight" : ""].filter(Boolean).join(", ");
  const wrong = view.worst(toldWith(site, about));
  const text = [parts, ...watched.map((zone) => `zone ${zone.number}, ${sensed(site, zone) ?? "device"}`), wrong ? `${wrong.word}: ${wrong.says}` : ""].filter(Boolean).join("; ");
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
