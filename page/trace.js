// A picture below the drawing, by where it lies: the building's point of its upper left corner, how many millimetres a pixel is, and
// by how much it is turned. Pure; points are the building's, [x, y] in mm.

function turned([x, y], radians) {
  return [x * Math.cos(radians) - y * Math.sin(radians), x * Math.sin(radians) + y * Math.cos(radians)];
}

// About a point: k times as large, turned by so much.
function about(placed, [ax, ay], k, radians) {
  const [dx, dy] = turned([(placed.x - ax) * k, (placed.y - ay) * k], radians);
  return { ...placed, x: ax + dx, y: ay + dy, scale: placed.scale * k, angle: placed.angle + radians };
}

// As it is laid down first: as wide as the sheet.
export function laid(wide, high, [left, front], [right, back]) {
  const scale = Math.max((right - left) / wide, 1);
  return { x: left, y: (front + back) / 2 + high * scale / 2, scale, angle: 0 };
}

// Two points of the picture that are so far apart in the building: the first one stays where it is.
export function scaled(placed, a, b, distance) {
  const now = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return now < 1 || distance <= 0 ? placed : about(placed, a, distance / now, 0);
}

// The line between both points made level or plumb, whichever is nearer.
export function levelled(placed, a, b) {
  const angle = Math.atan2(b[1] - a[1], b[0] - a[0]);
  const quarter = Math.PI / 2;
  return about(placed, a, 1, Math.round(angle / quarter) * quarter - angle);
}

export function shifted(placed, from, to) {
  return { ...placed, x: placed.x + to[0] - from[0], y: placed.y + to[1] - from[1] };
}

// How wrong the scale may be, in per cent, when each point was pressed to so many millimetres.
export function errorOf(a, b, press_mm) {
  const now = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return now < 1 ? Infinity : 2 * press_mm / now * 100;
}

// From pixels to the drawing, whose y runs down from the building's highest: the six numbers of a transform.
export function matrixOf(placed, high) {
  const [a, b] = [placed.scale * Math.cos(placed.angle), -placed.scale * Math.sin(placed.angle)];
  return [a, b, -b, a, placed.x, high - placed.y];
}
