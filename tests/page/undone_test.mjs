// What a step of undo changed, and where on the page it is shown.
import { faceOf, firstDifference, keysOf } from "../../page/undone.js";

let count = 0;
function test(name, got, wanted) {
  count += 1;
  const good = JSON.stringify(got) === JSON.stringify(wanted);
  console.log(`${good ? "ok" : "not ok"} ${count} - ${name}`);
  if (!good) {
    console.log(`# got ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`);
    process.exitCode = 1;
  }
}

const FILE = {
  panel: { "exit-delay": "45 s" },
  devices: [{ name: "contact", on: "front door" }, { name: "motion" }],
  zones: [{ number: 1, device: "contact", in: { night: "out" } }, { number: 2, device: "motion", behaviour: "interior" }],
  building: { places: [{ device: "motion", corner: "back left" }] },
};
const other = (change) => { const file = structuredClone(FILE); change(file); return file; };

test("nothing", firstDifference(FILE, other(() => {})), null);
test("a value", firstDifference(FILE, other((file) => { file.zones[1].behaviour = "follower"; })), "zones[1].behaviour");
test("one that came, one that went", [firstDifference(FILE, other((file) => { file.zones[0].chime = true; })), firstDifference(FILE, other((file) => { delete file.zones[0].in.night; }))], ["zones[0].chime", "zones[0].in.night"]);
test("a thing that came last", firstDifference(FILE, other((file) => { file.zones.push({ number: 3 }); })), "zones[2]");
test("a thing that went from between", firstDifference(FILE, other((file) => { file.zones.shift(); })), "zones[0]");
test("a part that came", firstDifference({}, FILE), "panel");
test("a setting that is of no list", firstDifference(FILE, other((file) => { file.panel["exit-delay"] = "30 s"; })), "panel.exit-delay");
test("a place on the drawing", firstDifference(FILE, other((file) => { file.building.places[0].corner = "back right"; })), "building.places[0].corner");
test("a value of a zone is in its cell, else at its number", keysOf(FILE, "zones[1].behaviour"), ["zones[1].behaviour", "zone-1-behaviour", "zones[1]", "building.places[0]"]);
test("a value of a device is at its zone", keysOf(FILE, "devices[0].on"), ["devices[0].on", "devices[0]", "zones[0]"]);
test("on which face", ["routines[0].steps[1].in", "people[0]", "zones[0]", "break-ins.protect[0].name", "building.rooms[0]"].map(faceOf), ["routines", "routines", "bench", "routines", "bench"]);
console.log(`1..${count}`);
