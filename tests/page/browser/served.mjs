// A bench served for one test, and a real browser on it. What the tests of this folder share.
import { spawn, spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";

export const SOURCE = process.env.LINTEL_SOURCE ?? new URL("../../..", import.meta.url).pathname;
export const BUILD = process.env.LINTEL_BUILD ?? join(SOURCE, "build", "release");
const PACKAGES = join(SOURCE, "build", "browser");
const BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];

const packages = createRequire(join(PACKAGES, "here.js"));

// Why no browser can be had here, or null: the packages are then in place.
export function lacks() {
  if (!BROWSERS.some(existsSync)) return "chromium is not here: tools/need test installs it";
  const put = spawnSync(join(SOURCE, "tools", "browser"), [PACKAGES], { encoding: "utf8" });
  return put.status === 0 ? null : `the packages of the lock file cannot be had: ${put.stderr.trim().split("\n")[0]}`;
}

// A test in a browser from its beginning to its plan: skipped where none can be had. parts(chromium): its cases.
export async function inBrowser(test, parts) {
  const missing = lacks();
  if (missing) {
    test.skip(missing);
    return;
  }
  const chromium = await browser();
  try {
    await parts(chromium);
  } finally {
    await chromium.close();
  }
  test.end();
}

// To another face of the page; on a phone the words for them stand in its first part.
export async function toFace(page, words) {
  // Where the window was just made wider, the phone's bar goes with the next frame.
  await page.waitForFunction(() => document.getElementById("parts").hidden || matchMedia("(max-width: 47.99em)").matches);
  const verdict = page.locator("#parts button", { hasText: "Verdict" });
  if (await verdict.isVisible()) await verdict.click();
  await page.locator(".faces button").filter({ hasText: new RegExp(`^${words}$`) }).click();
}

function axe() {
  return readFileSync(packages.resolve("axe-core/axe.min.js"), "utf8");
}

export function browser() {
  const sandbox = process.getuid() === 0 ? ["--no-sandbox"] : []; // Chromium has none for root
  return packages("playwright-core").chromium.launch({ executablePath: BROWSERS.find(existsSync), args: [...sandbox, "--disable-gpu"] });
}

// A test that breaks off leaves nobody behind who holds its output open: whoever runs it would wait for the end of that.
const serving = new Set();
process.once("exit", () => { for (const child of serving) child.kill("SIGKILL"); });

// Serves a path of the folder. end: stops it and takes the folder away.
async function start(folder, path, options = []) {
  const child = spawn(join(BUILD, "shell", "cli", "lintel"), ["serve", path, "--port", "0", ...options],
    { stdio: ["ignore", "pipe", "inherit"], env: { ...process.env, LINTEL_DATA: join(SOURCE, "data"), LC_ALL: "C.UTF-8" } });
  serving.add(child);
  const lines = createInterface({ input: child.stdout });
  const address = await new Promise((found, failed) => {
    lines.once("line", found);
    child.once("exit", () => failed(new Error("lintel serve ended at once")));
  });
  const end = async () => {
    child.kill("SIGTERM");
    await new Promise((ended) => (child.exitCode === null && child.signalCode === null ? child.once("exit", ended) : ended()));
    rmSync(folder, { recursive: true });
  };
  return { address, end, pid: child.pid };
}

// What lintel check says of a file.
export function check(file) {
  return spawnSync(join(BUILD, "shell", "cli", "lintel"), ["check", file], { encoding: "utf8", env: { ...process.env, LINTEL_DATA: join(SOURCE, "data"), LC_ALL: "C.UTF-8" } });
}

// The program once, to its end.
export function lintel(...words) {
  return spawnSync(join(BUILD, "shell", "cli", "lintel"), words, { encoding: "utf8", env: { ...process.env, LINTEL_DATA: join(SOURCE, "data"), LC_ALL: "C.UTF-8" } });
}

// A listener for one account, on a port of the system's choice, its archive in the folder.
export async function listener(folder, account) {
  const archive = join(folder, "signals.db");
  const child = spawn(join(BUILD, "shell", "cli", "lintel"), ["listen", "--archive", archive, "--port", "0", "--rate", "0", "--json", "--account", account],
    { stdio: ["ignore", "pipe", "inherit"], env: { ...process.env, LC_ALL: "C.UTF-8" } });
  const first = await new Promise((found, failed) => {
    createInterface({ input: child.stdout }).once("line", found);
    child.once("exit", () => failed(new Error("lintel listen ended at once")));
  });
  child.stdout.resume();
  const end = async () => {
    child.kill("SIGTERM");
    await new Promise((ended) => (child.exitCode === null ? child.once("exit", ended) : ended()));
  };
  return { archive, to: `127.0.0.1:${JSON.parse(first).listening.port}`, end };
}

// Serves a copy of a demo, or a text under its name; options(folder): more words for the command line.
export async function serve(demo, text = null, options = () => []) {
  const folder = mkdtempSync(join(tmpdir(), "lintel-page-"));
  const file = join(folder, `${demo}.yaml`);
  if (text === null) copyFileSync(join(SOURCE, "demo", `${demo}.yaml`), file);
  else writeFileSync(file, text);
  return { ...await start(folder, file, options(folder)), folder, file, text: () => readFileSync(file, "utf8") };
}

// Serves a folder; fill puts into it what is to be there.
export async function serveFolder(fill = () => {}, options = () => []) {
  const folder = mkdtempSync(join(tmpdir(), "lintel-page-"));
  fill(folder);
  return { ...await start(folder, folder, options(folder)), folder, files: () => readdirSync(folder).sort(), text: (name) => readFileSync(join(folder, name), "utf8") };
}

// The first visit, without a browser: where the bench is, and what a request of its own page carries.
export async function entered(address) {
  const answer = await fetch(address, { redirect: "manual" });
  const { origin } = new URL(address);
  return { origin, headers: { cookie: answer.headers.get("set-cookie").split(";")[0], origin, "Content-Type": "application/json" } };
}

// A page on the bench, checked. wrong: what the console said and what was asked of elsewhere, as it comes.
export async function open(context, bench) {
  const page = await context.newPage();
  const wrong = [];
  const home = new URL(bench.address).origin;
  page.on("console", (message) => { if (["error", "warning"].includes(message.type())) wrong.push(`console: ${message.text()}`); });
  page.on("pageerror", (error) => wrong.push(`script: ${error.message}`));
  page.on("request", (request) => { if (new URL(request.url()).origin !== home) wrong.push(`outside: ${request.url()}`); });
  await page.goto(bench.address);
  await rested(page);
  return { page, wrong };
}

// Waits until what is shown is about the newest edit.
export async function rested(page) {
  await page.waitForFunction(() => document.body.dataset.state === "checked", undefined, { timeout: 60000 });
}

export const WIDTHS = [320, 360, 768, 1280, 1920];

// Violations of the page as it stands; the rules run in the page, put there past its own policy by the browser.
export async function violations(page) {
  await page.evaluate(axe());
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.flatMap((violation) => violation.nodes.slice(0, 3).map((node) => `${violation.id}: ${node.target.join(" ")}: ${node.html.slice(0, 120)}`));
}

// The page at a width: nothing reaches past the edge, and on a narrow screen each part has the whole width.
export async function tooWide(page, width) {
  await page.setViewportSize({ width, height: 800 });
  const reach = await page.evaluate(() => document.documentElement.scrollWidth);
  const squeezed = width > 1000 ? [] : await page.evaluate((wide) => [...document.querySelectorAll("main > *")].filter((one) => one.offsetWidth > 0 && one.offsetWidth < wide * 0.85).map((one) => `${one.id}: ${one.offsetWidth} px`), width);
  return [...(reach > width ? [`${width} px: the page is ${reach} px wide`] : []), ...squeezed.map((one) => `${width} px: ${one}`)];
}

// Cases as TAP. A case gives the list of what is wrong.
export function cases() {
  let count = 0;
  return {
    async case(name, check) {
      let wrong;
      try {
        wrong = await check();
      } catch (error) {
        wrong = String(error.message).split("\n").slice(0, 6);
      }
      count += 1;
      console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
      for (const line of wrong.slice(0, 12)) console.log(`# ${line}`);
      if (wrong.length > 0) process.exitCode = 1;
    },
    end() {
      console.log(`1..${count}`);
    },
    skip(why) {
      console.log(`ok 1 - in a browser # SKIP ${why}`);
      console.log("1..1");
    },
  };
}
