// What is typed while a house is begun, as edits of its file.
import assert from "node:assert/strict";
import { test } from "node:test";
import { bare, besideEdits, between, closedNeighbours, contactEdits, contacts, deviceEdits, innerDoorEdits, namedContacts, openingEdits, roomEdits, routineEdits, routineOffers } from "../../page/survey.js";
import { yaml } from "../../page/yaml.js";

const floor = { panel: {}, areas: [{ name: "house" }], keypads: [{ name: "keypad" }], building: { rooms: [{ name: "ground floor", size: "9 x 7 m", at: "0 x 0 m" }] } };
const divided = { ...floor, building: { rooms: [{ name: "hall", size: "2 x 7 m" }, { name: "living room", size: "4 x 7 m", "right-of": "hall" }, { name: "room", size: "2.76 x 7 m", "right-of": "living room" }] } };
const offers = { words: [], free: { radio: [3, 4, 5, 6], wired: [1, 2] } };
const devices = [
  { name: "bulky-contact", kind: "sensor", senses: "contact", radio: true, suits: true }, { name: "foreign-contact", kind: "sensor", senses: "contact", radio: true, suits: false },
  { name: "slim-contact", kind: "sensor", senses: "contact", radio: true, suits: true }, { name: "corner", kind: "sensor", senses: "motion", radio: false, curtain: false, overlooks: false, suits: true },
  { name: "for-pets", kind: "sensor", senses: "motion", radio: true, curtain: false, overlooks: true, suits: true }, { name: "horn", kind: "siren", senses: "motion", radio: false, suits: true },
];
const values = (result) => result.edits.map((edit) => `${edit.path} ${edit.value}`);

test("rooms share what is left of the floor, less the walls between", () => {
  // 9 m less two walls of 12 cm and a hall of 2 m: 6.76 m, 3.38 m each.
  assert.deepEqual(values(roomEdits("hall 2, kitchen, bedroom", floor)), ["building.rooms[0].name hall", "building.rooms[0].size 2 x 7 m",
    "building.rooms[1] {name: kitchen, size: 3.38 x 7 m, right-of: hall}", "building.rooms[2] {name: bedroom, size: 3.38 x 7 m, right-of: kitchen}"]);
  assert.equal(roomEdits("hall 200 cm; kitchen", floor).edits[1].value, "2 x 7 m");
});

test("widths that do not fit, and names twice, are told", () => {
  assert.match(roomEdits("hall 5, kitchen 5", floor).wrong, /10 m and the floor is 9 m/);
  assert.match(roomEdits("hall 9, kitchen", floor).wrong, /walls between/);
  assert.match(roomEdits("hall, hall", floor).wrong, /one name/);
  assert.match(roomEdits(" , ", floor).wrong, /name the rooms/);
  assert.match(roomEdits("hall", { building: undefined }).wrong, /no measures/);
});

test("an opening is called as people call it, and stands in its room and wall", () => {
  const last = (typed) => values(openingEdits(typed, divided))[1];
  assert.equal(last("front door hall front"), "building.openings[0] {door: front door, room: hall, wall: front}");
  assert.equal(last("hall window left"), "building.openings[0] {door: hall window, is: window, room: hall, wall: left}");
  assert.equal(last("window living room back"), "building.openings[0] {door: living room window, is: window, room: living room, wall: back}");
  assert.deepEqual(values(openingEdits("a window room back, window room back, door room right", divided)).filter((one) => one.startsWith("doors")),
    ["doors[0] {name: room window, outside: yes}", "doors[1] {name: room window 2, outside: yes}", "doors[2] {name: room door, outside: yes}"]);
  assert.equal(last("door hall front"), "building.openings[0] {door: front door, room: hall, wall: front}");
  assert.equal(last("door hall left 40 cm from left"), "building.openings[0] {door: hall door, room: hall, wall: left, from-left: 400 mm}");
  assert.deepEqual(values(openingEdits("door hall front, door hall front 3.2 from the left", divided)).filter((one) => one.startsWith("doors")), ["doors[0] {name: front door, outside: yes}", "doors[1] {name: hall door, outside: yes}"]);
  const yard = { ...divided, building: { ...divided.building, rooms: [...divided.building.rooms, { name: "yard", is: "yard" }] } };
  assert.deepEqual(values(openingEdits("yard door hall yard", yard)), ["doors[0] {name: yard door, outside: yes}", "building.openings[0] {door: yard door, room: hall, to: yard}"]);
  assert.deepEqual(values(openingEdits("door hall yard", yard))[0], "doors[0] {name: hall door, outside: yes}");
  assert.deepEqual(values(openingEdits("front door hall front, room window back", divided)), ["doors[0] {name: front door, outside: yes}", "building.openings[0] {door: front door, room: hall, wall: front}",
    "doors[1] {name: room window, outside: yes}", "building.openings[1] {door: room window, is: window, room: room, wall: back}"]);
});

test("an inner door is said by both of its rooms; of one, it is asked to which", () => {
  assert.deepEqual(values(openingEdits("door hall living room, door living room room", divided)), ["building.openings[0] {room: hall, to: living room}", "building.openings[1] {room: living room, to: room}"]);
  assert.match(openingEdits("door hall", divided).wrong, /to which other room/);
});

test("a room is said beside another, or at its point; one that is there already is not made twice", () => {
  assert.deepEqual(values(besideEdits("room store 2 x 3.5 m behind hall, larder 1.5 x 2 left of store", divided)).slice(0, 1), ["building.rooms[3] {name: store, size: 2 x 3.5 m, behind: hall}"]);
  assert.deepEqual(values(besideEdits("store 2 x 3 at 6.24 x 0 m", divided)), ["building.rooms[3] {name: store, at: 6.24 x 0 m, size: 2 x 3 m}"]);
  assert.match(besideEdits("room hall 2 x 3 right of room", divided).wrong, /already/);
  assert.match(besideEdits("room store 2 x 3 right of attic", divided).wrong, /no attic/);
  assert.match(besideEdits("room store", divided).wrong, /wide x deep/);
});

test("a contact goes on the openings that are named, and no other", () => {
  const open = { ...divided, doors: [{ name: "front door", outside: true }, { name: "side door", outside: true }], zones: [], devices: [] };
  const made = values(namedContacts("contact on the side door", open, offers, devices));
  assert.equal(made.filter((one) => one.startsWith("devices")).join(), "devices[0] {name: side door contact, profile: slim-contact, on: side door}");
  assert.match(namedContacts("contact attic window", open, offers, devices).wrong, /front door, side door/);
});

test("what is missing of an opening is asked for", () => {
  assert.match(openingEdits("front door", divided).wrong, /which room: hall, living room, room/);
  assert.match(openingEdits("hall front", divided).wrong, /a door or a window/);
  assert.match(openingEdits("front door hall", divided).wrong, /which wall/);
  assert.match(openingEdits("front door hall front, hatch", divided).wrong, /“hatch”: say in which room/);
  assert.match(openingEdits("front door hall front, front door hall back", divided).wrong, /already/);
  assert.match(openingEdits("front door hall front", { ...divided, doors: [{ name: "front door" }] }).wrong, /already/);
});

test("inner doors join neighbours that no opening joins", () => {
  assert.deepEqual(closedNeighbours(divided), [["hall", "living room"], ["living room", "room"]]);
  assert.deepEqual(values(innerDoorEdits(divided)), ["building.openings[0] {room: hall, to: living room}", "building.openings[1] {room: living room, to: room}"]);
  const one = { ...divided, building: { ...divided.building, openings: [{ room: "living room", to: "hall" }] } };
  assert.deepEqual(closedNeighbours(one), [["living room", "room"]]);
});

const open = { ...divided, doors: [{ name: "front door", outside: true }, { name: "room window", outside: true }, { name: "cellar door" }],
  building: { ...divided.building, openings: [{ door: "front door", room: "hall", wall: "front" }, { door: "room window", is: "window", room: "room", wall: "back" }, { room: "hall", to: "living room" }, { room: "living room", to: "room" }] } };

test("a contact on each bare opening: entry where one comes in, perimeter where not, numbers that take radio", () => {
  assert.deepEqual(bare(open), ["front door", "room window"]);
  const written = values(contactEdits(open, offers, contacts(devices)[0]));
  assert.ok(written.includes("panel.entry-delays {front door: 30 s}"), String(written));
  assert.ok(written.includes("devices[0] {name: front door contact, profile: slim-contact, on: front door}"), String(written));
  assert.ok(written.some((one) => /^zones\[0\] .*number: 3,.*behaviour: entry, delay: front door/.test(one)), String(written));
  assert.ok(written.some((one) => /^zones\[1\] .*number: 4,.*behaviour: perimeter/.test(one)), String(written));
  assert.ok(written.includes("ways[0] {name: front door way, door: front door, closes: 1..3 s, keypad: keypad}"), String(written));
  assert.match(contactEdits(open, { ...offers, free: { radio: [3], wired: [] } }, contacts(devices)[0]).wrong, /1 free numbers and 2/);
  assert.match(contactEdits(open, offers, undefined).wrong, /no contact/);
});

test("a motion detector on the way to the keypad follows the door, another is interior; with pets one that overlooks them", () => {
  const with_keypad = { ...open, building: { ...open.building, places: [{ keypad: "keypad", room: "living room" }] } };
  assert.deepEqual(between(with_keypad, "hall", "room"), ["hall", "living room", "room"]);
  const zone = (typed, file) => deviceEdits(typed, file, offers, devices).edits[1].value;
  assert.match(zone("motion hall back left", with_keypad), /number: 1,.*behaviour: follower, hold: 5 s/);
  assert.match(zone("motion room back", with_keypad), /behaviour: interior/);
  const cat = { ...with_keypad, people: [{ name: "cat", animal: true }] };
  assert.match(deviceEdits("motion room back", cat, offers, devices).edits[0].value, /for-pets/);
});

test("panel, keypad and siren have their places; what is missing is asked for", () => {
  assert.deepEqual(values(deviceEdits("panel room right front", open, offers, devices)), ["building.places[0] {is: panel, room: room, corner: front right}"]);
  assert.deepEqual(values(deviceEdits("keypad hall right", open, offers, devices)), ["building.places[0] {keypad: keypad, room: hall, wall: right}"]);
  assert.deepEqual(values(deviceEdits("siren hall", open, offers, devices)), ["devices[0] {name: siren, profile: horn}", "building.places[0] {device: siren, room: hall}"]);
  assert.match(deviceEdits("keypad hall right, motion hall back, motion room back", open, offers, devices).edits[5].value, /number: 2,/);
  assert.match(deviceEdits("keypad hall right, keypad hall left", open, offers, devices).wrong, /every keypad/);
  assert.match(deviceEdits("lamp hall", open, offers, devices).wrong, /panel, keypad, siren or motion/);
  assert.match(deviceEdits("motion hall", open, offers, devices).wrong, /corner/);
  assert.match(deviceEdits("motion attic back", open, offers, devices).wrong, /which room/);
});

test("routines are offered from who lives there, once each", () => {
  const lived = { ...open, people: [{ name: "adult" }, { name: "child", walks: "child" }, { name: "pet", animal: true }], ways: [{ name: "front door way" }, { name: "back door way" }] };
  const offered = routineOffers(lived);
  assert.deepEqual(offered.map((one) => one.name), ["last one out", "first one home", "to bed, night set", "child home alone"]);
  const child = offered.find((one) => one.name === "child home alone");
  assert.equal(child.who, "child");
  assert.match(routineEdits(child, child.way, "15:20-15:50", lived).edits[0].value, /starts: \{house: full\}, steps: \[\{at: "15:20..15:50", come: back door way\}, \{mistype: keypad, maybe: yes\}/);
  assert.match(routineEdits(child, child.way, "after school", lived).wrong, /from-to/);
  assert.equal(routineOffers({ ...lived, routines: [{ name: "last one out" }] }).length, 3);
  assert.deepEqual(routineOffers({ ...lived, people: [] }), []);
});

test("a value of the file is never more than a value", () => {
  // What YAML 1.2 and older readers take for something else (yaml.org/spec/1.2.2, chapters 6.9, 7.3 and 10) is quoted.
  assert.equal(yaml(["yes", "no", "null", "1", "1.5", "on"]), '["yes", "no", "null", "1", "1.5", "on"]');
  assert.equal(yaml('a", b: {c'), '"a\\", b: {c"');
  assert.equal(yaml("x: y"), '"x: y"');
  assert.equal(yaml("# no"), '"# no"');
  assert.equal(yaml({ on: "front door", "front door": "30 s", gone: undefined }), "{on: front door, front door: 30 s}");
  assert.equal(yaml("Küche"), "Küche");
});
