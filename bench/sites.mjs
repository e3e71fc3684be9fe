// sites.mjs: how soon a site of a folder is open in the browser, as ratios to an empty request and an empty frame of the same run;
// the size of the page, and the server's memory after a thousand edits. Prints; fails no test for a figure. --quick: one round of each,
// to see that it runs.
import { copyFileSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { browser, entered, lacks, serveFolder, SOURCE } from "../tests/page/browser/served.mjs";

const quick = process.argv.includes("--quick");
const ROUNDS = quick ? 1 : 15;
const EDITS = quick ? 4 : 1000;

const missing = lacks();
if (missing) {
  console.log(`Sites are not measured: ${missing}`);
  process.exit(0);
}

function median(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

async function repeat(one) {
  const all = [];
  for (let i = 0; i < ROUNDS; i += 1) all.push(await one(i));
  return median(all);
}

// From the beginning of the page to the first moment at which so many of these are in it.
async function opened(context, address, selector, count) {
  const page = await context.newPage();
  await page.addInitScript(([wanted, many]) => {
    new MutationObserver(() => { if (window.took === undefined && document.querySelectorAll(wanted).length >= many) window.took = performance.now(); }).observe(document, { subtree: true, childList: true });
  }, [selector, count]);
  await page.goto(address);
  await page.waitForFunction(() => window.took !== undefined, undefined, { timeout: 60000 });
  const took = await page.evaluate(() => window.took);
  await page.close();
  return took;
}

function resident(pid) {
  return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))[1]) / 1024;
}

// One after the other, without a page that shows them.
async function edit(address, path) {
  const { origin, headers } = await entered(address);
  let { number } = await (await fetch(`${origin}${path}state`, { headers })).json();
  for (let i = 0; i < EDITS; i += 1) {
    const edits = [{ path: "zones[0].chime", value: i % 2 === 0 ? "no" : "yes" }];
    const answer = await fetch(`${origin}${path}edit`, { method: "POST", headers, body: JSON.stringify({ number, edits }) });
    if (!answer.ok) throw new Error(`edit ${i + 1} of ${EDITS}: ${answer.status} ${await answer.text()}`);
    number += 1;
  }
}

const chromium = await browser();
const bench = await serveFolder((folder) => { for (const name of ["harbour", "quayside"]) copyFileSync(join(SOURCE, "demo", `${name}.yaml`), join(folder, `${name}.yaml`)); });
try {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const page = await context.newPage();
  await page.goto(bench.address);
  const home = new URL(page.url()).origin;
  await page.waitForFunction(() => document.body.dataset.state === "checked", undefined, { timeout: 60000 });
  const request = await repeat(() => page.evaluate(async () => { const began = performance.now(); await (await fetch("/ring.svg")).text(); return performance.now() - began; }));
  const frame = await repeat(() => page.evaluate(() => new Promise((done) => { requestAnimationFrame((first) => requestAnimationFrame((second) => done(second - first))); })));
  const first = await opened(context, `${home}/site/harbour.yaml/`, "tr[data-zone]", 128);
  const again = await repeat(() => opened(context, `${home}/site/harbour.yaml/`, "tr[data-zone]", 128));
  const small = await repeat(() => opened(context, `${home}/site/quayside.yaml/`, "tr[data-zone]", 13));
  const before = resident(bench.pid);
  await page.close();
  await edit(bench.address, "/site/quayside.yaml/");
  const after = resident(bench.pid);
  const names = ["main.js", "sites.js", ...readdirSync(join(SOURCE, "page")).filter((name) => /\.(css|html|svg)$/.test(name))]; // as it is served
  let size = 0;
  for (const name of names) size += gzipSync(await (await context.request.get(`${home}/site/quayside.yaml/${name === "index.html" ? "" : name}`)).body()).length;
  const row = (what, took) => console.log(`${what.padEnd(46)} ${took.toFixed(1).padStart(8)} ms ${(took / request).toFixed(1).padStart(7)} ${(took / frame).toFixed(1).padStart(7)}`);
  console.log(`\nSites, median of ${ROUNDS}                                      to an empty request, frame`);
  row("an empty request", request);
  row("an empty frame", frame);
  row("open the site of 128 zones, the first time", first);
  row("open the site of 128 zones", again);
  row("open the bakery, 13 zones", small);
  console.log(`${EDITS} edits: the server holds ${before.toFixed(1)} MB before, ${after.toFixed(1)} MB after (with what undo needs of each)`);
  console.log(`the page: ${(size / 1024).toFixed(1)} kB compressed`);
} finally {
  await chromium.close();
  await bench.end();
}
