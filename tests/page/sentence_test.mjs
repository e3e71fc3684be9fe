// The verdict sentence for every combination of a few counts: it reads as English, begins with no figure, doubles nothing.
import { clauses, number, text } from "../../page/sentence.js";
import { axisStep, span } from "../../page/ribbon.js";
import { concerns, delayOf, zoneState } from "../../page/schedule.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (got === wanted ? [] : [`got    ${got}`, `wanted ${wanted}`]);

function report(well, wrong, open, findings = [], promise = () => "the siren") {
  const routine = (verdict, i) => ({ name: `${verdict} ${i}`, verdict, promise: verdict === "goes wrong" ? promise(i) : null });
  const many = (verdict, howMany) => Array.from({ length: howMany }, (_, i) => routine(verdict, i));
  return { routines: [...many("goes well", well), ...many("goes wrong", wrong), ...many("not settled", open)], findings };
}
const said = (...parts) => text(clauses(report(...parts)));
const setting = (weight) => ({ weight, routine: null });

test("nothing to prove", same(said(0, 0, 0), "No routine is described yet."));
test("the only one", [...same(said(1, 0, 0), "The only routine is proven."), ...same(said(0, 1, 0), "The only routine causes a false alarm.")]);
test("both", [...same(said(2, 0, 0), "Both routines are proven."), ...same(said(0, 2, 0), "Both routines cause a false alarm.")]);
test("all five", same(said(5, 0, 0), "All five routines are proven."));
test("six of eight", same(said(6, 2, 0), "Six of eight routines are proven; two cause a false alarm."));
test("one of them", same(said(4, 1, 0), "Four of five routines are proven; one causes a false alarm."));
test("many, in figures", same(said(28, 3, 0), "Of 31 routines, 28 are proven; three cause a false alarm."));
test("undecided", same(said(4, 0, 1), "Four of five routines are proven; one is undecided."));
test("one well", same(said(1, 4, 0), "One of five routines is proven; four cause a false alarm."));
test("kinds mixed", same(said(3, 2, 0, [], (i) => ["the siren", "a refusal"][i]), "Three of five routines are proven; two fail."));
test("not ready", same(said(3, 1, 0, [], () => "a refusal"), "Three of four routines are proven; one finds the alarm not ready."));
test("settings", same(said(2, 0, 0, [setting("fault"), setting("risk"), setting("risk"), setting("note")]),
  "Both routines are proven. One setting has a fault. Two risks stand."));
test("the past of an older edit", same(text(clauses(report(6, 2, 0), true)), "Six of eight routines were proven; two cause a false alarm."));

const wrong = [];
for (const well of [0, 1, 2, 3, 12, 13]) for (const bad of [0, 1, 2, 3, 12, 13]) for (const open of [0, 1, 2, 13]) for (const faults of [0, 1, 13]) {
  const list = clauses(report(well, bad, open, Array.from({ length: faults }, () => setting("fault"))));
  const sentence = text(list);
  const covered = new Set(list.flatMap((clause) => (clause.routines ?? []).map((routine) => routine.name)));
  if (/^\d|\. \d|undefined|, ,|; ;|\.\.|one (are|cause) |\b(two|three|twelve|13) (is|causes) /.test(sentence)) wrong.push(sentence);
  if (covered.size !== well + bad + open) wrong.push(`${covered.size} of ${well + bad + open} routines are spoken of: ${sentence}`);
}
test("no combination reads badly, each routine is in a clause", wrong);
test("numbers", [...same(number(12), "twelve"), ...same(number(13), "13")]);
test("an axis has at most ten marks", [1, 9, 10, 59, 100, 3600, 86400, 500000].filter((seconds) => seconds / axisStep(seconds) > 9));
test("spans are read with units", [...same(span(45), "45 s"), ...same(span(185), "3 min 5 s"), ...same(span(7260), "2 h 1 min")]);
const found = { routines: [], findings: [{ weight: "risk", place: { path: "zones[1].chime" } }, { weight: "fault", place: { path: "zones[11]" } }, { weight: "note", place: null }] };
test("a zone's ring is the worst about it and about no other", [...same(zoneState(found, 1), "risk"), ...same(zoneState(found, 11), "fault"),
  ...same(zoneState(found, 0), "holds"), ...same(String(concerns(null, 0)), "false")]);
test("a delay by mode", [...same(delayOf({ delay: { full: "a", part: "a" } }), "a"), ...same(delayOf({ delay: { full: "a", part: "b" } }), "various"), ...same(delayOf({ delay: "a" }), "a")]);
console.log(`1..${count}`);
