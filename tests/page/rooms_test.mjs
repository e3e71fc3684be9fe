// Rooms that grow, shrink and move, in a house worked by hand: a hall 1.8 x 6 m, right of it a living room 4.2 x 3.6 m, behind that
// a kitchen 4.2 x 2.28 m; inner walls of 120 mm, outer ones of 300 mm.
import { moveCorner, moveRoom, moveWalls, outlineRoom, resizeRoom, stepWall, wallOf } from "../../page/rooms.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);
const rectangle = (x, y, wide, deep) => [x, y, x + wide, y, x + wide, y + deep, x, y + deep];

function site() {
  const file = { building: {
    storeys: [{ name: "ground" }],
    rooms: [{ name: "hall", size: "1.8 x 6 m", shift: "0 mm" }, { name: "living", size: "4.2 x 3.6 m", "right-of": "hall", shift: "0 mm" }, { name: "kitchen", size: "4.2 x 2.28 m", behind: "living", shift: "0 mm" }],
    openings: [{ door: "front door", room: "hall", wall: "front" }, { room: "living", is: "window", wall: "front", "from-left": "1 m" }],
    places: [{ device: "motion", room: "living", at: "1 x 1 m" }, { is: "panel", room: "kitchen", corner: "back left" }],
    furniture: [{ name: "sofa", room: "living", at: "2 x 0.5 m", size: "2 x 0.9 m" }],
  } };
  const house = { inner_mm: 120, outer_mm: 300,
    rooms: [{ good: true, inside: true, storey: 0, outline_mm: rectangle(0, 0, 1800, 6000) }, { good: true, inside: true, storey: 0, outline_mm: rectangle(1920, 0, 4200, 3600) }, { good: true, inside: true, storey: 0, outline_mm: rectangle(1920, 3720, 4200, 2280) }],
    openings: [{ good: true, flat: false, room: 0, other: -1, edge: 0, near_mm: [1350, 0, 450, 0], far_mm: [1350, -300, 450, -300] },
      { good: true, flat: false, room: 1, other: -1, edge: 0, near_mm: [5120, 0, 3920, 0], far_mm: [5120, -300, 3920, -300] }],
    places: [{ good: true, room: 1, at_mm: [2920, 1000], into: [0, 0] }, { good: true, room: 2, at_mm: [1920, 6000], into: [1, -1] }],
    furniture: [{ good: true, corners_mm: rectangle(3920, 500, 2000, 900) }], stairs: [] };
  return { file, drawing: { house } };
}
const edits = (list) => Object.fromEntries(list.map(({ path, value }) => [path.replace("building.", ""), value]));

test("the wall between is one wall: both rooms on its other side go with it", same(wallOf(site().drawing.house, 0, 1), [[0, 1], [1, 3], [2, 3]]));
test("pushed 30 cm to the right, the hall is wider, both others narrower; what stands in them stays where it stands",
  same(edits(moveWalls(site(), 0, [1], [2100, 3000], false).edits), { "rooms[0].size": "2.1 x 6 m", "rooms[1].size": "3.9 x 3.6 m", "places[0].at": "0.7 x 1 m", "furniture[0].at": "1.7 x 0.5 m", "rooms[2].size": "3.9 x 2.28 m" }));
test("an outer wall moves alone; the window counted from the corner that moved keeps its place",
  same(edits(moveWalls(site(), 1, [1], [6620, 1000], true).edits), { "rooms[1].size": "4.7 x 3.6 m", "openings[1].from-left": "1.5 m" }));
test("near the line of another wall it falls in line with it", [...same(moveWalls(site(), 1, [1], [6200, 1000], false).words, "living 4.20 m wide, in line with kitchen"), ...same(moveWalls(site(), 1, [1], [6200, 1000], false).edits, [])]);
test("the corner of a rectangle moves both its walls", same(edits(moveWalls(site(), 0, [0, 1], [2100, -500], true).edits)["rooms[0].size"], "2.1 x 6.5 m"));
test("a measure typed moves the right and the back wall, and what lies behind them",
  same(edits(resizeRoom(site(), 1, [4200, 3000])), { "rooms[1].size": "4.2 x 3 m", "rooms[2].size": "4.2 x 2.88 m" }));
test("a room carried away is no longer beside another, but at a point; the one behind it stays",
  same(edits(moveRoom(site(), 1, [9000, 1800], true).edits), { "rooms[1].right-of": null, "rooms[1].storey": "ground", "rooms[1].at": "6.9 x 0 m", "rooms[2].behind": null, "rooms[2].storey": "ground", "rooms[2].at": "1.92 x 3.72 m" }));
test("along the wall beside which it stands it is shifted, and still stands beside", same(edits(moveRoom(site(), 2, [4520, 4860], true).edits), { "rooms[2].shift": "500 mm" }));
test("what is carried near another room falls beside it, a wall between", same(moveRoom(site(), 2, [4050, 4920], false).edits, []));
test("a corner pulled across makes an outline that crosses itself: it is written as it is",
  same(edits(moveCorner(site(), 2, 1, [1000, 5000], true).edits)["rooms[2].outline"], "[0.92 x 0 m, 0 x 1.28 m, 5.12 x 2.28 m, 0.92 x 2.28 m]"));
test("a step in a wall makes an L, measured from the same corner", same(edits(stepWall(site(), 2, 2)), { "rooms[2].size": null, "rooms[2].outline": "[0 x 0 m, 4.2 x 0 m, 4.2 x 2.28 m, 2.1 x 2.28 m, 2.1 x 1.78 m, 0 x 1.78 m]" }));
test("four corners in an order that crosses are no rectangle", same(edits(outlineRoom(site(), 2, [[0, 0], [4200, 2280], [4200, 0], [0, 2280]])), { "rooms[2].size": null, "rooms[2].outline": "[0 x 0 m, 4.2 x 2.28 m, 4.2 x 0 m, 0 x 2.28 m]" }));
test("corners typed", same(edits(outlineRoom(site(), 2, [[0, 0], [3000, 0], [3000, 2000], [0, 2000]])), { "rooms[2].size": "3 x 2 m" }));
console.log(`1..${count}`);
