// The programming sheet to tick off: what belongs together, what is keyed, what changed since.
import { groupsOf, left, spaced, stateOfLine } from "../../page/keying.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const lines = [{ part: "panel", number: null, thing: "", key: "exit-delay.full", value: "60 s" }, { part: "zone", number: 6, thing: "side door", key: "behaviour", value: "entry" },
  { part: "zone", number: 6, thing: "side door", key: "serial", value: "0417 2215" }, { part: "zone", number: 7, thing: "window", key: "behaviour", value: "perimeter" }];
const groups = groupsOf(lines);
test("lines of one thing are one group, in the order of the sheet", same(groups.map((group) => [group.title, group.lines.length]), [["Panel", 1], ["Zone 6 · side door", 2], ["Zone 7 · window", 1]]));
test("each line has a name of its own", same(new Set(groups.flatMap((group) => group.lines.map((line) => line.id))).size, lines.length));
const keyed = { "zone 6 side door behaviour": "perimeter", "zone 7 window behaviour": "perimeter" };
test("keyed, keyed as something else, not keyed", same(groups.flatMap((group) => group.lines.map((line) => stateOfLine(line, keyed))), ["open", "changed", "open", "keyed"]));
test("what was keyed as something else is still to be keyed", same(groups.map((group) => left(group, keyed)), [1, 2, 0]));
test("serial numbers in fours, nothing else", [...same(spaced({ key: "serial", value: "0417 2215" }), "0417 2215"), ...same(spaced({ key: "serial", value: "041722159" }), "0417 2215 9"), ...same(spaced({ key: "behaviour", value: "perimeter" }), "perimeter")]);
console.log(`1..${count}`);
