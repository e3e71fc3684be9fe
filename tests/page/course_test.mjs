// A test of the acceptance as a course of seconds: what came stands on its second, beside from when to when it is awaited.
import { beganAt, courseOf } from "../../page/course.js";
import { lanesOf } from "../../page/story.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const start = new Date(2026, 10, 26, 14, 32, 0).getTime();
const at = (seconds) => start + seconds * 1000;
const zone = (state, began_ms, alarm, end) => ({
  name: "zone 1", device: "front door", says: "trip it", state, began_ms, signals: [
    { kind: "intrusion", end: false, from_s: 53, to_s: 89, ...(alarm ? { id: alarm[0], received_ms: at(alarm[1]) } : { id: 0 }) },
    { kind: "intrusion", end: true, from_s: 60, to_s: 92, ...(end ? { id: end[0], received_ms: at(end[1]) } : { id: 0 }) }],
});
const came = (...rows) => rows.map(([id, seconds, says]) => ({ id, received_ms: at(seconds), says })).reverse();
const list = (rows, explained = []) => ({ tests: [], came: came(...rows), explained: explained.map((one) => one[2]), explained_about: explained.map(([id, next]) => ({ id, next, test: "zone 7" })) });
const flags = (course) => course.bars.filter((bar) => bar.lane === "station").map((bar) => `${bar.from_s} ${bar.says}${bar.bad ? " bad" : ""}`);

test("seconds count from when somebody said now, else back from the first signal", same([beganAt(zone("done", at(0), [2, 60], [3, 70])), beganAt(zone("done", 0, [2, 60], [3, 70])), beganAt(zone("next", 0))],
  [{ at_ms: at(0), said: true }, { at_ms: at(7), said: false }, null]));
test("a now after its first signal was for another try", same(beganAt(zone("waits", at(65), [2, 60])).said, false));
const done = courseOf(list([[1, 5, "unset, user 1"], [2, 60, "intrusion, zone 1"], [3, 61, "cancel"], [4, 70, "intrusion, its end, zone 1"], [5, 75, "intrusion, zone 2"]]), zone("done", at(0), [2, 60], [4, 70]));
test("its own signals on their seconds and what came between them, nothing of other tests", same(flags(done), ["60 intrusion, zone 1", "61 cancel", "70 intrusion, its end, zone 1"]));
test("what is expected stands beside it, from when to when", same(done.bars.filter((bar) => bar.lane === "awaited").map((bar) => [bar.from_s, bar.to_s]), [[53, 89], [60, 92]]));
test("the lanes: who does it, what is awaited, what came", same(lanesOf(done).map((lane) => lane.lane), ["person", "awaited", "awaited", "station"]));
test("each line has the time of day at which it came", same(done.story.map((line) => line.clock), ["14:32:00", "14:33:00", "14:33:01", "14:33:10"]));
test("what came instead is told as such, in its place", same(flags(courseOf(list([[1, 55, "intrusion, zone 7"], [2, 90, "intrusion, zone 1"]], [[1, "zone 1", "wrong zone"]]), zone("waits", at(0), [2, 90]))), ["55 intrusion, zone 7 bad", "90 intrusion, zone 1"]));
test("while it runs, what comes after its own signals shows as well", same(flags(courseOf(list([[2, 60, "intrusion, zone 1"], [3, 66, "unset, user 2"]]), zone("waits", at(0), [2, 60]))), ["60 intrusion, zone 1", "66 unset, user 2"]));
test("nothing came yet: what is awaited alone", same([flags(courseOf(list([[1, 5, "unset"]]), zone("next", 0))), courseOf(list([]), zone("next", 0)).story.map((line) => line.because)], [[], ["nothing came yet"]]));
test("a test that no signal ends has no course", same(courseOf(list([]), { ...zone("next", 0), signals: [] }), null));
console.log(`1..${count}`);
