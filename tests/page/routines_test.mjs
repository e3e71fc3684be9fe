// From-to as people type it, and steps as one says them.
import { clockSpan, doneIn, fromTo, shownTime } from "../../page/routines.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const all = (make, pairs) => pairs.filter(([typed, wanted]) => make(typed) !== wanted).map(([typed, wanted]) => `${typed}: ${make(typed)}, not ${wanted}`);

test("from-to in seconds, minutes, hours", all(fromTo, [["4-9", "4..9 s"], ["5", "5 s"], ["about 6", "4..8 s"], ["1-2 min", "1..2 min"], [" 8..10 h ", "8..10 h"], ["2 to 3 s", "2..3 s"], ["0..20 s", "0..20 s"]]));
test("what is none is left to the bench to refuse", all(fromTo, [["soon", null], ["-3", null], ["4-", null], ["", null]]));
test("times of day", all(clockSpan, [["7:15-7:30", '"07:15..07:30"'], ["04:10..04:20", '"04:10..04:20"'], ["noon", null]]));
test("a from-to is shown as people write it, and understood as it is shown", all((written) => fromTo(shownTime(written)), [["4..9 s", "4..9 s"], ["1..2 min", "1..2 min"]]));
test("steps as one says them", all((step) => doneIn(JSON.parse(step)), [['{"come":"yard way","in":"2 s"}', "comes in by “yard way”"], ['{"unset":"pad","with":"code"}', "keys the code at the pad"], ['{"unset":"yes","with":"fob"}', "unsets with the fob"],
  ['{"pass":2}', "passes zone 2"], ['{"pass":"passage"}', "passes passage"], ['{"set":"full","keypad":"pad"}', "sets full at the pad"], ['{"in":"5 s"}', "waits"], ['{"mains":"lost"}', "mains lost"]]));
console.log(`1..${count}`);
