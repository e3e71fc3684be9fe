// Measured values as they are typed where one stands, and what they write.
import { measurable, measuredEdits, withUnit } from "../../page/measured.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`${JSON.stringify(got)}, not ${JSON.stringify(wanted)}`]);

test("a number gets the unit that is meant; what has one stays, and so does what is no number", [
  ["-71", "-71 dBm"], ["−71,5", "-71.5 dBm"], ["-78 .. -74", "-78..-74 dBm"], ["-78 to -74", "-78..-74 dBm"], ["-71 dBm", "-71 dBm"], ["loud", "loud"], ["", ""],
].flatMap(([typed, wanted]) => same(withUnit(typed, "dBm"), wanted)));

const file = (more) => ({ zones: [{ number: 1, device: "hall contact" }, { number: 2, device: "yard siren" }], cables: [{ to: "other" }, { to: "yard siren", measured: "10.2 V" }], ...more });
const carried = { level_dbm: { low: -80, high: -60 }, rest_ohm: null, end_volts: null, cable: null };
const level = (at) => measurable(at, carried, 0)[0];
const TODAY = "2026-11-26";
test("only what can be computed is asked for, with what stands in the file", [
  ...same(measurable(file(), undefined, 0), []),
  ...same(measurable(file(), { ...carried, rest_ohm: { low: 1, high: 2 }, end_volts: { low: 10, high: 13 }, cable: 1 }, 1).map((one) => [one.key, one.value]), [["level", undefined], ["loop", undefined], ["volts", "10.2 V"]]),
]);
const first = file();
const links = file({ links: [{ device: "other", measured: "-60 dBm" }, { device: "hall contact", distance: "14 m" }] });
const alone = file({ links: [{ device: "hall contact", measured: "-70 dBm", "measured-on": "2026-01-02" }] });
test("a level: a link of its own, the one that is there, and gone with what says nothing else", [
  ...same(measuredEdits(first, 0, level(first), "-71", TODAY), [{ path: "links", value: '[{device: hall contact, measured: "-71 dBm", measured-on: 2026-11-26}]' }]),
  ...same(measuredEdits(links, 0, level(links), "-71..-69", TODAY), [{ path: "links[1].measured", value: '"-71..-69 dBm"' }, { path: "links[1].measured-on", value: TODAY }]),
  ...same(measuredEdits(links, 0, level(links), " ", TODAY), [{ path: "links[1].measured", value: null }, { path: "links[1].measured-on", value: null }]),
  ...same(measuredEdits(alone, 0, level(alone), "", TODAY), [{ path: "links", value: null }]),
  ...same(measuredEdits(first, 0, level(first), "", TODAY), []),
]);
const wired = measurable(file(), { ...carried, level_dbm: null, rest_ohm: { low: 4465, high: 4945 }, end_volts: { low: 10, high: 13 }, cable: 1 }, 1);
test("a loop and a cable have their own places", [
  ...same(measuredEdits(file(), 1, wired[0], "4700", TODAY), [{ path: "zones[1].loop-measured", value: "4700 ohm" }]),
  ...same(measuredEdits(file(), 1, wired[1], "10,4", TODAY), [{ path: "cables[1].measured", value: "10.4 V" }]),
  ...same(measuredEdits(file(), 1, wired[1], "", TODAY), [{ path: "cables[1].measured", value: null }]),
]);
console.log(`1..${count}`);
