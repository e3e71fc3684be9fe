// The page by TLS, as a tablet on site has it: the cookie, the news, an edit and the sheet that keeps the screen awake. The browser
// is told to take the certificate, which openssl makes here; whom it names is tests/whole/sealed.py's business.
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { cases, inBrowser, open, rested, SOURCE } from "./served.mjs";

const BUILD = process.env.LINTEL_BUILD ?? join(SOURCE, "build", "release");

const test = cases();
await inBrowser(test, async (chromium) => {
  const folder = mkdtempSync(join(tmpdir(), "lintel-sealed-"));
  const bench = await sealed(folder);
  try {
    await tablet(chromium, bench);
  } finally {
    bench.child.kill("SIGTERM");
    await new Promise((ended) => { bench.child.once("exit", ended); });
    rmSync(folder, { recursive: true });
  }
});

async function sealed(folder) {
  const [certificate, key, file] = ["bench.crt", "bench.key", "site.yaml"].map((name) => join(folder, name));
  spawnSync("openssl", ["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2", "-subj", "/CN=bench", "-addext", "subjectAltName=IP:127.0.0.1", "-keyout", key, "-out", certificate]);
  chmodSync(key, 0o600);
  copyFileSync(join(SOURCE, "demo", "surgery.yaml"), file);
  const child = spawn(join(BUILD, "shell", "cli", "lintel"), ["serve", file, "--port", "0", "--bind", "0.0.0.0", "--certificate", certificate, "--private-key", key],
    { stdio: ["ignore", "pipe", "inherit"], env: { ...process.env, LINTEL_DATA: join(SOURCE, "data"), LC_ALL: "C.UTF-8" } });
  const address = await new Promise((found, failed) => {
    createInterface({ input: child.stdout }).once("line", found);
    child.once("exit", () => failed(new Error("lintel serve ended at once")));
  });
  return { child, address, text: () => readFileSync(file, "utf8") };
}

async function tablet(chromium, bench) {
  const context = await chromium.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true, ignoreHTTPSErrors: true, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  await test.case("the bench opens by TLS, its key in a cookie that goes by TLS alone", async () => {
    const [cookie] = await context.cookies();
    const secure = await page.evaluate(() => window.isSecureContext && location.protocol === "https:" && location.search === "");
    return cookie?.secure && cookie.httpOnly && cookie.name === `lintel-${new URL(bench.address).port}` && secure ? [] : [JSON.stringify(cookie), `${secure}`];
  });
  await test.case("an edit is written, and the news of it come", async () => {
    await page.getByRole("combobox", { name: "behaviour of zone 2", exact: true }).selectOption("perimeter");
    await page.waitForFunction(() => document.querySelector("#undo").textContent.includes("behaviour perimeter"));
    await rested(page);
    const written = bench.text() !== before;
    await page.locator("#undo").tap();
    await page.waitForFunction(() => document.querySelector("#changes").textContent.includes("taken back"));
    await rested(page);
    return written && bench.text() === before ? [] : [`written: ${written}`];
  });
  await test.case("the browser offers to keep the screen awake", async () => (await page.evaluate(() => "wakeLock" in navigator) ? [] : ["it does not"]));
  await test.case("sealed: no complaint", async () => wrong);
  await context.close();
}
