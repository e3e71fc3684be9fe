// Words of a layer step aside on the drawing: clear of signs, of other words and of walls, and if it can be of the layer's own
// lines; as near as they can to where they were. Pure: shapes of the bench in, shapes out. Points are the building's millimetres.

const LETTER = 0.62; // width of one, of its height, about
const REACH = 22; // how far words may go, in halves of their height

function boxOf(points) {
  const xs = points.filter((_, i) => i % 2 === 0);
  const ys = points.filter((_, i) => i % 2 === 1);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

// What a text covers: its point is the middle of it, or its beginning or end.
function boxOfText(one) {
  const wide = one.text.length * one.width_mm * LETTER;
  const left = one.points_mm[0] - (one.anchor === "start" ? 0 : one.anchor === "end" ? wide : wide / 2);
  return [left, one.points_mm[1] - one.width_mm * 0.5, left + wide, one.points_mm[1] + one.width_mm * 0.5];
}

function over(a, b) {
  return Math.max(0, Math.min(a[2], b[2]) - Math.max(a[0], b[0])) * Math.max(0, Math.min(a[3], b[3]) - Math.max(a[1], b[1]));
}

function holds(points, x, y) {
  let inside = false;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    const [ax, ay, bx, by] = [points[i], points[i + 1], points[j], points[j + 1]];
    if (ay > y !== by > y && x < (bx - ax) * (y - ay) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

// Which floor a point is on; -1: none.
function floorAt(floors, x, y) {
  return floors.findIndex((one) => holds(one.points_mm, x, y));
}

// How many pieces of a line a box is crossed by, looked at in steps of a quarter of its height.
function crossed(box, line) {
  let count = 0;
  const step = (box[3] - box[1]) / 4;
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [ax, ay, bx, by] = line.slice(i, i + 4);
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / step));
    for (let k = 0; k <= pieces; k += 1) {
      const [x, y] = [ax + (bx - ax) * k / pieces, ay + (by - ay) * k / pieces];
      if (x > box[0] && x < box[2] && y > box[1] && y < box[3]) { count += 1; break; }
    }
  }
  return count;
}

// Lines of words that stand under each other move together.
function groups(texts) {
  const list = [];
  for (const one of texts) {
    const last = list.at(-1)?.at(-1);
    if (last && last.points_mm[0] === one.points_mm[0] && Math.abs(last.points_mm[1] - one.points_mm[1]) < 2 * one.width_mm) list.at(-1).push(one);
    else list.push([one]);
  }
  return list;
}

// layer: shapes, words among them; storey: with its floors and things; sheet: left, bottom, right, top; wall: how thick
// the outer ones are; more: boxes to keep clear of; narrow: there is no room beside the sheet.
export function aside(layer, storey, sheet, wall, more, narrow = false) {
  const texts = layer.filter((one) => one.form === "text");
  if (texts.length === 0) return layer;
  const floors = storey.floors.filter((one) => one.role === "floor" || one.role === "ground");
  /* Beside the sheet there mostly is room, above and below there is none. */
  const off = (at) => (at[1] < sheet[1] || at[3] > sheet[3] ? 80 : at[0] < sheet[0] || at[2] > sheet[2] ? (narrow ? 80 : 3) : 0);
  const floorsUnder = (at) => new Set([[0, 1], [2, 1], [0, 3], [2, 3]].map(([x, y]) => floorAt(floors, at[x], at[y])));
  const taken = [...more, ...storey.things.flatMap((one) => (one.form === "text" ? [boxOfText(one)] : one.role.startsWith("sign") ? [boxOf(one.points_mm)] : []))];
  const lines = layer.filter((one) => one.form === "line").map((one) => one.points_mm);
  const moved = new Map();
  for (const group of groups(texts)) {
    const all = group.map(boxOfText);
    const box = [Math.min(...all.map((b) => b[0])), Math.min(...all.map((b) => b[1])), Math.max(...all.map((b) => b[2])), Math.max(...all.map((b) => b[3]))];
    const unit = group[0].width_mm / 2;
    const area = (box[2] - box[0]) * (box[3] - box[1]);
    const home = floorAt(floors, (box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    let best = { cost: Infinity, by: [0, 0] };
    for (let i = -REACH; i <= REACH; i += 1) for (let j = -REACH; j <= REACH; j += 1) {
      const by = [i * unit, j * unit];
      const far = Math.hypot(i, j) * 0.05;
      if (far >= best.cost) continue;
      const at = box.map((value, k) => value + by[k % 2]);
      const rooms = floorsUnder(at);
      const onWall = rooms.size > 1 || (rooms.has(-1) && floorsUnder([at[0] - wall, at[1] - wall, at[2] + wall, at[3] + wall]).size > 1);
      const covers = taken.reduce((sum, one) => sum + over(at, one), 0);
      /* Not across a wall, on no sign and no word; then in the room where they were, or before the house; then off the lines. */
      const before = far + off(at) + (onWall ? 40 : 0) + (covers > 0 ? 20 + 40 * covers / area : 0) + (rooms.has(home) ? 0 : rooms.has(-1) ? 2 : 6);
      if (before >= best.cost) continue;
      const cost = before + 1.5 * lines.reduce((sum, line) => sum + crossed(at, line), 0);
      if (cost < best.cost) best = { cost, by };
    }
    taken.push(box.map((value, k) => value + best.by[k % 2]));
    for (const one of group) moved.set(one, { ...one, points_mm: [one.points_mm[0] + best.by[0], one.points_mm[1] + best.by[1]] });
  }
  return layer.map((one) => moved.get(one) ?? one);
}
