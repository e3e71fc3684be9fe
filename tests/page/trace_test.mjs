// A picture below the drawing: after scaling by two points they are as far apart as was typed, after levelling they are level, and
// the first of them has not moved. Worked through the transform that draws it.
import { errorOf, laid, levelled, matrixOf, scaled, shifted } from "../../page/trace.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const HIGH = 9000;
// A pixel as the building's point.
function pointOf(placed, [px, py]) {
  const [a, b, c, d, e, f] = matrixOf(placed, HIGH);
  return [a * px + c * py + e, HIGH - (b * px + d * py + f)];
}
const near = (got, wanted) => (got.every((value, i) => Math.abs(value - wanted[i]) < 0.01) ? [] : [`got ${got}, wanted ${wanted}`]);
const length = (a, b) => [Math.hypot(b[0] - a[0], b[1] - a[1])];

const first = laid(1000, 500, [0, 0], [8000, 6000]);
test("laid down as wide as the sheet, in its middle", [...near(pointOf(first, [0, 0]), [0, 5000]), ...near(pointOf(first, [1000, 500]), [8000, 1000])]);
const [a, b] = [[100, 400], [700, 380]];
const known = scaled(first, pointOf(first, a), pointOf(first, b), 4200);
test("scaled by two points: so far apart, the first where it was", [...near(length(pointOf(known, a), pointOf(known, b)), [4200]), ...near(pointOf(known, a), pointOf(first, a))]);
const level = levelled(known, pointOf(known, a), pointOf(known, b));
test("levelled: both as high, as far apart as before", [...near([pointOf(level, b)[1]], [pointOf(level, a)[1]]), ...near(length(pointOf(level, a), pointOf(level, b)), [4200]), ...near(pointOf(level, a), pointOf(known, a))]);
test("a line nearly plumb is made plumb", near([levelled(first, [0, 0], [100, 4000]).angle], [Math.atan2(100, 4000)]));
test("shifted: its point is where it belongs", near(pointOf(shifted(level, pointOf(level, b), [1800, 0]), b), [1800, 0]));
test("the same point twice scales nothing", near([scaled(first, [5, 5], [5, 5], 4200).scale], [first.scale]));
test("pressed to 10 mm at 4 m, the scale is known to 0.5 per cent", near([errorOf([0, 0], [4000, 0], 10)], [0.5]));
console.log(`1..${count}`);
