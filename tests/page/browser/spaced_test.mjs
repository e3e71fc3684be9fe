// What people set for themselves loses no word: every face of a bench, the blank page, the list of sites and the guide's steps with wider
// spacing of text, at 1,280 px and at 320 px (1,280 px looked at 400 % large). Sources: WCAG 2.2, 1.4.10 (reflow), 1.4.12 (text spacing: the
// four figures below).
import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { legible } from "./legible.mjs";
import { face, FACES } from "./looks.mjs";
import { cases, inBrowser, open, rested, serve, serveFolder, SOURCE, tooWide } from "./served.mjs";

const SPACING = "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }";
const DEMOS = ["quayside-as-found", "surgery"];
const STEPS = ["rooms", "openings", "devices", "routines", "proof"];
const WIDTHS = [1280, 320];

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of DEMOS.filter((one) => !process.env.DEMO || one === process.env.DEMO)) await bench(chromium, demo);
  if (!process.env.DEMO) await begun(chromium);
});

async function spaced(chromium) {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  await context.addInitScript((css) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets = [sheet]; }, SPACING);
  return context;
}

// At each width, part by part where a phone shows one at a time.
async function lost(page, least = 11) {
  const found = [];
  if (await page.evaluate(() => getComputedStyle(document.querySelector("p, label")).letterSpacing) === "normal") found.push("the spacing is not set");
  for (const width of WIDTHS) {
    found.push(...await tooWide(page, width));
    await page.waitForTimeout(80);
    const parts = await page.locator("#parts button:visible").count();
    for (let part = 0; part < Math.max(1, parts); part += 1) {
      if (parts > 0) await page.locator("#parts button").nth(part).click();
      const { count, unread } = await legible(page);
      found.push(...unread.map((one) => `${width} px: ${one}`), ...(count >= least ? [] : [`${width} px: only ${count} words are seen`]));
    }
  }
  await page.setViewportSize({ width: 1280, height: 900 });
  return found;
}

async function bench(chromium, demo) {
  const served = await serve(demo);
  const context = await spaced(chromium);
  const { page, wrong } = await open(context, served);
  if (await page.locator(".clause.wrong").count() > 0) await page.locator(".clause.wrong").first().click();
  for (const name of FACES) {
    await test.case(`${demo}, ${name}: spaced wider, every word can be read`, async () => {
      await face(page, name);
      await rested(page);
      return lost(page);
    });
  }
  await test.case(`${demo}: no complaint`, async () => wrong);
  await context.close();
  await served.end();
}

async function begun(chromium) {
  const served = await serveFolder((folder) => copyFileSync(join(SOURCE, "demo", "ropewalk-as-found.yaml"), join(folder, "ropewalk.yaml")));
  const context = await spaced(chromium);
  const { page, wrong } = await open(context, served);
  await test.case("the list of sites and the blank page: spaced wider, every word can be read", () => lost(page));
  await page.getByLabel("What is the place called?").fill("Mill cottage");
  await page.getByLabel("to the right").fill("9");
  await page.getByLabel("to the back").fill("7");
  await page.getByRole("button", { name: "Start drawing" }).click();
  await page.waitForURL(/mill-cottage/);
  await rested(page);
  for (const step of STEPS) {
    await test.case(`the guide, ${step}: spaced wider, every word can be read`, async () => {
      await page.goto(`${new URL(page.url()).origin}/site/mill-cottage.yaml/?step=${step}`);
      await rested(page);
      return lost(page, 8);
    });
  }
  await test.case("begun: no complaint", async () => wrong);
  await context.close();
  await served.end();
}
