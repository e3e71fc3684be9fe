// pictures.mjs FOLDER: the two pictures of the README, made of the page itself: a fault where it arises with its story, and
// what the detectors see, in the dark. The house is invented; the one mistake is made here, on a copy.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { browser, lacks, open, rested, serve } from "./served.mjs";

const folder = process.argv[2];
const missing = lacks();
if (!folder || missing) {
  console.error(missing ?? "pictures.mjs: into which folder?");
  process.exit(1);
}
mkdirSync(folder, { recursive: true });
const chromium = await browser();
const bench = await serve("quayside");

// to: what the picture ends below; without it, it is what the window shows.
async function picture(name, size, colorScheme, prepare, to = null) {
  const context = await chromium.newContext({ viewport: size, colorScheme, reducedMotion: "reduce" });
  const { page } = await open(context, bench);
  await prepare(page);
  await rested(page);
  await page.evaluate(() => document.activeElement?.blur());
  const end = to ? await page.locator(to).evaluate((one) => Math.ceil(one.getBoundingClientRect().bottom + scrollY + 12)) : size.height;
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true, clip: { x: 0, y: 0, width: size.width, height: end } });
  await context.close();
}

try {
  await picture("sight", { width: 1280, height: 860 }, "dark", async (page) => {
    await page.getByRole("button", { name: "sight", exact: true }).click();
    await page.locator('#schedule [data-key="zones[3]"]').click();
  }, ".nearness");
  await picture("bench", { width: 1440, height: 900 }, "light", async (page) => {
    await page.getByRole("combobox", { name: "behaviour of zone 2" }).selectOption("interior");
    await page.waitForSelector(".clause.wrong", { timeout: 60000 });
    await rested(page);
    await page.locator(".clause.wrong").first().click();
  }, ".lanes");
} finally {
  await chromium.close();
  await bench.end();
}
