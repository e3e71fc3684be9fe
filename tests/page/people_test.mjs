// People and what is protected: what is sent for what was typed, and what somebody may come for.
import { goalsOf, timeOf } from "../../page/people.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

test("a time as people write it, nothing for no key, and what is none as a text, which the bench refuses", same(["4-9", " 2..3 s ", "10 min", "", "  ", "soon", "a: b"].map(timeOf), ["4..9 s", "2..3 s", "10 min", null, null, 'soon', '"a: b"']));
const places = [{ device: "x", room: "hall" }, { protects: "safe", room: "study" }, { is: "panel", room: "hall" }, { is: "mains", room: "hall" }, { is: "mains", room: "hall", only: true }, { is: "router", only: "yes", room: "hall" }, { keypad: "k", room: "hall" }];
test("a break-in may be for what is protected, the panel, and the only one of what it hangs on", same(goalsOf({ building: { places } }).map(([, index]) => index), [1, 2, 4, 5]));
test("without a drawing there is nothing", same(goalsOf({}), []));
console.log(`1..${count}`);
