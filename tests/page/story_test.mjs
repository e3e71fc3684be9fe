// A story as a course of seconds: how it lies on a line, who is where at each second.
import { breaksAt, clockOf, instants, laneOf, lanesOf, lineAt, lineOf, nextInstant, spanOf, stretches } from "../../page/story.js";
import { mapOf, positionAt, wayOf } from "../../page/walkers.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const finding = {
  story: [{ at_s: 0, clock: "23:59:50", what: "shop is set", bad: false }, { at_s: 3600, clock: "00:59:50", what: "the door opens", bad: false }, { at_s: 3604, clock: "00:59:54", what: "siren", bad: true }],
  bars: [{ lane: "sound", of: "shop", from_s: 3604, to_s: null, state: "siren", bad: true }, { lane: "person", of: "b", from_s: 3600, to_s: 3604, says: "passes" },
    { lane: "person", of: "a", from_s: 0, to_s: 10, says: "goes" }, { lane: "door", of: "door", from_s: 3600, to_s: 3602, says: "open" }],
};
test("every instant once, in order", same(instants(finding), [0, 10, 3600, 3602, 3604]));
test("a quiet hour is folded, a pause is not", same(stretches(finding), [{ from: 0, to: 10 }, { from: 3600, to: spanOf(finding).end }]));
test("lanes: people in the order of what they do first, then doors, then sound", same(lanesOf(finding).map((lane) => lane.of), ["a", "b", "door", "shop"]));
const shop = { bars: [{ lane: "person", of: "baker", from_s: 0, to_s: 4, says: "opens the yard door", state: "" }, { lane: "area", of: "shop", from_s: 0, to_s: null, says: "set (full)", state: "set" },
  { lane: "sound", of: "shop", from_s: 4, to_s: null, says: "siren", state: "siren" }, { lane: "station", of: "alarm", from_s: 9, to_s: null, says: "intrusion, zone 2", state: "" }] };
test("a line is of whoever acts, of the sound, of the station, else of the panel; of none where nothing is drawn", same([[4, "the baker opens the yard door"], [4, "siren (shop)"], [9, "\"intrusion, zone 2\" leaves"], [0, "shop is set (full)"], [3, "the baker opens the yard door"]].map(([at_s, what]) => laneOf(shop, { at_s, what })).concat(laneOf({}, { at_s: 0, what: "x" })),
  ["baker", "sound", "station", "panel", "panel", ""]));
test("the clock goes on past midnight", same([0, 10, 3604].map(clockOf(finding)), ["23:59:50", "00:00:00", "00:59:54"]));
test("without a time of day, hours where there are any", same([59, 3599, 28845].map(clockOf({ story: [{ at_s: 0, clock: "0:00" }] })), ["0:59", "59:59", "8:00:45"]));
test("without a time of day: minutes and seconds", same(clockOf({ story: [{ at_s: 0, clock: "0:00" }] })(75), "1:15"));
test("where it breaks, and what was told last", [...same(breaksAt(finding), 3604), ...same(breaksAt({ story: [], bars: [] }), null), ...same(lineAt(finding, 3603).what, "the door opens")]);
test("from event to event and back", [...same(nextInstant(finding, 10), 3600), ...same(nextInstant(finding, 3600, true), 10), ...same(nextInstant(finding, 9999), 3604)]);
const line = lineOf(stretches(finding), 900, 70);
const wrong = [];
for (const { from, to } of line.placed) for (let at = from; at <= to; at += 1) if (Math.abs(line.back(line.at(at)) - at) > 1e-6) wrong.push(`${at}: ${line.back(line.at(at))}`);
for (let at = 0; at < spanOf(finding).end; at += 1) if (line.at(at + 1) < line.at(at)) wrong.push(`${at} lies behind ${at + 1}`);
test("a second lies at one place and comes back from it; time never runs backward", [...wrong, ...(line.at(0) === 0 && line.at(spanOf(finding).end) <= 900 ? [] : ["off the line"])]);

// Two rooms of 4 x 4 m side by side, the wall between at x 4.0 to 4.1; the street door in front of the left one.
const drawing = { high_mm: [8100, 4000], scale: 100, storeys: [{ floors: [{ role: "floor", about: "building.rooms[0]", points_mm: [0, 0, 4000, 0, 4000, 4000, 0, 4000] }, { role: "floor", about: "building.rooms[1]", points_mm: [4100, 0, 8100, 0, 8100, 4000, 4100, 4000] }],
  building: [{ role: "gap", about: "building.openings[0]", points_mm: [2400, 0, 1600, 0, 1600, -300, 2400, -300] }, { role: "gap", about: "building.openings[1]", points_mm: [4000, 2400, 4000, 1600, 4100, 1600, 4100, 2400] }],
  things: [{ role: "sign", about: "building.places[0]", points_mm: [7900, 1900, 8100, 1900, 8100, 2100, 7900, 2100] }] }] };
const file = { doors: [{ name: "front", outside: true }], keypads: [{ name: "pad" }], zones: [],
  building: { rooms: [{ name: "hall" }, { name: "office" }], openings: [{ is: "door", door: "front", room: "hall" }, { is: "door", room: "hall", to: "office" }], places: [{ keypad: "pad", room: "office" }], stairs: [] } };
const way = wayOf(mapOf(drawing, file), [{ at: "doors[0]", from_s: 0, to_s: 0, says: "opens the front door" }, { at: "keypads[0]", from_s: 0, to_s: 10, says: "keys the code" }]);
const first = positionAt(way, 0);
const last = positionAt(way, 10);
test("who comes by the front door stands outside it first", [...(first.at[1] < -300 ? [] : [`at ${first.at}`]), ...same(positionAt(way, -1), null)]);
test("and ends at the keypad, clear of the wall", last.at[0] > 7000 && last.at[0] < 8000 && Math.abs(last.at[1] - 2000) < 200 ? [] : [`at ${last.at}`]);
const astray = [];
for (let second = 0; second <= 10; second += 0.05) {
  const [x, y] = positionAt(way, second).at;
  if (y < 0 && (x < 1590 || x > 2410)) astray.push(`through the front wall at ${x.toFixed(0)}, ${y.toFixed(0)}`);
  if (x > 4000 && x < 4100 && (y < 1590 || y > 2410)) astray.push(`through the inner wall at ${x.toFixed(0)}, ${y.toFixed(0)}`);
}
test("on the way he passes through doors, not through walls", astray);
console.log(`1..${count}`);
