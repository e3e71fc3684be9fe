// Cells of the schedule: what several zones have in common, filled down, taken out, copied.
import assert from "node:assert/strict";
import { test } from "node:test";
import { common, fillEdits, removeEdits, setEdits, tableOf } from "../../page/cells.js";
import { changesOf } from "../../page/paste.js";
import { added, pressed, zonesOf } from "../../page/several.js";

const file = {
  devices: [{ name: "door contact", serial: "0821 401" }, { name: "window contact" }],
  zones: [{ number: 1, says: ["front", "door"], device: "door contact", behaviour: "entry", delay: "front", reports: true, chime: true, supervised: true },
    { number: 2, says: ["hall", "window"], device: "window contact", behaviour: "perimeter", reports: true, chime: false, supervised: true },
    { number: 4, says: ["back", "door"], behaviour: "entry", delay: { full: "back", part: "front" }, reports: "no", chime: "yes", supervised: true }],
};
const edits = (list) => list.map(({ path, value }) => `${path} ${value}`);

test("what all of them have is known, what differs is various, what none has is nothing", () => {
  assert.equal(common(file, [0, 1, 2], "supervised"), "yes");
  assert.equal(common(file, [0, 1], "chime"), "various");
  assert.equal(common(file, [0, 1], "delay"), "front");
  assert.equal(common(file, [1], "delay"), null);
  assert.equal(common(file, [0, 2], "delay"), "various");
});

test("one value for all touches only those that have another, and gives no delay to what does not wait", () => {
  assert.deepEqual(edits(setEdits(file, [0, 1, 2], "chime", "yes")), ["zones[1].chime yes"]);
  assert.deepEqual(edits(setEdits(file, [0, 1, 2], "delay", "front")), ["zones[2].delay front"]);
});

test("filled down: the first into those below; nothing from above the table, no serial number, nothing that varies", () => {
  assert.deepEqual(edits(fillEdits(file, [0, 1, 2], "behaviour")), ["zones[1].behaviour entry", "zones[1].delay front"]);
  assert.deepEqual(edits(fillEdits(file, [1, 2], "reports")), ["zones[2].reports yes"]);
  assert.deepEqual([fillEdits(file, [-1, 0], "behaviour"), fillEdits(file, [0, 1], "serial"), fillEdits(file, [2, 0], "delay")], [[], [], []]);
});

test("taken out from the last to the first", () => assert.deepEqual(edits(removeEdits([0, 2, 1])), ["zones[2] null", "zones[1] null", "zones[0] null"]));

test("rows that are copied are read again as they were", () => {
  const text = tableOf(file, [0, 1]);
  assert.equal(text.split("\n")[0], "no.\tspoken name\tdevice\tbehaviour\tdelay\treports\tchime\tsupervised\tserial");
  assert.equal(text.split("\n")[1], "1\tfront door\tdoor contact\tentry\tfront\tyes\tyes\tyes\t0821 401");
  assert.deepEqual(changesOf(text, file, { behaviours: ["entry", "perimeter"] }), { changes: [], problems: [] });
  assert.deepEqual(changesOf(text.replace("perimeter", "entry"), file, { behaviours: ["entry", "perimeter"] }).changes.map(({ path }) => path), ["zones[1].behaviour"]);
});

test("pressed with Ctrl one more or one less, with Shift all between; other things among them are no zones", () => {
  assert.deepEqual(pressed(["zones[0]"], 2, 0, "one"), ["zones[0]", "zones[2]"]);
  assert.deepEqual(pressed(["zones[0]", "zones[2]"], 2, 0, "one"), ["zones[0]"]);
  assert.deepEqual(pressed(["zones[3]"], 1, 3, "range"), ["zones[3]", "zones[1]", "zones[2]"]);
  assert.deepEqual(added(["zones[0]"], "building.places[1]"), ["zones[0]", "building.places[1]"]);
  assert.deepEqual(zonesOf(["zones[2]", "building.places[1]", "zones[0]"]), [0, 2]);
});
