// Where a dragged thing comes to rest: in a corner, on a wall, on the grid. Pure: the bench's figures of the house in, points and
// words out. Points are [x, y] in millimetres, x to the right, y to the back; outlines run to the left round, so that inside lies
// to the left of every edge.

export const GRID_MM = 50;

export function points(flat) {
  const list = [];
  for (let i = 0; i < flat.length; i += 2) list.push([flat[i], flat[i + 1]]);
  return list;
}

export function boxOf(list) {
  const xs = list.map((one) => one[0]);
  const ys = list.map((one) => one[1]);
  return { low: [Math.min(...xs), Math.min(...ys)], high: [Math.max(...xs), Math.max(...ys)] };
}

export function distance(a, b) {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

export function onGrid(value, grid = GRID_MM) {
  return Math.round(value / grid) * grid;
}

// The edges of a room: where each begins and ends, how long it is, and on which side of the room.
export function edgesOf(outline) {
  const list = points(outline);
  return list.map((from, i) => {
    const to = list[(i + 1) % list.length];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const side = Math.abs(dx) >= Math.abs(dy) ? (dx > 0 ? "front" : "back") : dy > 0 ? "right" : "left";
    return { index: i, from, to, length: Math.hypot(dx, dy), side };
  });
}

// How far along an edge, and how far from it (below 0: within the room), a point is.
export function against(edge, at) {
  const [ux, uy] = [(edge.to[0] - edge.from[0]) / edge.length, (edge.to[1] - edge.from[1]) / edge.length];
  const [px, py] = [at[0] - edge.from[0], at[1] - edge.from[1]];
  return { along: px * ux + py * uy, out: px * uy - py * ux };
}

export function pointOn(edge, along, out = 0) {
  const [ux, uy] = [(edge.to[0] - edge.from[0]) / edge.length, (edge.to[1] - edge.from[1]) / edge.length];
  return [Math.round(edge.from[0] + ux * along + uy * out), Math.round(edge.from[1] + uy * along - ux * out)];
}

function inside(list, [x, y]) {
  let is = false;
  for (let i = 0, j = list.length - 1; i < list.length; j = i, i += 1) {
    const [[ax, ay], [bx, by]] = [list[i], list[j]];
    if ((ay > y) !== (by > y) && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) is = !is;
  }
  return is;
}

// The rooms of a storey that can be drawn: [{index, room}].
export function roomsOn(house, storey) {
  return house.rooms.flatMap((room, index) => (room.good && room.storey === storey ? [{ index, room }] : []));
}

// The room or ground in which a point lies, or -1. Rooms come before ground.
export function roomAt(house, storey, at) {
  const all = roomsOn(house, storey).filter(({ room }) => inside(points(room.outline_mm), at));
  return (all.find(({ room }) => room.inside) ?? all[0])?.index ?? -1;
}

function toEdge(edge, at) {
  const { along, out } = against(edge, at);
  return distance(at, pointOn(edge, Math.min(Math.max(along, 0), edge.length), 0)) + (out > 0 ? 0.1 : 0);
}

// The edge of any room of the storey that is nearest to a point: {room, edge, far}. only: "inside" leaves ground out.
export function nearestEdge(house, storey, at, only = "all") {
  let best = null;
  for (const { index, room } of roomsOn(house, storey)) {
    if (only === "inside" && !room.inside) continue;
    for (const edge of edgesOf(room.outline_mm)) {
      const far = toEdge(edge, at);
      if (!best || far < best.far) best = { room: index, edge, far };
    }
  }
  return best;
}

// "wall" names the longest edge of its side: others can be told by a point alone.
export function isNamed(outline, edge) {
  return edgesOf(outline).filter((one) => one.side === edge.side).every((one) => one.length <= edge.length && (one.length < edge.length || one.index >= edge.index));
}

const CORNERS = [["front left", "low", "low"], ["front right", "high", "low"], ["back right", "high", "high"], ["back left", "low", "high"]];

// The corners that have a name: of the outline those nearest to the corners of its box.
export function cornersOf(outline) {
  const list = points(outline);
  const box = boxOf(list);
  return CORNERS.map(([name, x, y]) => {
    const wanted = [box[x][0], box[y][1]];
    return { name, at: list.reduce((a, b) => (distance(b, wanted) < distance(a, wanted) ? b : a)) };
  });
}
