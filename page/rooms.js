// Rooms that grow, shrink and move: what is then written so that what was not touched stays where it was. Pure. A room is written
// beside another one where it can stay so, else by the point at which it stands.
import { lengthOf, pairOf, written, writtenPair } from "./measures.js";
import { changed } from "./moves.js";
import { against, boxOf, edgesOf, onGrid, pointOn, points } from "./snap.js";

const BESIDE = ["right-of", "left-of", "behind", "in-front-of", "above"];
const WALL_MOST_MM = 1000;
const LINE_MM = 150; // so near it falls in line with a wall elsewhere

function sizeOf(box) {
  return [box.high[0] - box.low[0], box.high[1] - box.low[1]];
}

// Four corners, each in line with the next: what crosses itself is none.
export function isRectangle(list) {
  return list.length === 4 && list.every(([x, y], i) => { const to = list[(i + 1) % 4]; return (x === to[0]) !== (y === to[1]); });
}

// Where a room comes to stand by what is written of it: as the bench has it. boxes: of the rooms before it.
function stands(building, house, index, room, size, boxes) {
  const key = BESIDE.find((one) => room[one]);
  if (!key) return pairOf(room.at ?? "0 x 0 m", true);
  const anchor = building.rooms.findIndex((one) => one.name === room[key]);
  const by = boxes[anchor];
  const gap = house.rooms[anchor].inside && house.rooms[index].inside ? house.inner_mm : house.outer_mm;
  const shift = lengthOf(room.shift ?? "0 m", "m", true);
  if (key === "right-of") return [by.high[0] + gap, by.low[1] + shift];
  if (key === "left-of") return [by.low[0] - gap - size[0], by.low[1] + shift];
  if (key === "behind") return [by.low[0] + shift, by.high[1] + gap];
  if (key === "in-front-of") return [by.low[0] + shift, by.low[1] - gap - size[1]];
  return [by.low[0] + shift, by.low[1]];
}

// The keys of one room that say where it stands and how large it is. list: its corners; before: its box as it was.
function keysOf(building, house, index, list, before, boxes) {
  const room = building.rooms[index];
  const box = boxOf(list);
  const size = sizeOf(box);
  const keys = {};
  const copied = !room.size && !room.outline;
  if (isRectangle(list)) {
    const below = copied ? sizeOf(boxes[building.rooms.findIndex((one) => one.name === room.above)]) : null;
    const was = room.size ? pairOf(room.size) : below ?? [0, 0];
    if (room.outline || was[0] !== size[0] || was[1] !== size[1]) Object.assign(keys, { size: writtenPair(size), outline: null });
  } else if (JSON.stringify(list) !== JSON.stringify(points(house.rooms[index].outline_mm)) || box.low[0] !== before.low[0] || box.low[1] !== before.low[1]) {
    Object.assign(keys, { size: null, outline: list.map(([x, y]) => writtenPair([x - box.low[0], y - box.low[1]])) });
  }
  const turned = keys.outline !== undefined && room.outline;
  const now = stands(building, house, index, room, size, boxes);
  if (!turned && now[0] === box.low[0] && now[1] === box.low[1]) return keys;
  if (!turned && room.outline && room.at && before.low[0] === box.low[0] && before.low[1] === box.low[1]) return keys;
  const key = BESIDE.find((one) => room[one]);
  const across = key === "right-of" || key === "left-of" ? 0 : 1;
  const by = key && boxes[building.rooms.findIndex((one) => one.name === room[key])];
  const beside = key === "above" || (by && box.low[1 - across] < by.high[1 - across] && by.low[1 - across] < box.high[1 - across]);
  if (beside && now[across] === box.low[across]) {
    const shift = lengthOf(room.shift ?? "0 m", "m", true) + box.low[1 - across] - now[1 - across];
    return { ...keys, shift: shift === 0 ? null : written(shift) };
  }
  return { ...keys, ...(key ? { [key]: null, shift: null, storey: storeyName(building, house, index) } : {}), at: writtenPair(box.low) };
}

function storeyName(building, house, index) {
  return building.storeys?.[house.rooms[index].storey]?.name;
}

// Writes a list of points; a list is written whole.
function edited(path, room, keys) {
  const { outline, ...rest } = keys;
  const before = { ...room };
  if (before.shift !== undefined && lengthOf(before.shift, "m", true) === 0) delete before.shift;
  const edits = changed(path, before, rest);
  if (outline === null && room.outline) edits.push({ path: `${path}.outline`, value: null });
  else if (outline && JSON.stringify(outline) !== JSON.stringify(room.outline)) edits.push({ path: `${path}.outline`, value: `[${outline.join(", ")}]` });
  return edits;
}

// What hangs or stands in a room whose walls moved stays at its point of the building.
function contents(site, index, list) {
  const { file: { building }, drawing: { house } } = site;
  const { name } = building.rooms[index];
  const old = points(house.rooms[index].outline_mm);
  const [was, is] = [boxOf(old).low, boxOf(list).low];
  const by = [was[0] - is[0], was[1] - is[1]];
  const edges = old.length === list.length ? edgesOf(list.flat()) : null;
  const edits = [];
  const follow = (kind, i, thing, key) => {
    if (thing.room !== name || !thing[key] || (by[0] === 0 && by[1] === 0)) return;
    const at = pairOf(thing[key], true);
    edits.push({ path: `building.${kind}[${i}].${key}`, value: writtenPair([at[0] + by[0], at[1] + by[1]]) });
  };
  const along = (kind, i, thing, edge, at) => {
    if (thing.room !== name || !thing["from-left"] || !edges || edge < 0) return;
    const left = Math.round(edges[edge].length - against(edges[edge], at).along);
    if (left >= 0 && written(left) !== written(lengthOf(thing["from-left"]))) edits.push({ path: `building.${kind}[${i}].from-left`, value: written(left) });
  };
  for (const kind of ["places", "furniture", "stairs", "openings"]) (building[kind] ?? []).forEach((thing, i) => { follow(kind, i, thing, "at"); follow(kind, i, thing, "towards"); });
  (building.openings ?? []).forEach((thing, i) => { const is_ = house.openings[i]; if (is_.good && !is_.flat) along("openings", i, thing, is_.edge, points(is_.near_mm)[0]); });
  (building.places ?? []).forEach((thing, i) => along("places", i, thing, thing.wall ? longestEdge(old, thing.wall) : -1, house.places[i].at_mm));
  return edits;
}

function longestEdge(list, side) {
  return edgesOf(list.flat()).filter((one) => one.side === side).reduce((a, b) => (a && a.length >= b.length ? a : b), null)?.index ?? -1;
}

// The edits after which the rooms in `wanted` (index -> corners) are so, and every other one is where it was.
export function settled(site, wanted, carry = false) {
  const { file: { building }, drawing: { house } } = site;
  const boxes = [];
  const edits = [];
  building.rooms.forEach((room, index) => {
    const old = points(house.rooms[index].outline_mm);
    const list = wanted.get(index) ?? old;
    edits.push(...edited(`building.rooms[${index}]`, room, keysOf(building, house, index, list, boxOf(old), boxes)));
    boxes.push(boxOf(list));
    if (!carry && wanted.has(index)) edits.push(...contents(site, index, list));
  });
  return edits;
}

// Every edge that moves with one: those that face it across the wall, and what faces those. [[room, edge]...]
export function wallOf(house, room, edge) {
  const { storey } = house.rooms[room];
  const found = [[room, edge]];
  for (let i = 0; i < found.length; i += 1) {
    const here = edgesOf(house.rooms[found[i][0]].outline_mm)[found[i][1]];
    house.rooms.forEach((other, index) => {
      if (!other.good || other.storey !== storey || index === found[i][0]) return;
      for (const facing of edgesOf(other.outline_mm)) {
        const [from, to] = [against(here, facing.from), against(here, facing.to)];
        const gap = (from.out + to.out) / 2;
        const faces = from.along > to.along && Math.abs(from.out - to.out) < 2 && gap > -1 && gap <= Math.max(house.inner_mm, house.outer_mm) + 1 && Math.min(from.along, here.length) > Math.max(to.along, 0);
        if (faces && gap < WALL_MOST_MM && !found.some(([r, e]) => r === index && e === facing.index)) found.push([index, facing.index]);
      }
    });
  }
  return found;
}

function pushed(list, edge, by) {
  const next = (edge + 1) % list.length;
  const [dx, dy] = [list[next][0] - list[edge][0], list[next][1] - list[edge][1]];
  const level = Math.abs(dx) >= Math.abs(dy);
  return list.map(([x, y], i) => (i !== edge && i !== next ? [x, y] : level ? [x, y + by] : [x + by, y]));
}

// Lines on which other walls of the storey lie, along one axis.
function linesOf(house, storey, axis, but) {
  return house.rooms.flatMap((room, index) => (!room.good || room.storey !== storey || but.has(index) ? [] : points(room.outline_mm).map((point) => [point[axis], index])));
}

// Where an edge of a room comes to lie for a point: [the coordinate, the room it is then in line with].
function landing(house, index, here, axis, at, movers, free) {
  const opposite = opposing(house, index, here, axis);
  const line = free ? null : linesOf(house, house.rooms[index].storey, axis, movers).reduce((best, one) => (Math.abs(one[0] - at[axis]) <= LINE_MM && (!best || Math.abs(one[0] - at[axis]) < Math.abs(best[0] - at[axis])) ? one : best), null);
  return line ?? [opposite + onGrid(at[axis] - opposite, free ? 10 : 50), null];
}

function opposing(house, index, here, axis) {
  return points(house.rooms[index].outline_mm).reduce((far, point) => (Math.abs(point[axis] - here.from[axis]) > Math.abs(far - here.from[axis]) ? point[axis] : far), here.from[axis]);
}

// Walls of a room (one, or the two of a corner) are pushed so that they come to a point; the rooms behind them follow.
export function moveWalls(site, index, edges, at, free) {
  const { house } = site.drawing;
  const { rooms } = site.file.building;
  const wanted = new Map();
  const words = [];
  const rest = [...at];
  for (const edge of edges) {
    const here = edgesOf(house.rooms[index].outline_mm)[edge];
    const axis = here.side === "front" || here.side === "back" ? 1 : 0;
    const group = wallOf(house, index, edge);
    const [to, other] = landing(house, index, here, axis, at, new Set(group.map(([room]) => room)), free);
    for (const [room, one] of group) if (to !== here.from[axis]) wanted.set(room, pushed(wanted.get(room) ?? points(house.rooms[room].outline_mm), one, to - here.from[axis]));
    const clear = Math.abs(to - opposing(house, index, here, axis));
    words.push(`${(clear / 1000).toFixed(2)} m ${axis === 1 ? "deep" : "wide"}${other === null ? "" : `, in line with ${rooms[other].name}`}`);
    rest[axis] = to;
    if (edges.length === 1) rest[1 - axis] = pointOn(here, here.length / 2)[1 - axis];
  }
  return { edits: wanted.size === 0 ? [] : settled(site, wanted), at: rest, words: `${rooms[index].name} ${words.join(", ")}` };
}

// A room is carried as it is: its middle comes to a point, its walls fall beside or in line with those of others.
export function moveRoom(site, index, at, free) {
  const { house } = site.drawing;
  const { building } = site.file;
  const list = points(house.rooms[index].outline_mm);
  const { low, high } = boxOf(list);
  const { storey, inside } = house.rooms[index];
  const words = [];
  const by = [0, 1].map((axis) => {
    const wanted = at[axis] - (low[axis] + high[axis]) / 2;
    if (free) return onGrid(wanted, 10);
    const gaps = linesOf(house, storey, axis, new Set([index])).flatMap(([line, other]) => {
      const gap = inside && house.rooms[other].inside ? house.inner_mm : house.outer_mm;
      return [[line - low[axis], other], [line - high[axis], other], [line + gap - low[axis], other], [line - gap - high[axis], other]];
    });
    const best = gaps.reduce((a, b) => (Math.abs(b[0] - wanted) <= LINE_MM && (!a || Math.abs(b[0] - wanted) < Math.abs(a[0] - wanted)) ? b : a), null);
    if (best) words.push(building.rooms[best[1]].name);
    return best ? best[0] : onGrid(low[axis] + wanted) - low[axis];
  });
  const wanted = new Map([[index, list.map(([x, y]) => [x + by[0], y + by[1]])]]);
  return {
    edits: by[0] === 0 && by[1] === 0 ? [] : settled(site, wanted, true), at: [(low[0] + high[0]) / 2 + by[0], (low[1] + high[1]) / 2 + by[1]],
    words: words.length > 0 ? `in line with ${[...new Set(words)].join(" and ")}` : "free",
  };
}

// A room made so wide and deep: its right and back walls move, with what lies behind them; or, from the front left, those.
export function resizeRoom(site, index, [wide, deep], fromLeft = false) {
  const { house } = site.drawing;
  const list = points(house.rooms[index].outline_mm);
  const { low, high } = boxOf(list);
  const wanted = new Map();
  const [more, deeper] = [low[0] + wide - high[0], low[1] + deep - high[1]];
  for (const [side, by] of fromLeft ? [["left", -more], ["front", -deeper]] : [["right", more], ["back", deeper]]) {
    const edge = edgesOf(house.rooms[index].outline_mm).filter((one) => one.side === side).reduce((a, b) => (a && a.length >= b.length ? a : b), null);
    if (by !== 0) for (const [room, one] of wallOf(house, index, edge.index)) wanted.set(room, pushed(wanted.get(room) ?? points(house.rooms[room].outline_mm), one, by));
  }
  return settled(site, wanted);
}

// One corner of a room elsewhere: the room becomes what it then is, also where it crosses itself.
export function moveCorner(site, index, corner, at, free) {
  const list = points(site.drawing.house.rooms[index].outline_mm);
  const step = free ? 10 : 50;
  const low = boxOf(list).low;
  const lines = free ? [] : [0, 1].map((axis) => linesOf(site.drawing.house, site.drawing.house.rooms[index].storey, axis, new Set()).reduce((a, b) => (Math.abs(b[0] - at[axis]) <= LINE_MM && (a === null || Math.abs(b[0] - at[axis]) < Math.abs(a - at[axis])) ? b[0] : a), null));
  const to = [0, 1].map((axis) => lines[axis] ?? low[axis] + onGrid(at[axis] - low[axis], step));
  const wanted = new Map([[index, list.map((point, i) => (i === corner ? to : point))]]);
  return { edits: to[0] === list[corner][0] && to[1] === list[corner][1] ? [] : settled(site, wanted), at: to, words: `corner ${corner + 1} of ${site.file.building.rooms[index].name}` };
}

// A step in the middle of a wall: its second half stands back by half a metre, so that a rectangle becomes an L.
export function stepWall(site, index, edge) {
  const list = points(site.drawing.house.rooms[index].outline_mm);
  const here = edgesOf(site.drawing.house.rooms[index].outline_mm)[edge];
  const by = { front: [0, 500], back: [0, -500], left: [500, 0], right: [-500, 0] }[here.side];
  const back = (point) => point.map((value, axis) => value + by[axis]);
  const middle = pointOn(here, onGrid(here.length / 2));
  const next = (edge + 1) % list.length;
  const stepped = list.map((point, i) => (i === next ? back(point) : point));
  stepped.splice(edge + 1, 0, middle, back(middle));
  return settled(site, new Map([[index, stepped]]));
}

// Corners typed one after the other, counted from the room's front left corner.
export function outlineRoom(site, index, list) {
  const { low } = boxOf(points(site.drawing.house.rooms[index].outline_mm));
  return settled(site, new Map([[index, list.map(([x, y]) => [x + low[0], y + low[1]])]]));
}
