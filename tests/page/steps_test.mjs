// Steps of a routine: added, moved, taken out; and what is left to spare as a dimension line.
import { VERBS, added, newRoutine, stepOf, swapped, takenOut } from "../../page/steps.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);
const routines = [{ name: "home", steps: [{ who: "child", at: "15:20..15:50", come: "back way" }, { who: "child", in: "6..10 s", unset: "pad" }] }];

test("a step as one line of the file", [...same(stepOf("child", "come", "back way", '"15:20..15:50"'), '{who: child, at: "15:20..15:50", come: back way}'), ...same(stepOf("child", "unset", "pad", "4..9 s"), '{who: child, in: 4..9 s, unset: pad}'),
  ...same(stepOf("child", "set", "part at hall pad", "5 s"), '{who: child, in: 5 s, set: part, keypad: hall pad}'), ...same(stepOf("child", "wait", undefined, "1..2 min"), '{who: child, in: 1..2 min, wait: yes}')]);
test("added behind the last", same(added(routines, 0, "{x: y}"), [{ path: "routines[0].steps[2]", value: "{x: y}" }]));
test("taken out", same(takenOut(0, 1), [{ path: "routines[0].steps[1]", value: null }]));
test("one step later: both change places, the time of day stays first", same(swapped(routines, 0, 0, 1), [{ path: "routines[0].steps[0]", value: '{at: "15:20..15:50", who: child, unset: pad}' }, { path: "routines[0].steps[1]", value: "{in: 6..10 s, who: child, come: back way}" }]));
test("pauses go with their steps", same(swapped([{ steps: [{ at: "1:00", go: "w" }, { in: "2 s", pass: "a", maybe: false }, { in: "5 s", pass: "b", maybe: true }] }], 0, 2, -1).map((one) => one.value), ["{in: 5 s, pass: b, maybe: yes}", "{in: 2 s, pass: a}"]));
test("the last one goes no later", same(swapped(routines, 0, 1, 1), []));
test("one more routine", same(newRoutine({ routines }, "milk", "farmer", "yard way", "05:00..05:20"), [{ path: "routines[1]", value: '{name: milk, who: farmer, steps: [{at: "05:00..05:20", come: yard way}]}' }]));
test("only what the site has is offered", same(VERBS.map((verb) => verb.things({ keypads: [{ name: "pad" }] }).length), [0, 0, 0, 0, 0, 0, 1, 1, 3, 0, 0]));
console.log(`1..${count}`);
