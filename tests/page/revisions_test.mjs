// Two reports compared: what is better, what is worse, and what only reads otherwise.
import { sorted, turned } from "../../page/revisions.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const verdict = (name) => (name === null ? null : { verdict: name, to_spare_s: null });
const routine = (before, now, as_before = false) => ({ name: `${before} to ${now}`, before: verdict(before), now: verdict(now), as_before });
test("a routine turns better, worse or neither", same([
  routine("goes wrong", "goes well"), routine("goes wrong", "not settled"), routine("goes well", "not settled"), routine("goes well", "goes wrong"), routine("goes well", "goes well"), routine(null, "goes wrong"), routine("goes well", null),
].map(turned), ["better", "better", "worse", "worse", "other", "other", "other"]));
const against = {
  gone: [{ id: "a" }], new: [{ id: "b" }, { id: "c" }], changed: [{ before: { id: "d", headline: "one" }, now: { id: "d", headline: "two" } }], as_before: 3,
  routines: [routine("goes wrong", "goes well"), routine("goes well", "goes wrong"), routine("goes well", "goes well"), routine("goes well", "goes well", true)],
};
const lists = sorted(against);
const names = (list) => list.map((entry) => entry.finding?.id ?? entry.routine.name);
test("what is gone is better, what is new is worse; what is as before is in no list", same([names(lists.better), names(lists.worse), names(lists.other)],
  [["a", "goes wrong to goes well"], ["b", "c", "goes well to goes wrong"], ["d"]]));
test("a routine that only has another time to spare is neither", same(names(sorted({ ...against, routines: [{ name: "r", before: { verdict: "goes well", to_spare_s: 3 }, now: { verdict: "goes well", to_spare_s: 5 }, as_before: false }] }).other), ["d", "r"]));
test("what reads otherwise keeps how it read", same(lists.other[0].before.headline, "one"));
console.log(`1..${count}`);
