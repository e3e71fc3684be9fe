// Rehearsing: what can be done where, and what was acted as a routine.
import { act, exactly, modesOf, roughly, routineOf, stageOf, toldAs, verbsOf } from "../../page/rehearse.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const site = { lines: [{ part: "zone", number: 2, thing: "shop floor", key: "senses", value: "motion" }, { part: "zone", number: 4, thing: "smoke", key: "senses", value: "smoke" }], file: {
  panel: { modes: [{ name: "stocktaking" }] }, doors: [{ name: "yard door" }], keypads: [{ name: "pad" }], devices: [{ name: "contact", on: "yard door" }, { name: "eye" }, { name: "button" }, { name: "smoke" }],
  zones: [{ number: 1, device: "contact", says: "yard door" }, { number: 2, device: "eye", says: ["shop", "floor"] }, { number: 3, device: "button", says: "till", behaviour: "hold-up" }, { number: 4, device: "smoke", says: "smoke" }],
  building: { openings: [{ door: "yard door" }, { is: "window" }], places: [{ keypad: "pad" }, { device: "eye" }, { is: "mains" }] } } };
const stage = (path) => { const found = stageOf(site, path); return found && `${found.kind}: ${found.name}`; };
test("doors, keypads, spaces, buttons; nothing at a window, the mains, a smoke detector", same(["zones[0]", "building.openings[0]", "zones[1]", "building.places[1]", "zones[2]", "building.places[0]", "building.openings[1]", "building.places[2]", "zones[3]", null].map(stage),
  ["door: yard door", "door: yard door", "space: shop floor", "space: shop floor", "button: till", "keypad: pad", null, null, null, null]));
test("every mode can be set at a keypad, and no digit is keyed", [...same(modesOf(site.file), ["full", "part", "night", "stocktaking"]),
  ...same(verbsOf({ kind: "keypad", name: "pad" }, modesOf(site.file)).length, 6), ...same(/\d/.test(JSON.stringify(verbsOf({ kind: "keypad", name: "pad" }, []).map(([words]) => words))), false)]);
let acted = { starts: { shop: "full" }, acts: [] };
acted = act(acted, "baker", [[0, { open: "yard door" }], [2, { close: "yard door" }]], 3);
acted = act(acted, "dog", [[0, { pass: "shop floor" }]], 7);
acted = act(acted, "baker", [[0, { unset: "pad" }]], 12);
test("each person's steps count from his own last", same(routineOf(acted, "x", exactly).steps.map((step) => [step.who, step.in]), [["baker", "3 s"], ["baker", "2 s"], ["dog", "7 s"], ["baker", "7 s"]]));
test("acting earlier drops what came later", same(act(acted, "baker", [[0, { pass: "shop floor" }]], 7).acts.map((one) => one.at_s), [3, 5, 7, 7]));
test("kept as a habit: from-to, and no false alarm is expected any more", [...same([0, 7, 60].map(roughly), ["0..0 s", "4..10 s", "42..84 s"]), ...same("expects" in routineOf(acted, "x", roughly), false), ...same(toldAs(acted).expects.includes("siren"), true)]);
console.log(`1..${count}`);
