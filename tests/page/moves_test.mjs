// Where a dragged thing comes to rest, and what is then written. The house is worked by hand: two rooms side by side, 4 x 3 m each,
// 120 mm of wall between; x to the right, y to the back.
import { lengthOf, pairOf, shown, written, writtenPair } from "../../page/measures.js";
import { changed, moveBlock, moveContact, moveOpening, movePlace, movedBy, quoted, sortOf } from "../../page/moves.js";
import { cornersOf, edgesOf, isNamed, roomAt } from "../../page/snap.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const all = (make, pairs) => pairs.flatMap(([given, wanted]) => { const got = JSON.stringify(make(given)); return got === JSON.stringify(wanted) ? [] : [`${JSON.stringify(given)}: ${got}, not ${JSON.stringify(wanted)}`]; });
const same = (got, wanted) => all(() => got, [["it", wanted]]);

test("lengths as people type them; 13 ft 9 in are 4191 mm by the inch of 25.4 mm", [...all(lengthOf, [["4.2", 4200], ["4,2 m", 4200], ["420 cm", 4200], ["13 ft 9 in", 4191], ["13′ 9″", 4191], ["850mm", 850], ["6 in", 152],
  ["0", 0], ["-1", null], ["four", null], ["", null], ["4 2", null], ["1e3", null]]), ...all((typed) => pairOf(typed, true), [["4.2 x 3.1", [4200, 3100]], ["420 x 310 cm", [4200, 3100]], ["-0.5 × 1 m", [-500, 1000]], ["4.2", null], ["4.2 x", null]])]);
test("lengths as the file has them and as they are read", [...all(written, [[850, "850 mm"], [4200, "4.2 m"], [2480, "2.48 m"], [0, "0 mm"]]), ...all(writtenPair, [[[4200, 310], "4.2 x 0.31 m"]]), ...all(shown, [[4200, "4.20 m"], [4191, "4.191 m"]])]);
test("texts that YAML would take for something else are quoted", all(quoted, [["front left", "front left"], ["4.2 m", "4.2 m"], ["-1 x 0 m", "-1 x 0 m"], ["yes", '"yes"'], ["a: b", '"a: b"'], ["x, y", '"x, y"']]));

const rectangle = (x, y, wide, deep) => [x, y, x + wide, y, x + wide, y + deep, x, y + deep];
function site() {
  const file = {
    devices: [{ name: "hall motion" }, { name: "door contact", on: "front door" }, { name: "bell" }],
    doors: [{ name: "front door", outside: true }],
    zones: [{ number: 1, says: "hall", device: "hall motion" }, { number: 2, says: "door", device: "door contact" }],
    building: {
      rooms: [{ name: "hall", size: "4 x 3 m" }, { name: "office", size: "4 x 3 m", "right-of": "hall" }],
      openings: [{ door: "front door", room: "hall", wall: "front", is: "door" }, { is: "window", name: "office window", room: "office", wall: "back" }, { is: "door", room: "hall", to: "office" }],
      places: [{ device: "hall motion", room: "hall", corner: "back left", height: "2.3 m" }, { is: "panel", room: "office", wall: "right" }],
      furniture: [{ name: "desk", room: "office", at: "1 x 1 m", size: "1.6 x 0.8 m" }],
    },
  };
  const house = {
    rooms: [{ good: true, inside: true, storey: 0, outline_mm: rectangle(0, 0, 4000, 3000) }, { good: true, inside: true, storey: 0, outline_mm: rectangle(4120, 0, 4000, 3000) }],
    openings: [{ good: true, flat: false, room: 0, other: -1, edge: 0, near_mm: [2450, 0, 1550, 0], far_mm: [2450, -300, 1550, -300] },
      { good: true, flat: false, room: 1, other: -1, edge: 2, near_mm: [5520, 3000, 6720, 3000], far_mm: [5520, 3300, 6720, 3300] },
      { good: true, flat: false, room: 0, other: 1, edge: 1, near_mm: [4000, 1950, 4000, 1050], far_mm: [4120, 1950, 4120, 1050] }],
    places: [{ good: true, room: 0, at_mm: [0, 3000], into: [1, -1] }, { good: true, room: 1, at_mm: [8120, 1500], into: [-1, 0] }],
    furniture: [{ good: true, corners_mm: rectangle(5120, 1000, 1600, 800) }], stairs: [],
  };
  return { file, drawing: { house }, lines: [{ part: "zone", number: 1, thing: "hall", key: "senses", value: "motion" }, { part: "zone", number: 2, thing: "door", key: "senses", value: "contact" }] };
}
const edits = (moved) => Object.fromEntries((moved?.edits ?? []).map(({ path, value }) => [path, value]));

test("edges, named walls, corners, rooms", [
  ...same(edgesOf(rectangle(0, 0, 4, 3)).map((edge) => edge.side).join(" "), "front right back left"),
  ...same(cornersOf(rectangle(0, 0, 4, 3)).map((one) => one.at), [[0, 0], [4, 0], [4, 3], [0, 3]]),
  // An L with two edges in front: the longer one is the named one.
  ...same(edgesOf([0, 0, 3, 0, 3, 2, 8, 2, 8, 6, 0, 6]).filter((edge) => edge.side === "front").map((edge) => isNamed([0, 0, 3, 0, 3, 2, 8, 2, 8, 6, 0, 6], edge)), [false, true]),
  ...all((at) => roomAt(site().drawing.house, 0, at), [[[100, 100], 0], [[4200, 100], 1], [[4060, 100], -1], [[-1, 5], -1]])]);

test("a motion detector rests in a corner, or on a wall, never in the open", [
  ...same(sortOf(site(), site().file.building.places[0]), "motion"),
  ...same(edits(movePlace(site(), 0, 0, [3800, 150])), { "building.places[0].corner": "front right" }),
  ...same(edits(movePlace(site(), 0, 0, [2000, 1000])), { "building.places[0].corner": null, "building.places[0].wall": "front", "building.places[0].from-left": "2 m" }),
  ...same(edits(movePlace(site(), 0, 0, [8000, 2900])), { "building.places[0].room": "office", "building.places[0].corner": "back right" }),
  // Within the wall between both rooms it hangs on the nearer side of it.
  ...same(edits(movePlace(site(), 0, 0, [4100, 1500]))["building.places[0].room"], "office")]);
test("from-left counts from the left corner as one faces the wall from within: of the back wall from x = 0",
  same(edits(movePlace(site(), 0, 0, [1000, 2600], true)), { "building.places[0].corner": null, "building.places[0].wall": "back", "building.places[0].from-left": "1 m" }));
test("moved along a wall to its very end it is in the corner", same(edits(movePlace(site(), 0, 0, [4000, 2996], true)), { "building.places[0].corner": "back right" }));
test("what is put where it was is no edit", same(edits(movePlace(site(), 0, 0, [20, 2950])), {}));

test("a door slides along its wall and stops at its ends", [
  ...same(edits(moveOpening(site(), 0, 0, [1000, 100])), { "building.openings[0].from-left": "2.55 m" }),
  ...same(edits(moveOpening(site(), 0, 0, [-300, 0])), { "building.openings[0].from-left": "3.1 m" })]);
// The door to the office takes 1.05 to 1.95 m of that wall already: the other one stops at its jamb.
test("half a metre past a corner it jumps to the wall there; what it leads to follows", [
  ...same(edits(moveOpening(site(), 0, 0, [3900, 1500])), { "building.openings[0].wall": "right", "building.openings[0].from-left": "1.95 m", "building.openings[0].to": "office" }),
  ...same(edits(moveOpening(site(), 0, 0, [8100, 1500])), { "building.openings[0].room": "office", "building.openings[0].wall": "right", "building.openings[0].from-left": "1.05 m" })]);
test("a door between two rooms keeps what it leads to", same(edits(moveOpening(site(), 0, 2, [4000, 1000])), { "building.openings[2].from-left": "1.55 m" }));

test("a contact goes to the nearest opening, which becomes a door where it is none yet", [
  ...same(movedBy(site(), "zones[1]"), { list: "contact", index: 1, opening: 0 }),
  ...same(edits(moveContact(site(), 0, 1, [6000, 3200])), { "doors[1]": "{name: office window, outside: yes}", "building.openings[1].door": "office window", "devices[1].on": "office window" }),
  ...same(edits(moveContact(site(), 0, 1, [2000, 0])), {})]);
test("furniture keeps within its room and stands against a wall that is near", [
  ...same(edits(moveBlock(site(), 0, "furniture", 0, [8000, 2000])), { "building.furniture[0].at": "2.4 x 1.6 m" }),
  ...same(edits(moveBlock(site(), 0, "furniture", 0, [1000, 1000])), { "building.furniture[0].room": "hall", "building.furniture[0].at": "0.2 x 0.6 m" })]);
test("only what differs is written", same(changed("a", { x: "1 m", y: "2 m" }, { x: "1 m", y: null, z: null, w: "3 m" }), [{ path: "a.y", value: null }, { path: "a.w", value: "3 m" }]));
console.log(`1..${count}`);
