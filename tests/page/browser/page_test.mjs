// The page in a real browser: it opens without a complaint, asks nothing of elsewhere, reads well for who cannot see it, fits
// narrow and wide screens, and an edit changes the verdict and can be taken back.
import { axe, browser, cases, lacks, open, rested, serve } from "./served.mjs";

const DEMOS = ["quayside-as-found", "quayside", "ropewalk"];
const WIDTHS = [320, 360, 768, 1280, 1920];

const test = cases();
const missing = lacks();
if (missing) {
  test.skip(missing);
} else {
  const chromium = await browser();
  try {
    await run(chromium);
  } finally {
    await chromium.close();
  }
  test.end();
}

// Violations of the page as it stands; the rules run in the page, put there past its own policy by the browser.
async function violations(page) {
  await page.evaluate(axe());
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.flatMap((violation) => violation.nodes.slice(0, 3).map((node) => `${violation.id}: ${node.target.join(" ")}: ${node.html.slice(0, 120)}`));
}

async function tooWide(page, width) {
  await page.setViewportSize({ width, height: 800 });
  const reach = await page.evaluate(() => document.documentElement.scrollWidth);
  return reach > width ? [`${width} px: the page is ${reach} px wide`] : [];
}

async function run(chromium) {
  for (const demo of DEMOS) {
    const bench = await serve(demo);
    for (const colorScheme of ["light", "dark"]) {
      const context = await chromium.newContext({ colorScheme, viewport: { width: 1280, height: 800 }, reducedMotion: "reduce" });
      const { page, wrong } = await open(context, bench);
      await test.case(`${demo}, ${colorScheme}: nothing is violated, as it opens and with the first finding`, async () => {
        const first = await violations(page);
        await page.locator("button.finding").first().click();
        return [...first, ...await violations(page)];
      });
      await test.case(`${demo}, ${colorScheme}: nothing reaches past the edge, from 320 to 1920 px`, async () => {
        const each = [];
        for (const width of WIDTHS) each.push(...await tooWide(page, width));
        return each;
      });
      await test.case(`${demo}, ${colorScheme}: no complaint and nothing asked of elsewhere`, async () => wrong);
      await context.close();
    }
    await bench.end();
  }
  await edited(chromium);
}

async function edited(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  const sentence = () => page.locator("#sentence").innerText();
  const before = { text: bench.text(), sentence: await sentence() };
  const behaviour = page.getByRole("combobox", { name: "behaviour of zone 6" });
  await test.case("a zone set otherwise changes the file and the verdict", async () => {
    await behaviour.selectOption("24-hour");
    await page.waitForFunction((was) => document.querySelector("#sentence").innerText !== was, before.sentence, { timeout: 60000 });
    await rested(page);
    return bench.text() !== before.text && bench.text().includes("behaviour: 24-hour") ? [] : ["the file is as it was"];
  });
  await test.case("undo brings the file and the verdict back, by key", async () => {
    await page.keyboard.press("Control+z");
    await page.waitForFunction((was) => document.querySelector("#sentence").innerText === was, before.sentence, { timeout: 60000 });
    return bench.text() === before.text ? [] : ["the file is not as it was"];
  });
  await test.case("a change of the file by another hand shows by itself", async () => {
    const { writeFileSync } = await import("node:fs");
    writeFileSync(bench.file, before.text.replace("name: Quayside bakery as found", "name: Quayside by another hand"));
    await page.waitForFunction(() => document.querySelector("h1").innerText === "Quayside by another hand", undefined, { timeout: 60000 });
    return [];
  });
  await test.case("editing: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
