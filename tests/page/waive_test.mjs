// What somebody answers for: the line that is written, what is missing before it can be, which line waives which finding.
import { lacking, refusal, waiverLine, waiverOf } from "../../page/waive.js";

let count = 0;
function same(name, got, wanted) {
  count += 1;
  console.log(`${got === wanted ? "ok" : "not ok"} ${count} - ${name}`);
  if (got === wanted) return;
  console.log(`# got ${got}`);
  process.exitCode = 1;
}

const finding = { id: "power.standby-short", about: "panel battery", headline: "too short", waiver: '{finding: power.standby-short, about: "panel battery", weight: fault, says: "too short", reason: "", by: "", until: YYYY-MM-DD}' };
const typed = { reason: 'a "bigger" one is ordered, $& too', by: "the owner", until: "2027-05-31" };
same("the line has what was typed, quotes and all", waiverLine(finding, typed), '{finding: power.standby-short, about: "panel battery", weight: fault, says: "too short", reason: "a \\"bigger\\" one is ordered, $& too", by: "the owner", until: 2027-05-31}');
same("nothing is missing", lacking(typed, "2027-05-31"), "");
same("nine letters are no reason", lacking({ ...typed, reason: "too short" }, "2027-01-01"), "Say why, in 10 letters or more.");
same("ten are", lacking({ ...typed, reason: "ten letter" }, "2027-01-01"), "");
same("somebody answers for it", lacking({ ...typed, by: "" }, "2027-01-01"), "Say who answers for it.");
same("until a day", lacking({ ...typed, until: "" }, "2027-01-01"), "Say on which day it is looked at again.");
same("not one that is past", lacking(typed, "2027-06-01"), "That day is past.");
same("what the bench gives a line for can be lived with", refusal(finding), "");
same("a search that was stopped cannot", /not finished/.test(refusal({ id: "check.stopped", waiver: null })), true);
same("nothing can before every routine was looked at", /not every routine/.test(refusal({ ...finding, waiver: null })), true);
const file = { waived: [{ finding: "x.y", about: "panel behind", says: "one" }, { finding: "x.y", about: "panel behind", says: "two" }, { finding: "routine.false-alarm", about: "zone 2 behaviour", routines: ["a"] }, { finding: "whole" }] };
same("of several about the same, the one that says so", waiverOf(file, { id: "x.y", about: "panel behind", headline: "two" }), 1);
same("one that names its routines", waiverOf(file, { id: "routine.false-alarm", about: "zone 2 behaviour", headline: "z" }), 2);
same("one about the whole site", waiverOf(file, { id: "whole", about: "", headline: "z" }), 3);
same("none", waiverOf({}, finding), -1);
console.log(`1..${count}`);
