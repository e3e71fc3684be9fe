// A wall drawn across a room makes two of it. What stands, hangs or opens beyond the wall goes with the new room and stays at its
// point of the building, as do all other rooms. Pure: the site in, edits of its file out.
import { pairOf, shown, written, writtenPair } from "./measures.js";
import { flow, freeName, quoted } from "./moves.js";
import { isRectangle, settled } from "./rooms.js";
import { against, boxOf, edgesOf, onGrid, points, roomAt } from "./snap.js";

const THIN_MM = 400; // a stroke no wider than this, or than a fifth of its length, is a wall and no room
const SHORT_MM = 700; // so far from a wall a stroke may end and still be meant to reach it
const LEAST_MM = 400; // narrower is no room
const LINE_MM = 150; // so near it falls in line with a wall elsewhere

function rectangle(low, high) {
  return [low, [high[0], low[1]], high, [low[0], high[1]]];
}

function at(point, axis, value) {
  return point.map((one, i) => (i === axis ? value : one));
}

// Both halves of a room, by how much of it stays clear before the wall: {near, far}, corners of each.
function halves(house, index, axis, first) {
  const { low, high } = boxOf(points(house.rooms[index].outline_mm));
  return { near: rectangle(low, at(high, axis, low[axis] + first)), far: rectangle(at(low, axis, low[axis] + first + house.inner_mm), high) };
}

// The keys of a thing of the divided room: which half it is in, and where in that it stands so that it stays at its point.
// mark: the point by which it is measured along its wall; middle: by which it is in one half.
function kept(thing, name, { near, far }, axis, middle, mark) {
  const beyond = middle[axis] > boxOf(far).low[axis];
  const half = beyond ? far : near;
  const by = beyond ? [0, 1].map((i) => boxOf(near).low[i] - boxOf(far).low[i]) : [0, 0];
  const keys = beyond ? { room: quoted(name) } : {};
  for (const key of ["at", "towards"]) if (thing[key] && beyond) keys[key] = writtenPair(pairOf(thing[key], true).map((value, i) => value + by[i]));
  const edge = edgesOf(half.flat()).find((one) => one.side === thing.wall);
  const cut = (axis === 0 ? ["front", "back"] : ["left", "right"]).includes(thing.wall);
  if (edge && cut && !(thing.to && !thing["from-left"])) keys["from-left"] = written(Math.round(edge.length - against(edge, mark).along));
  return keys;
}

function middleOf(list) {
  return [0, 1].map((axis) => list.reduce((sum, one) => sum + one[axis], 0) / list.length);
}

// What is in a list of the building, as far as it is drawn: its index, itself, its middle and the point it is measured by.
function drawnOf(site, list) {
  const { file: { building }, drawing: { house } } = site;
  return (building[list] ?? []).flatMap((thing, index) => {
    const is = house[list][index];
    if (is.good === false) return [];
    const all = list === "places" ? [is.at_mm] : points(is.corners_mm ?? is.near_mm);
    return [{ path: `building.${list}[${index}]`, thing, middle: middleOf(all), mark: all[0] }];
  });
}

function contents(site, room, name, parts, axis) {
  const edits = [];
  const add = (path, keys) => { for (const [key, value] of Object.entries(keys)) edits.push({ path: `${path}.${key}`, value }); };
  for (const list of ["openings", "places", "furniture", "stairs"]) {
    for (const { path, thing, middle, mark } of drawnOf(site, list)) {
      if (thing.room === room) add(path, kept(thing, name, parts, axis, middle, mark));
      else if (thing.to === room && middle[axis] > boxOf(parts.far).low[axis]) add(path, { to: quoted(name) });
    }
  }
  return edits;
}

// axis: 0, a room to the right is made; 1, one behind. first: how much of it stays clear, in mm.
export function divideRoom(site, index, axis, first) {
  const { file: { building }, drawing: { house } } = site;
  const parts = halves(house, index, axis, first);
  const name = freeName("room", building.rooms);
  const size = [0, 1].map((i) => boxOf(parts.far).high[i] - boxOf(parts.far).low[i]);
  const inside = contents(site, building.rooms[index].name, name, parts, axis);
  const settles = settled(site, new Map([[index, parts.near]]), true);
  return [...settles, { path: `building.rooms[${building.rooms.length}]`, value: flow({ name, size: writtenPair(size), [axis === 0 ? "right-of" : "behind"]: building.rooms[index].name }) }, ...inside];
}

// A coordinate in line with a wall elsewhere on the storey, or as it is.
function inLine(house, storey, index, axis, value) {
  const lines = house.rooms.filter((room, i) => i !== index && room.good && room.storey === storey).flatMap((room) => points(room.outline_mm).map((one) => one[axis]));
  const all = [...lines.map((one) => one - house.inner_mm), ...lines];
  return all.reduce((best, one) => (Math.abs(one - value) <= LINE_MM && (best === null || Math.abs(one - value) < Math.abs(best - value)) ? one : best), null);
}

// A stroke from one wall of a room to the one across: the edits of its division, the point and the words for it, and spans: what stays
// clear on both sides. Null: it is none.
export function strokeAcross(site, storey, from, to, free) {
  const { house } = site.drawing;
  const by = [0, 1].map((i) => Math.abs(to[i] - from[i]));
  const along = by[0] > by[1] ? 0 : 1;
  const axis = 1 - along;
  const middle = middleOf([from, to]);
  const index = roomAt(house, storey, middle);
  if (by[axis] > Math.max(THIN_MM, by[along] / 5) || index < 0 || !house.rooms[index].inside) return null;
  const list = points(house.rooms[index].outline_mm);
  const { low, high } = boxOf(list);
  const ends = [from[along], to[along]].sort((a, b) => a - b);
  if (!isRectangle(list)) return null;
  if (ends[0] > low[along] + SHORT_MM || ends[1] < high[along] - SHORT_MM) return by[axis] < LEAST_MM ? { edits: [], at: to, words: "on to the wall across, or from corner to corner" } : null;
  const whole = high[axis] - low[axis] - house.inner_mm;
  const line = free ? null : inLine(house, storey, index, axis, middle[axis] - house.inner_mm / 2);
  const wanted = line === null ? onGrid(middle[axis] - house.inner_mm / 2 - low[axis], free ? 10 : 50) : line - low[axis];
  const first = Math.min(Math.max(wanted, LEAST_MM), whole - LEAST_MM);
  if (first < LEAST_MM) return null;
  const rest = at(middle, axis, low[axis] + first + house.inner_mm / 2);
  const faces = [at(rest, axis, low[axis]), at(rest, axis, low[axis] + first), at(rest, axis, low[axis] + first + house.inner_mm), at(rest, axis, high[axis])];
  return { edits: divideRoom(site, index, axis, first), at: rest, spans: [faces.slice(0, 2), faces.slice(2)], words: `${shown(first)} and ${shown(whole - first)} ${axis === 0 ? "wide" : "deep"}` };
}

// A room in two halves, a wall between: "right-of" or "behind".
export function halved(site, index, where) {
  const { house } = site.drawing;
  const { low, high } = boxOf(points(house.rooms[index].outline_mm));
  const axis = where === "right-of" ? 0 : 1;
  const whole = high[axis] - low[axis] - house.inner_mm;
  return whole < 2 * LEAST_MM ? [] : divideRoom(site, index, axis, onGrid(whole / 2));
}
