// What is said of a zone's radio and battery, and how a from-to reads.
import { carriedLine, rounded } from "../../page/carried.js";

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
console.log(`1..${count}`);
