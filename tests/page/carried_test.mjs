// What is said of a zone's radio and battery, and how a from-to reads.
import { carriedLine, linkWords, rounded } from "../../page/carried.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}

const link = { link_db: { low: 22.6, high: 44.1 }, battery_years: null };
const both = { ...link, battery_years: { low: 5.4, high: 9.1 } };
test("what is known stands there, and nothing where nothing is", [
  [undefined, null], [{ link_db: null, battery_years: null }, null], [link, "radio: 23 to 44 dB above what the panel needs"],
  [both, "radio: 23 to 44 dB above what the panel needs · battery: 5 to 9 years"],
].filter(([carried, wanted]) => carriedLine(carried) !== wanted).map(([carried, wanted]) => `${carriedLine(carried)}, not ${wanted}`));
test("from-to in whole numbers", [[{ low: -4.2, high: 29 }, "-4 to 29"], [{ low: 5.6, high: 6.4 }, "6"], [{ low: 0, high: 0 }, "0"]]
  .filter(([value, wanted]) => rounded(value) !== wanted).map(([value, wanted]) => `${rounded(value)}, not ${wanted}`));
const file = { zones: [{ number: 1, says: "front door", device: "contact" }, { number: 4, says: "yard", device: "motion" }, { number: 5, says: "till", device: "button" }],
  building: { places: [{ device: "motion" }, { is: "panel" }, { keypad: "hall" }, { device: "siren" }] } };
const carried = [{ link_db: { low: 22.6, high: 44.1 } }, { link_db: { low: -3.2, high: 12 } }, { link_db: null }];
test("what is moved says what its radio link would be; the panel, which link is then the weakest", [
  ["zones[0]", "radio: 23 to 44 dB above what the panel needs"], ["building.places[0]", "radio: 4 dB too little to 12 dB above"],
  ["building.places[1]", "weakest radio link: zone 4, yard, 4 dB too little to 12 dB above"], ["zones[2]", ""], ["building.places[2]", ""], ["building.places[3]", ""], [null, ""],
].filter(([subject, wanted]) => linkWords(file, subject, carried) !== wanted).map(([subject, wanted]) => `${subject}: ${linkWords(file, subject, carried)}, not ${wanted}`));
console.log(`1..${count}`);
