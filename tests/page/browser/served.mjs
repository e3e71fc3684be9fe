// A bench served for one test, and a real browser on it. What the tests of this folder share.
import { spawn, spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";

export const SOURCE = process.env.LINTEL_SOURCE ?? new URL("../../..", import.meta.url).pathname;
const BUILD = process.env.LINTEL_BUILD ?? join(SOURCE, "build", "release");
const PACKAGES = join(SOURCE, "build", "browser");
const BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];

const packages = createRequire(join(PACKAGES, "here.js"));

// Why no browser can be had here, or null: the packages are then in place.
export function lacks() {
  if (!BROWSERS.some(existsSync)) return "chromium is not here: tools/need test installs it";
  const put = spawnSync(join(SOURCE, "tools", "browser"), [PACKAGES], { encoding: "utf8" });
  return put.status === 0 ? null : `the packages of the lock file cannot be had: ${put.stderr.trim().split("\n")[0]}`;
}

export function axe() {
  return readFileSync(packages.resolve("axe-core/axe.min.js"), "utf8");
}

export function browser() {
  const sandbox = process.getuid() === 0 ? ["--no-sandbox"] : []; // Chromium has none for root
  return packages("playwright-core").chromium.launch({ executablePath: BROWSERS.find(existsSync), args: [...sandbox, "--disable-gpu"] });
}

// Serves a copy of a demo. end: stops it and takes the copy away.
export async function serve(demo) {
  const folder = mkdtempSync(join(tmpdir(), "lintel-page-"));
  const file = join(folder, `${demo}.yaml`);
  copyFileSync(join(SOURCE, "demo", `${demo}.yaml`), file);
  const child = spawn(join(BUILD, "shell", "cli", "lintel"), ["serve", file, "--port", "0"],
    { stdio: ["ignore", "pipe", "inherit"], env: { ...process.env, LINTEL_DATA: join(SOURCE, "data"), LC_ALL: "C.UTF-8" } });
  const lines = createInterface({ input: child.stdout });
  const address = await new Promise((found, failed) => {
    lines.once("line", found);
    child.once("exit", () => failed(new Error("lintel serve ended at once")));
  });
  const end = async () => {
    child.kill("SIGTERM");
    await new Promise((ended) => (child.exitCode === null ? child.once("exit", ended) : ended()));
    rmSync(folder, { recursive: true });
  };
  return { address, file, text: () => readFileSync(file, "utf8"), end };
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
