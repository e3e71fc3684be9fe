// What is made anew on the drawing, and what is taken away: edits of the site file. Pure.
import { between, flow, freeName, placeOpening, quoted, restAt, sensed, sortOf } from "./moves.js";
import { writtenPair } from "./measures.js";
import { boxOf, cornersOf, distance, onGrid, points, roomAt } from "./snap.js";
import { hungEdits, newOpenings } from "./survey.js";

const SIDES = ["front", "right", "back", "left"];
const MIDDLE_MM = 25; // half of the grid: pressed in the middle it is in the middle
const LEAST_MM = 400; // narrower is no room

// Everything that belongs into the drawing and is not in it yet: [{words, place}], place without room.
export function unplaced(site) {
  const { file } = site;
  const places = file.building?.places ?? [];
  const has = (key, name) => places.some((one) => one[key] === name);
  const carried = /fob|keypad/; // in a pocket, or where its keypad is
  const sense = (device) => { const zone = file.zones?.find((one) => one.device === device); return (zone && sensed(site, zone)) ?? ""; };
  return [
    ...(file.devices ?? []).filter((one) => !one.on && !has("device", one.name) && !carried.test(sense(one.name))).map((one) => ({ words: one.name, place: { device: one.name } })),
    ...(file.keypads ?? []).filter((one) => !has("keypad", one.name)).map((one) => ({ words: one.name, place: { keypad: one.name } })),
    ...["panel", "router", "mains"].filter((name) => !has("is", name)).map((name) => ({ words: name, place: { is: name } })),
  ];
}

function next(building, list) {
  return `building.${list}[${building?.[list]?.length ?? 0}]`;
}

// A place for what is not in the drawing yet.
export function newPlace(site, storey, place, at, free) {
  const rest = restAt(site, storey, sortOf(site, place), at, free);
  return rest && { edits: [{ path: next(site.file.building, "places"), value: flow({ ...place, ...rest.keys }) }], at: rest.at, words: rest.words };
}

const CORNER_MM = 700; // a finger that means a corner is as near to it

// A device that is not in the file yet: panel, keypad, siren or motion, hung up where it is pressed. What the words of a line make, it makes.
export function newDevice(site, storey, kind, devices, at, free) {
  const room = free || kind !== "motion" ? -1 : roomAt(site.drawing.house, storey, at);
  const corner = room < 0 ? null : cornersOf(site.drawing.house.rooms[room].outline_mm).find((one) => distance(one.at, at) <= CORNER_MM);
  const rest = restAt(site, storey, kind, corner?.at ?? at, free);
  if (!rest) return null;
  const where = Object.fromEntries(["room", "corner", "wall", "from-left", "at"].map((key) => [key, rest.keys[key]]).filter(([, value]) => value));
  const made = hungEdits(kind, site.file, site.offers, devices, where);
  return { edits: (made.edits ?? []).map(({ path, value }) => ({ path, value })), at: rest.at, words: made.wrong ?? `${kind} ${rest.words}` };
}

export function newOpening(site, storey, is, at, free) {
  const count = site.file.building.openings?.length ?? 0;
  const result = placeOpening(site, storey, count, { is }, { good: false }, at, free);
  if (!result || result.edits.length === 0) return result;
  const { house } = site.drawing;
  const { rooms } = site.file.building;
  const [here, there] = [result.keys.room, result.keys.to].map((name) => rooms.findIndex((room) => room.name === name));
  /* What goes without saying is not written: the only wall between two rooms, the middle of a wall. */
  const only = there >= 0 && SIDES.filter((side) => between(house, here, there, side)).length === 1;
  const middle = !free && Math.abs(result.left - result.middle) <= MIDDLE_MM;
  const edits = newOpenings(site.file, { is: is === "door" ? undefined : is, room: result.keys.room, to: result.keys.to ?? undefined, wall: only ? undefined : result.keys.wall, left: middle ? undefined : result.left });
  return { ...result, edits: edits.map(({ path, value }) => ({ path, value })) };
}

export function newFurniture(site, storey, at) {
  const { house } = site.drawing;
  const room = roomAt(house, storey, at);
  if (room < 0) return null;
  const { low, high } = boxOf(points(house.rooms[room].outline_mm));
  const size = [1200, 600].map((most, axis) => Math.min(most, high[axis] - low[axis]));
  const rest = [0, 1].map((axis) => Math.min(Math.max(onGrid(at[axis] - low[axis] - size[axis] / 2), 0), high[axis] - low[axis] - size[axis]));
  const { name } = site.file.building.rooms[room];
  return { edits: [{ path: next(site.file.building, "furniture"), value: flow({ name: freeName("table", site.file.building.furniture ?? []), room: name, at: writtenPair(rest), size: writtenPair(size), height: "800 mm" }) }], at: [0, 1].map((axis) => low[axis] + rest[axis] + size[axis] / 2), words: `in ${name}` };
}

// Stairs begin in the room pressed and end in the one above; they need some storey above.
export function newStairs(site, storey, at) {
  const { house } = site.drawing;
  const { building } = site.file;
  const room = roomAt(house, storey, at);
  if (room < 0 || !house.rooms[room].inside) return null;
  const { low, high } = boxOf(points(house.rooms[room].outline_mm));
  const size = [900, 3000].map((most, axis) => Math.min(most, high[axis] - low[axis]));
  const rest = [0, 1].map((axis) => Math.min(Math.max(onGrid(at[axis] - low[axis] - size[axis] / 2), 0), high[axis] - low[axis] - size[axis]));
  const head = [low[0] + rest[0] + size[0] / 2, low[1] + rest[1] + size[1] - 1];
  const to = roomAt(house, storey + 1, head);
  if (to < 0) return { edits: [], at, words: "no room stands above: add a storey first" };
  return { edits: [{ path: next(building, "stairs"), value: flow({ room: building.rooms[room].name, to: building.rooms[to].name, at: writtenPair(rest), size: writtenPair(size), up: "back" }) }], at: [0, 1].map((axis) => low[axis] + rest[axis] + size[axis] / 2), words: `from ${building.rooms[room].name} up to ${building.rooms[to].name}` };
}

function roomName(building, wanted = "room") {
  return freeName(wanted, building?.rooms ?? []);
}

function storeyKey(site, storey) {
  return storey > 0 ? site.file.building.storeys[storey].name : null;
}

// A room from corner to corner; each corner falls beside or in line with walls that are there.
export function newRoom(site, storey, from, to, free) {
  const { house } = site.drawing;
  const step = free ? 10 : 50;
  const begins = house.rooms.length === 0;
  const first = [0, 1].map((axis) => (free ? null : besides(house, storey, axis, from[axis])) ?? onGrid(from[axis], step));
  const second = [0, 1].map((axis) => (free ? null : besides(house, storey, axis, to[axis])) ?? first[axis] + onGrid(to[axis] - first[axis], step));
  const ends = [first, second];
  const low = [0, 1].map((axis) => Math.min(ends[0][axis], ends[1][axis]));
  const size = [0, 1].map((axis) => Math.abs(ends[0][axis] - ends[1][axis]));
  const words = `${(size[0] / 1000).toFixed(2)} x ${(size[1] / 1000).toFixed(2)} m`;
  if (size.some((one) => one < LEAST_MM)) return { edits: [], at: ends[1], words: `${words}: from corner to corner` };
  const edits = [{ path: next(site.file.building, "rooms"), value: flow({ name: roomName(site.file.building), storey: storeyKey(site, storey), at: begins ? null : writtenPair(low), size: writtenPair(size) }) }];
  /* All others are measured from the first one; the sheet is laid anew round it. */
  return { edits, at: ends[1], words, band: [low, size], ...(begins ? { trial: [], origin: low } : {}) };
}

const BESIDE_MM = 200;

// The line at which a wall of a new room stands: a wall's thickness off another room, in line with one; or null.
function besides(house, storey, axis, value) {
  const lines = house.rooms.filter((room) => room.good && room.storey === storey).flatMap((room) => {
    const { low, high } = boxOf(points(room.outline_mm));
    const gap = room.inside ? house.inner_mm : house.outer_mm;
    return [low[axis], high[axis], low[axis] - gap, high[axis] + gap];
  });
  return lines.reduce((best, one) => (Math.abs(one - value) <= BESIDE_MM && (best === null || Math.abs(one - value) < Math.abs(best - value)) ? one : best), null);
}

// A room typed: its measures, and beside which one it stands; the first one stands by itself.
export function typedRoom(site, storey, size, where, beside) {
  const { building } = site.file;
  const name = roomName(building);
  return [{ path: next(building, "rooms"), value: flow({ name, size: writtenPair(size), storey: beside ? null : storeyKey(site, storey), ...(beside ? { [where]: beside } : {}) }) }];
}

// One storey more with the same rooms, each above its own.
export function newStorey(site) {
  const { building } = site.file;
  const { house } = site.drawing;
  const top = building.storeys.length - 1;
  const name = freeName(top === 0 ? "upper" : `storey ${top + 1}`, building.storeys);
  const rooms = building.rooms.filter((_, i) => house.rooms[i].storey === top && house.rooms[i].inside);
  const made = [];
  for (const room of rooms) made.push({ name: freeName(`${room.name} above`, [...building.rooms, ...made]), above: room.name });
  const add = made.map((room, i) => ({ path: `building.rooms[${building.rooms.length + i}]`, value: flow(room) }));
  return { edits: [{ path: `building.storeys[${top + 1}]`, value: flow({ name }) }, ...add], unsaid: [{ path: "building.storeys", value: `[${[...building.storeys, { name }].map((one) => flow({ name: one.name })).join(", ")}]` }, ...add] };
}

function removed(list, wanted) {
  return (list ?? []).map((one, i) => [one, i]).filter(([one]) => wanted(one)).map(([, i]) => i).reverse();
}

// Takes a thing off the drawing; with a room all that is in it or leads into it, and rooms that stood beside it stay.
export function without(site, moved) {
  const { building } = site.file;
  if (moved.list !== "rooms") return [{ path: `building.${moved.list}[${moved.index}]`, value: null }];
  /* A building without rooms is none. */
  if (building.rooms.length === 1) return [{ path: "building", value: null }];
  const { name } = building.rooms[moved.index];
  const { house } = site.drawing;
  const edits = building.rooms.flatMap((room, i) => {
    const key = ["right-of", "left-of", "behind", "in-front-of", "above"].find((one) => room[one] === name);
    if (!key) return room.from === name ? [{ path: `building.rooms[${i}].from`, value: null }] : [];
    const { low, high } = boxOf(points(house.rooms[i].outline_mm));
    const copied = !room.size && !room.outline;
    return [{ path: `building.rooms[${i}].${key}`, value: null }, { path: `building.rooms[${i}].at`, value: writtenPair(low) }, ...(storeyKey(site, house.rooms[i].storey) ? [{ path: `building.rooms[${i}].storey`, value: quoted(storeyKey(site, house.rooms[i].storey)) }] : []),
      ...(copied ? [{ path: `building.rooms[${i}].size`, value: writtenPair([high[0] - low[0], high[1] - low[1]]) }] : [])];
  });
  const gone = (list, wanted) => removed(building[list], wanted).map((i) => ({ path: `building.${list}[${i}]`, value: null }));
  return [...edits, ...gone("openings", (one) => one.room === name || one.to === name), ...gone("stairs", (one) => one.room === name || one.to === name),
    ...gone("furniture", (one) => one.room === name), ...gone("places", (one) => one.room === name), { path: `building.rooms[${moved.index}]`, value: null }];
}

// A room by another name, wherever the drawing speaks of it.
export function renamed(site, index, name) {
  const { building } = site.file;
  const old = building.rooms[index].name;
  const value = quoted(name);
  const edits = [{ path: `building.rooms[${index}].name`, value }];
  for (const [list, keys] of [["rooms", ["right-of", "left-of", "behind", "in-front-of", "above", "from"]], ["openings", ["room", "to"]], ["stairs", ["room", "to"]], ["furniture", ["room"]], ["places", ["room"]]]) {
    (building[list] ?? []).forEach((one, i) => { for (const key of keys) if (one[key] === old) edits.push({ path: `building.${list}[${i}].${key}`, value }); });
  }
  return edits;
}
