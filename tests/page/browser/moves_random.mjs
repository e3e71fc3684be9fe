// Things of a demo moved to random points, without a browser: whatever is dragged wherever, the bench can draw it, and where it then
// is is where the page said that it would come to rest. Seeded: SEED in the environment repeats a run.
import { cases, entered, serve } from "./served.mjs";
import { movedBy, moveTo, middleOf } from "../../../page/moves.js";
import { distance } from "../../../page/snap.js";
import { storeyOf } from "../../../page/marks.js";

const EACH = 3;
let seed = Number(process.env.SEED ?? 20260) >>> 0;
console.log(`# SEED=${seed}`);
// Source: the minimal standard of Park and Miller, 1988.
function random() {
  seed = (seed * 48271) % 2147483647;
  return seed / 2147483647;
}

const test = cases();
for (const demo of ["quayside", "surgery"]) {
  const bench = await serve(demo);
  try {
    await test.case(`${demo}: what is moved at random can be drawn, and is where it was said to rest`, () => scatter(bench));
  } finally {
    await bench.end();
  }
}
test.end();

async function scatter(bench) {
  const { origin, headers } = await entered(bench.address);
  const { number, site } = await (await fetch(`${origin}/state`, { headers })).json();
  const { building, zones } = site.file;
  const subjects = [...["openings", "places", "furniture", "stairs"].flatMap((list) => (building[list] ?? []).map((_, i) => `building.${list}[${i}]`)), ...zones.map((_, i) => `zones[${i}]`)];
  const { low_mm: low, high_mm: high } = site.drawing;
  const wrong = [];
  for (const subject of subjects) {
    const moved = movedBy(site, subject);
    if (!moved) continue;
    const list = moved.list === "contact" ? "openings" : moved.list;
    const storey = storeyOf(site, `building.${list}[${moved.opening ?? moved.index}]`);
    for (let i = 0; i < EACH; i += 1) {
      const at = [0, 1].map((axis) => Math.round(low[axis] - 1500 + random() * (high[axis] - low[axis] + 3000)));
      const result = moveTo(site, storey, moved, at, i % 2 === 1);
      if (!result || result.edits.length === 0) continue;
      const answer = await (await fetch(`${origin}/try`, { method: "POST", headers, body: JSON.stringify({ number, edits: result.edits }) })).json();
      if (!answer.drawing) { wrong.push(`${subject} to ${at}: ${answer.what}: ${JSON.stringify(result.edits)}`); continue; }
      if (result.fits === false) {
        if (answer.drawing.house.openings[moved.index].good) wrong.push(`${subject} to ${at}: it fits, though it was said not to`);
        continue;
      }
      const now = moved.list === "contact" ? null : middleOf({ drawing: answer.drawing }, moved);
      if (moved.list !== "contact" && (!now || distance(now, result.at) > 2)) wrong.push(`${subject} to ${at}: rests at ${now}, not at ${result.at}: ${JSON.stringify(result.edits)}`);
    }
  }
  return wrong;
}
