// Words of a layer step aside on the drawing: off signs, words and walls, no farther than they must.
import { aside } from "../../page/aside.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}

const WALL = 300;
const square = (x, y, half) => [x - half, y - half, x + half, y - half, x + half, y + half, x - half, y + half];
const word = (text, x, y) => ({ role: "small", form: "text", text, points_mm: [x, y], width_mm: 200, anchor: "middle" });
const storey = (...things) => ({ floors: [{ role: "floor", points_mm: [0, 0, 5000, 0, 5000, 4000, 0, 4000] }, { role: "floor", points_mm: [5100, 0, 9000, 0, 9000, 4000, 5100, 4000] }], things });
const sign = (x, y) => ({ role: "sign", form: "area", points_mm: square(x, y, 400) });
const SHEET = [-2000, -2000, 11000, 6000];
const placed = (layer, ...things) => aside(layer, storey(...things), SHEET, WALL, []);
const at = (one) => one.points_mm.join();
// Half of what the words take, by the same measure as the page's letters have.
const half = (one) => [one.text.length * one.width_mm * 0.31, one.width_mm / 2];
const clear = (one, x, y, far) => Math.abs(one.points_mm[0] - x) >= far + half(one)[0] - 1 || Math.abs(one.points_mm[1] - y) >= far + half(one)[1] - 1;

const free = word("3.0 m, 2.1 to 3.3 s", 2500, 2000);
test("what is in nobody's way stays where it is", at(placed([free])[0]) === at(free) ? [] : ["it moved"]);
test("nothing that is no word moves", (() => {
  const line = { role: "way", form: "line", points_mm: [0, 0, 5000, 4000] };
  return placed([line, free], sign(2500, 2000))[0] === line ? [] : ["the line is another"];
})());
test("off a sign, in the same room, and no farther than it must", (() => {
  const [moved] = placed([free], sign(2500, 2000));
  const inside = moved.points_mm[0] - half(moved)[0] > 0 && moved.points_mm[0] + half(moved)[0] < 5000;
  return [...(clear(moved, 2500, 2000, 400) ? [] : ["it lies over the sign"]), ...(inside ? [] : [`it left the room: ${at(moved)}`]), ...(Math.abs(moved.points_mm[1] - 2000) <= 700 ? [] : [`far: ${at(moved)}`])];
})());
test("off a wall between two rooms", (() => {
  const [moved] = placed([word("3.0 m, 2.1 to 3.3 s", 5000, 2000)]);
  return moved.points_mm[0] + half(moved)[0] < 5000 || moved.points_mm[0] - half(moved)[0] > 5100 ? [] : [at(moved)];
})());
test("before the house it keeps off the outer wall", (() => {
  const [moved] = placed([word("3.0 m, 2.1 to 3.3 s", 2500, -250)]);
  const { points_mm: [, y] } = moved;
  return y + 100 <= -WALL || y - 100 > 0 ? [] : [at(moved)];
})());
test("two lines of words move as one", (() => {
  const pair = [word("9.1 m", 2500, 2120), word("8.1 to 10.9 s", 2500, 1880)];
  const moved = placed(pair, sign(2500, 2000));
  const by = (i) => [moved[i].points_mm[0] - pair[i].points_mm[0], moved[i].points_mm[1] - pair[i].points_mm[1]].join();
  return [...(by(0) === by(1) && by(0) !== "0,0" ? [] : [`${by(0)} and ${by(1)}`]), ...(clear(moved[1], 2500, 2000, 400) ? [] : ["over the sign"])];
})());
test("two words of a layer do not lie over each other", (() => {
  const [one, other] = placed([word("4.0 m", 2500, 2000), word("6.0 m", 2600, 2000)]);
  return Math.abs(one.points_mm[1] - other.points_mm[1]) >= 199 || Math.abs(one.points_mm[0] - other.points_mm[0]) >= 2 * half(one)[0] - 1 ? [] : [`${at(one)} and ${at(other)}`];
})());
console.log(`1..${count}`);
