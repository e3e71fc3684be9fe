// Where one stands, as it is written into the address and read again.
import { placeFrom, placeOf } from "../../page/place.js";

let count = 0;
function test(name, got, wanted) {
  count += 1;
  const good = JSON.stringify(got) === JSON.stringify(wanted);
  console.log(`${good ? "ok" : "not ok"} ${count} - ${name}`);
  if (!good) console.log(`# got    ${JSON.stringify(got)}\n# wanted ${JSON.stringify(wanted)}`);
  if (!good) process.exitCode = 1;
}
const there = (place) => placeFrom(decodeURIComponent(placeOf(place)));

test("nothing chosen leaves nothing", [placeOf({ subject: null, second: null, finding: null }), placeFrom(null), placeFrom("")], ["", null, null]);
test("a thing is readable as the file has it", placeOf({ subject: "building.rooms[2]", second: null, finding: null }), "building.rooms[2]");
test("the start of a story is a second too", placeOf({ subject: "zones[5]", second: 0, finding: null }), "zones[5]/0");
for (const place of [{ subject: "zones[5]", second: 412, finding: "routine.false-alarm zone 6 \"side/door\" ü" }, { subject: null, second: 0, finding: "check.stopped " },
  { subject: "zones[5]", second: null, finding: null }, { subject: "break-ins.protect[0]", second: null, finding: "break-in.late till" }]) test(`there and back: ${placeOf(place)}`, there(place), place);
test("what is no place is none", placeFrom("zones/x/"), { subject: null, second: null, finding: null });
console.log(`1..${count}`);
