// By how much the page scrolls for a story that was asked for.
import { scrollTo } from "../../page/insight.js";

let count = 0;
function test(name, got, wanted) {
  count += 1;
  console.log(`${got === wanted ? "ok" : "not ok"} ${count} - ${name}`);
  if (got !== wanted) console.log(`# got ${got}, wanted ${wanted}`);
  if (got !== wanted) process.exitCode = 1;
}
test("in sight already: nothing moves", scrollTo({ title: 500, lane: 700, height: 800 }), 0);
test("below the window: as far as its lane needs", scrollTo({ title: 700, lane: 850, height: 800 }), 58);
test("above the window: back to its title", scrollTo({ title: -300, lane: -150, height: 800 }), -308);
test("its title never leaves for its lane", scrollTo({ title: 700, lane: 1700, height: 800 }), 692);
test("what was pressed in a list stays", scrollTo({ title: 1700, lane: 1850, height: 800, kept: 400 }), 392);
console.log(`1..${count}`);
