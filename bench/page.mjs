// page.mjs: how soon the page follows the hand, in the real browser of the tests: on the bakery a detector dragged to its new sight
// against an empty frame of the same browser; on the bakery and a site of 128 zones a changed value to its verdict, against an empty
// request of the same server. --quick: a
// few of each, to see that it runs.
import { browser, lacks, open, rested, serve } from "../tests/page/browser/served.mjs";

const quick = process.argv.includes("--quick");
const DRAGS = quick ? 2 : 24;
const EDITS = quick ? 2 : 8;

const missing = lacks();
if (missing) {
  console.log(`The page is not measured: ${missing}`);
  process.exit(0);
}

function median(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

function line(what, took, than, least) {
  console.log(`${what.padEnd(58)}${took.toFixed(1).padStart(8)} ms ${(took / least).toFixed(1).padStart(8)} x ${than} (${least.toFixed(1)} ms)`);
}

// Frames in which nothing is done.
function emptyFrame(page) {
  return page.evaluate(() => new Promise((done) => {
    const times = [];
    const frame = (now) => { times.push(now); if (times.length < 61) requestAnimationFrame(frame); else done(times.slice(1).map((time, i) => time - times[i])); };
    requestAnimationFrame(frame);
  }));
}

// From each move of the pointer to the first frame after the sight has changed.
async function drags(page) {
  await page.getByRole("button", { name: "sight", exact: true }).click();
  await page.evaluate(() => {
    const seen = () => [...document.querySelectorAll(".plan .layer .d-seen")].map((one) => one.outerHTML).join(" ");
    const body = document.querySelector("#drawing .body");
    let moved = 0;
    let was = seen();
    window.took = [];
    body.addEventListener("pointermove", () => { moved = performance.now(); }, true);
    new MutationObserver(() => {
      const is = seen();
      if (is === was) return;
      was = is;
      requestAnimationFrame(() => requestAnimationFrame((now) => window.took.push(now - moved)));
    }).observe(body, { childList: true, subtree: true });
  });
  const sign = await page.locator('.plan [data-about="zones[3]"] .d-hit').boundingBox();
  const plan = await page.locator(".plan").boundingBox();
  await page.mouse.move(sign.x + sign.width / 2, sign.y + sign.height / 2);
  await page.mouse.down();
  await page.mouse.move(sign.x, sign.y + 30, { steps: 3 });
  await page.waitForTimeout(500);
  await page.evaluate(() => { window.took.length = 0; });
  for (let i = 0; i < DRAGS; i += 1) {
    await page.mouse.move(sign.x + (i % 2) * 4, Math.min(sign.y + 40 + (i % 12) * 7, plan.y + plan.height - 60));
    await page.waitForFunction((count) => window.took.length > count, i, { timeout: 5000 }).catch(() => {});
    await page.waitForTimeout(60);
  }
  const took = await page.evaluate(() => window.took);
  await page.keyboard.press("Escape");
  await page.mouse.up();
  return took;
}

// An answer with next to nothing in it.
function emptyRequest(page) {
  return page.evaluate(async () => {
    const times = [];
    for (let i = 0; i < 40; i += 1) {
      const began = performance.now();
      await (await fetch("./ring.svg")).text();
      times.push(performance.now() - began);
    }
    return times;
  });
}

// From the change of a value to the frame that shows the words of its verdict, and to the one with remedies and all.
async function edits(page, values) {
  const took = { verdict: [], all: [] };
  const behaviour = page.getByRole("combobox", { name: "behaviour of zone 6", exact: true });
  for (let i = 0; i < EDITS; i += 1) {
    await page.evaluate(() => {
      window.verdict = new Promise((done) => {
        const took = {};
        let [began, left] = [0, false];
        document.addEventListener("change", () => { began = performance.now(); }, { capture: true, once: true });
        const look = (now) => {
          const { state } = document.body.dataset;
          left ||= began > 0 && state === "checking";
          if (left && state !== "checking") took.verdict ??= now - began;
          if (left && state === "checked") done({ ...took, all: now - began });
          else requestAnimationFrame(look);
        };
        requestAnimationFrame(look);
      });
    });
    await behaviour.selectOption(values[i % 2]);
    const one = await page.evaluate(() => window.verdict);
    took.verdict.push(one.verdict);
    took.all.push(one.all);
    await rested(page);
  }
  return took;
}

async function measureEdits(page, name, values, request) {
  const took = await edits(page, values);
  line(`${name}: a value changed to its verdict, ${EDITS} edits`, median(took.verdict), "an empty request", request);
  line(`${name}: and to remedies and all`, median(took.all), "an empty request", request);
}

const chromium = await browser();
const [bench, harbour] = [await serve("quayside"), await serve("harbour")];
try {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  const { page } = await open(context, bench);
  const frame = median(await emptyFrame(page));
  const took = await drags(page);
  line(`a detector dragged to its new sight, ${took.length} moves`, median(took), "an empty frame", frame);
  const request = median(await emptyRequest(page));
  await measureEdits(page, "13 zones", ["perimeter", "entry"], request);
  const large = await open(context, harbour);
  await measureEdits(large.page, "128 zones", ["perimeter", "interior"], request);
} finally {
  await chromium.close();
  await Promise.all([bench.end(), harbour.end()]);
}
