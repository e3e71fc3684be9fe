// What part of the sheet is in sight, worked by hand: a sheet 16 m wide and 8 m high whose corner is at 0, 0.
import { keeping, partOf } from "../../page/lens.js";

const SHEET = [0, 0, 16000, 8000];
let count = 0;
function test(name, got, wanted) {
  count += 1;
  const good = JSON.stringify(got) === JSON.stringify(wanted);
  console.log(`${good ? "ok" : "not ok"} ${count} - ${name}`);
  if (!good) {
    console.log(`# got ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`);
    process.exitCode = 1;
  }
}

test("the whole sheet", partOf(SHEET, 1, [3000, 1000]), SHEET);
test("four times closer round its middle", partOf(SHEET, 4, [8000, 4000]), [6000, 3000, 4000, 2000]);
test("never past its edges", [partOf(SHEET, 4, [0, 0]), partOf(SHEET, 4, [16000, 8000])], [[0, 0, 4000, 2000], [12000, 6000, 4000, 2000]]);
/* A point a quarter of the way from the left and from the top is there after it as well. */
const middle = keeping(SHEET, 1, [8000, 4000], 2, [4000, 2000]);
test("drawn nearer, the point under the pointer stays where it is", [middle, partOf(SHEET, 2, middle)], [[6000, 3000], [2000, 1000, 8000, 4000]]);
test("and back again", keeping(SHEET, 2, middle, 1, [4000, 2000]), [8000, 4000]);
console.log(`1..${count}`);
