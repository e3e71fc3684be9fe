// A room divided by a stroke or in halves, in a house worked by hand: a hall 3 x 6 m, right of it a kitchen 4.2 x 6 m; inner walls of
// 120 mm, so that a wall at 1 m leaves 1 m and 1.88 m.
import assert from "node:assert/strict";
import { test } from "node:test";
import { divideRoom, halved, strokeAcross } from "../../page/divide.js";

const rectangle = (x, y, wide, deep) => [x, y, x + wide, y, x + wide, y + deep, x, y + deep];
const edits = (list) => list.map(({ path, value }) => `${path.replace("building.", "")} ${value}`);

function site(more = {}) {
  const file = { building: { rooms: [{ name: "hall", size: "3 x 6 m" }, { name: "kitchen", size: "4.2 x 6 m", "right-of": "hall" }], ...more.file } };
  const house = { inner_mm: 120, outer_mm: 300, openings: [], places: [], furniture: [], stairs: [], ...more.house,
    rooms: [{ good: true, inside: true, storey: 0, outline_mm: rectangle(0, 0, 3000, 6000) }, { good: true, inside: true, storey: 0, outline_mm: rectangle(3120, 0, 4200, 6000) }] };
  return { file, drawing: { house } };
}

test("a stroke from wall to wall divides: on the grid, a wall between; the room beyond stays at its point", () => {
  const result = strokeAcross(site(), 0, [1070, 300], [1050, 5900], false);
  assert.deepEqual(edits(result.edits), ["rooms[0].size 1 x 6 m", "rooms[1].right-of null", "rooms[1].at 3.12 x 0 m", "rooms[2] {name: room, size: 1.88 x 6 m, right-of: hall}"]);
  assert.equal(result.words, "1.00 m and 1.88 m wide");
  assert.deepEqual(result.at, [1060, 3100]);
});

test("a stroke from left to right makes a room behind", () => {
  assert.deepEqual(edits(strokeAcross(site(), 0, [3200, 2050], [7200, 2070], false).edits), ["rooms[1].size 4.2 x 2 m", "rooms[2] {name: room, size: 4.2 x 3.88 m, behind: kitchen}"]);
});

test("a wall in line with one elsewhere falls in line with it, but not with Alt", () => {
  const two = site();
  two.drawing.house.rooms.push({ good: true, inside: true, storey: 0, outline_mm: rectangle(-2000, 0, 1880, 2030) });
  two.file.building.rooms.push({ name: "store", size: "1.88 x 2.03 m", at: "-2 x 0 m" });
  assert.match(strokeAcross(two, 0, [100, 2120], [2900, 2120], false).words, /^2\.03 m and 3\.85 m deep/);
  assert.match(strokeAcross(two, 0, [100, 2120], [2900, 2120], true).words, /^2\.06 m and/);
});

test("what is no stroke across is none: short, wide, in no room, in a room of many corners", () => {
  assert.deepEqual(strokeAcross(site(), 0, [1000, 300], [1000, 3000], false).edits, []);
  assert.match(strokeAcross(site(), 0, [1000, 300], [1000, 3000], false).words, /on to the wall across/);
  assert.equal(strokeAcross(site(), 0, [300, 300], [2600, 5800], false), null);
  assert.equal(strokeAcross(site(), 0, [9000, 300], [9000, 5800], false), null);
  const bent = site();
  bent.drawing.house.rooms[0].outline_mm = [0, 0, 3000, 0, 3000, 6000, 1500, 6000, 1500, 5500, 0, 5500];
  assert.equal(strokeAcross(bent, 0, [1000, 300], [1000, 5300], false), null);
});

test("what is beyond the wall goes with the new room and stays where it is; what is before it stays in its room", () => {
  const full = site({
    file: {
      openings: [{ door: "front door", room: "hall", wall: "front", "from-left": "500 mm" }, { is: "window", room: "hall", wall: "front", "from-left": "1.9 m" }, { room: "hall", to: "kitchen" }, { room: "kitchen", to: "hall" }],
      places: [{ is: "panel", room: "hall", corner: "back right" }, { keypad: "keypad", room: "hall", wall: "left", "from-left": "1 m" }, { device: "motion", room: "hall", at: "2 x 1 m", towards: "2 x 3 m" }],
      furniture: [{ name: "chest", room: "hall", at: "1.5 x 2 m", size: "1 x 0.5 m" }],
    },
    house: {
      /* The left corner of a front wall, as one stands in the room before it, is the one to the right on the sheet. */
      openings: [{ good: true, near_mm: [2500, 0, 1600, 0], far_mm: [2500, -300, 1600, -300] }, { good: true, near_mm: [1100, 0, 200, 0], far_mm: [1100, -300, 200, -300] },
        { good: true, near_mm: [3000, 2000, 3000, 2900], far_mm: [3120, 2000, 3120, 2900] }, { good: true, near_mm: [3120, 4900, 3120, 4000], far_mm: [3000, 4900, 3000, 4000] }],
      places: [{ good: true, at_mm: [3000, 6000] }, { good: true, at_mm: [0, 5000] }, { good: true, at_mm: [2000, 1000] }],
      furniture: [{ corners_mm: rectangle(1500, 2000, 1000, 500) }],
    },
  });
  const made = edits(divideRoom(full, 0, 0, 1200)).filter((one) => !one.startsWith("rooms"));
  assert.deepEqual(made, ["openings[0].room room", "openings[0].from-left 500 mm", "openings[1].from-left 100 mm", "openings[2].room room", "openings[3].to room",
    "places[0].room room", "places[2].room room", "places[2].at 0.68 x 1 m", "places[2].towards 0.68 x 3 m", "furniture[0].room room", "furniture[0].at 0.18 x 2 m"]);
});

test("in halves: on the grid, and none where half would be no room", () => {
  assert.deepEqual(edits(halved(site(), 1, "behind")), ["rooms[1].size 4.2 x 2.95 m", "rooms[2] {name: room, size: 4.2 x 2.93 m, behind: kitchen}"]);
  const narrow = site();
  narrow.drawing.house.rooms[0].outline_mm = rectangle(0, 0, 900, 6000);
  assert.deepEqual(halved(narrow, 0, "right-of"), []);
});
