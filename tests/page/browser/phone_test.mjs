// The bench on a phone: the sentence keeps to what is not good, in four lines, and unfolds.
import { cases, inBrowser, open, rested, serve, tooWide, violations } from "./served.mjs";

const PHONE = { viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true, reducedMotion: "reduce" };

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of ["quayside-as-found", "quayside"]) await shortly(chromium, demo);
});

function same(got, wanted) {
  return got === wanted ? [] : [`${got}, not ${wanted}`];
}

function lines(page) {
  return page.evaluate(() => Math.round(document.getElementById("sentence").offsetHeight / parseFloat(getComputedStyle(document.getElementById("sentence")).lineHeight)));
}

async function shortly(chromium, demo) {
  const bench = await serve(demo);
  const context = await chromium.newContext(PHONE);
  const { page, wrong } = await open(context, bench);
  const sentence = page.locator("#sentence");
  if (demo === "quayside") {
    await test.case("what is good as a whole is said as a whole", async () => same(await sentence.innerText(), (await page.title()).replace(/ [^.]*$/, "")));
  } else {
    await test.case("four lines at most, what is not good, and the rest holds", async () => [...same(await lines(page) <= 4, true), ...same(/^Of 46 routines, 40 .*; the rest holds\.$/.test(await sentence.innerText()), true)]);
    await test.case("pressed, the rest unfolds, and folds again; the place is kept", async () => {
      await page.getByRole("link", { name: "the rest holds" }).tap();
      const whole = await sentence.innerText();
      const found = await violations(page);
      await page.getByRole("link", { name: "In short" }).tap();
      return [...found, ...same(/^Of 46 routines, six are proven; 40 /.test(whole), true), ...same(/the rest holds\.$/.test(await sentence.innerText()), true), ...same(await page.evaluate(() => document.activeElement.dataset.key), "clause-0")];
    });
    await test.case("with letters twice as large it folds more subjects than three into one clause", async () => {
      await page.evaluate(() => { const sheet = new CSSStyleSheet(); sheet.replaceSync("html { font-size: 200% }"); document.adoptedStyleSheets = [sheet]; });
      await page.evaluate(() => window.dispatchEvent(new Event("resize")));
      const words = await sentence.innerText();
      await page.getByRole("link", { name: "and one more" }).tap();
      const whole = await sentence.innerText();
      await page.evaluate(() => { document.adoptedStyleSheets = []; });
      return [...same(/faults, and one more; the rest holds\.$/.test(words), true), ...same(/15 risks/.test(whole), true)];
    });
    await test.case("on a wide screen nothing is left out", async () => {
      await page.setViewportSize({ width: 1280, height: 800 });
      await page.waitForFunction(() => /six are proven/.test(document.getElementById("sentence").innerText));
      return same(await page.getByRole("link", { name: "In short" }).count(), 0);
    });
  }
  await test.case(`${demo}: no complaint`, async () => wrong);
  await context.close();
  await bench.end();
}
