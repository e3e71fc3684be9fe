// What is written into the site file when something on the drawing is moved: [{path, value}], value null takes a key out. Pure.
// Whether it was dragged, nudged by keys or typed makes no difference: all go through here.
import { against, boxOf, cornersOf, distance, edgesOf, isNamed, nearestEdge, onGrid, pointOn, points, roomAt } from "./snap.js";
import { shown, written, writtenPair } from "./measures.js";
import { moveRoom } from "./rooms.js";
import { indexOf, says } from "./subjects.js";

// Sets what is new and takes out what no longer holds; what stays as it was is not touched.
export function changed(path, before, after) {
  const edits = [];
  for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
    if (after[key] === null && before[key] !== undefined) edits.push({ path: `${path}.${key}`, value: null });
    else if (after[key] !== null && after[key] !== undefined && after[key] !== before[key]) edits.push({ path: `${path}.${key}`, value: quoted(after[key]) });
  }
  return edits;
}

// A text as a value in one line of YAML: as it is where that is safe, else as JSON, which YAML contains.
export function quoted(value) {
  if (typeof value !== "string") return JSON.stringify(value);
  return /^[A-Za-z][A-Za-z0-9 _-]*$/.test(value) && !/ $/.test(value) && !/^(yes|no|true|false|null|on|off|y|n)$/i.test(value) ? value : /^-?[\d.]+( x -?[\d.]+)? (m|mm)$|^\d+(\.\.\d+)? (s|min|h|d)$/.test(value) ? value : JSON.stringify(value);
}

// A mapping in one line, as people write them; what is null or undefined is left out.
export function flow(keys) {
  return `{${Object.entries(keys).filter(([, value]) => value !== null && value !== undefined).map(([key, value]) => `${key}: ${value === true ? "yes" : value === false ? "no" : quoted(value)}`).join(", ")}}`;
}

// Where each kind of thing may come to rest, first that fits: in a corner, on a wall, anywhere in a room.
const RESTS = {
  motion: ["corner", "wall"], keypad: ["wall"], panel: ["wall"], router: ["wall"], mains: ["wall"], siren: ["wall"],
  glass: ["wall", "free"], smoke: ["free"], other: ["wall", "free"],
};
const REACH = { corner: 350, wall: 250 };

// What a zone's device senses, as its keying lines have it. Two zones may have one number: then the name tells them apart.
export function sensed(site, zone) {
  return site.lines?.find((line) => line.part === "zone" && line.number === zone.number && line.thing === says(zone) && line.key === "senses")?.value;
}

// What hangs at a place: by its sense, as the keying lines of its zone have it, or by what it is.
export function sortOf(site, place) {
  const { file } = site;
  if (place.keypad) return "keypad";
  if (place.is) return place.is;
  if (place.protects) return "other";
  const zone = file.zones?.find((one) => one.device === place.device);
  const sense = (zone && sensed(site, zone)) ?? "";
  if (/motion/.test(sense)) return "motion";
  if (/glass/.test(sense)) return "glass";
  if (/smoke|heat|gas|water/.test(sense)) return "smoke";
  return zone === undefined && /siren/.test(place.device ?? "") ? "siren" : "other";
}

// The subject as the place or the opening that is moved with it: {list, index}, or null. A contact goes with its opening.
export function movedBy(site, subject) {
  const { file } = site;
  const building = file.building ?? {};
  for (const list of ["places", "openings", "rooms", "furniture", "stairs"]) {
    const index = indexOf(subject, `building.${list}`);
    if (index >= 0) return building[list]?.[index] ? { list, index } : null;
  }
  const zone = file.zones?.[indexOf(subject, "zones")];
  if (!zone) return null;
  const place = (building.places ?? []).findIndex((one) => one.device === zone.device);
  if (place >= 0) return { list: "places", index: place };
  const device = (file.devices ?? []).findIndex((one) => one.name === zone.device);
  const on = file.devices?.[device]?.on;
  const opening = (building.openings ?? []).findIndex((one) => on !== undefined && one.door === on);
  return opening >= 0 ? { list: "contact", index: device, opening } : null;
}

// A place resting at a point: the keys that say so, where it then is, and the words for it.
export function restAt(site, storey, sort, at, free = false) {
  const { house } = site.drawing;
  const { rooms } = site.file.building;
  const rests = RESTS[sort] ?? RESTS.other;
  const near = nearestEdge(house, storey, at);
  const within = roomAt(house, storey, at);
  const room = within >= 0 ? within : near?.room ?? -1;
  if (room < 0) return null;
  const outline = house.rooms[room].outline_mm;
  const name = rooms[room].name;
  const none = { corner: null, wall: null, "from-left": null, at: null };
  const corner = cornersOf(outline).find((one) => distance(one.at, at) <= REACH.corner);
  if (!free && rests.includes("corner") && corner) return { keys: { ...none, room: name, corner: corner.name }, at: corner.at, words: `in the ${corner.name} corner of ${name}` };
  const edge = edgesOf(outline).reduce((a, b) => (sideways(a, at) <= sideways(b, at) ? a : b));
  const ends = rests.includes("corner") ? cornersOf(outline) : [];
  const must = !rests.includes("free") || within < 0;
  if (must || (!free && rests.includes("wall") && sideways(edge, at) <= REACH.wall)) return onWall(house, room, name, edge, at, none, free, ends);
  const low = boxOf(points(outline)).low;
  const step = free ? 10 : 50;
  const rest = [low[0] + onGrid(at[0] - low[0], step), low[1] + onGrid(at[1] - low[1], step)];
  return { keys: { ...none, room: name, at: writtenPair([rest[0] - low[0], rest[1] - low[1]]) }, at: rest, words: `in ${name}` };
}

function sideways(edge, at) {
  const { along } = against(edge, at);
  return distance(at, pointOn(edge, Math.min(Math.max(along, 0), edge.length)));
}

function onWall(house, room, name, edge, at, none, free, ends) {
  const outline = house.rooms[room].outline_mm;
  const left = Math.min(Math.max(onGrid(edge.length - against(edge, at).along, free ? 10 : 50), 0), Math.floor(edge.length));
  const rest = pointOn(edge, edge.length - left);
  const end = ends.find((one) => distance(one.at, rest) === 0);
  if (end) return { keys: { ...none, room: name, corner: end.name }, at: rest, words: `in the ${end.name} corner of ${name}` };
  const words = `on the ${edge.side} wall of ${name}`;
  if (isNamed(outline, edge)) return { keys: { ...none, room: name, wall: edge.side, "from-left": written(left) }, at: rest, words };
  const low = boxOf(points(outline)).low;
  return { keys: { ...none, room: name, at: writtenPair([rest[0] - low[0], rest[1] - low[1]]) }, at: rest, words };
}

export function movePlace(site, storey, index, at, free) {
  const place = site.file.building.places[index];
  const rest = restAt(site, storey, sortOf(site, place), at, free);
  return rest && { edits: changed(`building.places[${index}]`, place, rest.keys), at: rest.at, words: rest.words };
}

// Where a detector looks, in degrees from the right, to the left round; null: nowhere in particular.
export function looksOf(house, index) {
  const [x, y] = house.places[index].faces;
  return x === 0 && y === 0 ? null : Math.atan2(y, x) * 180 / Math.PI;
}

const AHEAD_MM = 2000;

// A detector made to look towards a point, or turned by so many degrees.
export function turnTo(site, index, at) {
  const { house } = site.drawing;
  const place = site.file.building.places[index];
  const { low } = boxOf(points(house.rooms[house.places[index].room].outline_mm));
  const to = at.map((value) => onGrid(value, 10));
  return { edits: changed(`building.places[${index}]`, place, { faces: null, towards: writtenPair([to[0] - low[0], to[1] - low[1]]) }), at: to, words: "looks there" };
}

export function turnBy(site, index, degrees) {
  const { house } = site.drawing;
  const now = ((looksOf(house, index) ?? 90) + degrees) * Math.PI / 180;
  const from = house.places[index].at_mm;
  const { low } = boxOf(points(house.rooms[house.places[index].room].outline_mm));
  const to = [from[0] + AHEAD_MM * Math.cos(now) - low[0], from[1] + AHEAD_MM * Math.sin(now) - low[1]].map(Math.round);
  return changed(`building.places[${index}]`, site.file.building.places[index], { faces: null, towards: writtenPair(to) });
}

// What lies behind an edge at a point of it, within a wall's thickness: the index of a room or ground, or -1.
export function behind(house, storey, edge, along, room) {
  for (let out = 20; out <= 1020; out += 50) {
    const found = roomAt(house, storey, pointOn(edge, along, out));
    if (found >= 0 && found !== room) return found;
  }
  return -1;
}

const PAST_CORNER_MM = 500;

// An opening slides along its wall; half a metre past a corner, or well away from it, it jumps to the nearest wall.
export function moveOpening(site, storey, index, at, free) {
  return placeOpening(site, storey, index, site.file.building.openings[index], site.drawing.house.openings[index], at, free);
}

// opening: as it is written; now: where it is, good false: nowhere yet.
export function placeOpening(site, storey, index, opening, now, at, free) {
  const { house } = site.drawing;
  const { rooms } = site.file.building;
  const width = now.good && !now.flat ? distance(points(now.near_mm)[0], points(now.near_mm)[1]) : usualWidth(opening);
  if (now.flat) return moveFlat(site, storey, index, at);
  let room = now.good ? now.room : rooms.findIndex((one) => one.name === opening.room);
  let edge = now.good ? edgesOf(house.rooms[room].outline_mm)[now.edge] : null;
  const off = edge ? sideways(edge, at) : Infinity;
  if (off > PAST_CORNER_MM) {
    const near = nearestEdge(house, storey, at, "inside");
    if (near && near.far < off - 100) [room, edge] = [near.room, near.edge];
  }
  if (!edge) return null;
  const outline = house.rooms[room].outline_mm;
  const along = Math.min(Math.max(against(edge, at).along, 0), edge.length);
  const found = behind(house, storey, edge, along, room);
  const shared = found >= 0 ? between(house, room, found, edge.side) : null;
  /* Ground that does not run along the wall is the outside. */
  const other = shared || (found >= 0 && house.rooms[found].inside) ? found : -1;
  const named = other >= 0 ? shared?.edge === edge.index : isNamed(outline, edge);
  const where = `the ${edge.side} wall of ${rooms[room].name}`;
  if (!named) return { edits: [], at: pointOn(edge, along), words: `not there: ${where} that the file names is a longer one` };
  const stretch = other >= 0 ? [edge.length - shared.high, edge.length - shared.low] : [0, edge.length];
  const fits = stretch[1] - stretch[0] >= width;
  const keep = (left) => Math.min(Math.max(left, Math.ceil(stretch[0])), Math.max(Math.ceil(stretch[0]), Math.floor(stretch[1] - width)));
  const left = keep(stopAtOthers(house, index, edge, width, keep(onGrid(edge.length - against(edge, at).along - width / 2, free ? 10 : 50))));
  const keys = { room: rooms[room].name, wall: edge.side, "from-left": written(left), to: other >= 0 ? rooms[other].name : null };
  if (keys.room === opening.room && keys.to === (opening.to ?? null) && opening.wall === undefined && edge.index === now.edge) delete keys.wall;
  return {
    edits: changed(`building.openings[${index}]`, opening, keys), keys, left, middle: (stretch[0] + stretch[1] - width) / 2, at: pointOn(edge, edge.length - left - width / 2), fits,
    words: fits ? `in ${where}` : `too wide for ${where}: there are ${shown(Math.round(stretch[1] - stretch[0]))} of it`,
  };
}

// The longest stretch of wall between two rooms on a side of the first: {edge, low, high} in mm along its edge, or null. As the
// bench itself has it: edges that run against each other within half a degree, at most a metre apart.
export function between(house, room, other, side) {
  let best = null;
  for (const edge of edgesOf(house.rooms[room].outline_mm).filter((one) => one.side === side)) {
    for (const facing of edgesOf(house.rooms[other].outline_mm)) {
      const [from, to] = [against(edge, facing.from), against(edge, facing.to)];
      const back = from.along - to.along;
      const gap = (from.out + to.out) / 2;
      if (back <= 0 || Math.abs(from.out - to.out) * 100 > back || gap <= -1 || gap > 1000) continue;
      const [low, high] = [Math.max(to.along, 0), Math.min(from.along, edge.length)];
      if (high > low && (!best || high - low > best.high - best.low)) best = { edge: edge.index, low, high };
    }
  }
  return best;
}

// As usual for its kind; source: the presets of the bench (docs/site-file.md).
export function usualWidth(opening) {
  return opening.is === "window" ? 1200 : 900;
}

// It does not slide into another opening of the same edge: it stops at its jamb.
function stopAtOthers(house, index, edge, width, left) {
  for (const [i, other] of house.openings.entries()) {
    if (i === index || !other.good || other.flat) continue;
    const jambs = [...points(other.near_mm), ...points(other.far_mm)].map((one) => against(edge, one)).filter(({ out }) => Math.abs(out) < 30);
    if (jambs.length < 2) continue;
    const lefts = jambs.map(({ along }) => edge.length - along);
    const [low, high] = [Math.min(...lefts), Math.max(...lefts)];
    if (high <= 0 || low >= edge.length || left >= high || left + width <= low) continue;
    left = left + width / 2 < (low + high) / 2 ? low - width : high;
  }
  return Math.round(left);
}

function moveFlat(site, storey, index, at) {
  const { house } = site.drawing;
  const room = roomAt(house, storey, at);
  if (room < 0) return null;
  const low = boxOf(points(house.rooms[room].outline_mm)).low;
  const rest = [onGrid(at[0] - low[0]), onGrid(at[1] - low[1])];
  const opening = site.file.building.openings[index];
  return { edits: changed(`building.openings[${index}]`, opening, { room: site.file.building.rooms[room].name, at: writtenPair(rest) }), at: [low[0] + rest[0], low[1] + rest[1]], words: `in the ceiling of ${site.file.building.rooms[room].name}` };
}

// A contact goes to the opening nearest to the point; one that has no name yet becomes one of the doors.
export function moveContact(site, storey, device, at) {
  const { house } = site.drawing;
  const { building, doors = [], devices } = site.file;
  const middle = (one) => { const all = [...points(one.near_mm), ...points(one.far_mm)]; return [0, 1].map((i) => all.reduce((sum, point) => sum + point[i], 0) / all.length); };
  const near = house.openings.flatMap((one, index) => (one.good && house.rooms[one.room].storey === storey ? [{ index, one, far: distance(middle(one), at) }] : []))
    .reduce((a, b) => (a && a.far <= b.far ? a : b), null);
  if (!near || near.far > 2000) return null;
  const opening = building.openings[near.index];
  const outside = near.one.other < 0 || !house.rooms[near.one.other].inside;
  const name = opening.door ?? freeName(opening.name ?? opening.is, doors);
  const edits = opening.door ? [] : [{ path: `doors[${doors.length}]`, value: flow({ name, outside }) }, { path: `building.openings[${near.index}].door`, value: quoted(name) }];
  if (devices[device].on !== name) edits.push({ path: `devices[${device}].on`, value: quoted(name) });
  return { edits, at: middle(near.one).map(Math.round), words: `on ${name}` };
}

export function freeName(wanted, things) {
  const taken = new Set(things.map((one) => one.name));
  if (!taken.has(wanted)) return wanted;
  let count = 2;
  while (taken.has(`${wanted} ${count}`)) count += 1;
  return `${wanted} ${count}`;
}

// A rectangle that stands in a room, by its middle: furniture, stairs. It keeps within the room it is dragged to.
export function moveBlock(site, storey, list, index, at, free) {
  const { house } = site.drawing;
  const { building } = site.file;
  const corners = points(house[list][index].corners_mm);
  const size = [corners[2][0] - corners[0][0], corners[2][1] - corners[0][1]];
  const within = roomAt(house, storey, at);
  const room = within >= 0 ? within : building.rooms.findIndex((one) => one.name === building[list][index].room);
  const box = boxOf(points(house.rooms[room].outline_mm));
  const rest = [0, 1].map((i) => {
    const span = box.high[i] - box.low[i] - size[i];
    const wanted = onGrid(at[i] - size[i] / 2 - box.low[i], free ? 10 : 50);
    const kept = span < 0 ? wanted : Math.min(Math.max(wanted, 0), span);
    return !free && span >= 0 && span - kept < 100 ? span : !free && kept < 100 && span >= 0 ? 0 : kept;
  });
  return {
    edits: changed(`building.${list}[${index}]`, building[list][index], { room: building.rooms[room].name, at: writtenPair(rest) }),
    at: [box.low[0] + rest[0] + size[0] / 2, box.low[1] + rest[1] + size[1] / 2], words: `in ${building.rooms[room].name}`,
  };
}

// Where the thing is now: its middle, or null where it is not drawn.
export function middleOf(site, moved) {
  const { house } = site.drawing;
  if (moved.list === "places") return house.places[moved.index].at_mm;
  if (moved.list === "rooms") { const { low, high } = boxOf(points(house.rooms[moved.index].outline_mm)); return [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2]; }
  if (moved.list === "furniture" || moved.list === "stairs") { const corners = points(house[moved.list][moved.index].corners_mm); return [(corners[0][0] + corners[2][0]) / 2, (corners[0][1] + corners[2][1]) / 2]; }
  const opening = house.openings[moved.list === "contact" ? moved.opening : moved.index];
  if (!opening.good) return null;
  const [a, b] = points(opening.near_mm);
  return opening.flat ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

// Moves a thing so that its middle is at a point: {edits, at, words}, or null where it cannot stand.
export function moveTo(site, storey, moved, at, free = false) {
  if (moved.list === "places") return movePlace(site, storey, moved.index, at, free);
  if (moved.list === "openings") return moveOpening(site, storey, moved.index, at, free);
  if (moved.list === "contact") return moveContact(site, storey, moved.index, at);
  if (moved.list === "rooms") return moveRoom(site, moved.index, at, free);
  return moveBlock(site, storey, moved.list, moved.index, at, free);
}
