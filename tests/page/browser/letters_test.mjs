// Every text of the drawing keeps its size on a phone and on a tablet, on every storey and layer of every demo: what has no room there has a letter, or is
// left to the press. Source: page-spec 7 (13 px is the floor of drawing labels).
import { cases, inBrowser, open, rested, serve } from "./served.mjs";

const DEMOS = ["quayside", "quayside-as-found", "ropewalk", "ropewalk-as-found", "surgery", "surgery-as-found"]; // the harbour has no drawing
const LEAST_PX = 13;
const SCREENS = [{ width: 360, height: 740 }, { width: 320, height: 640 }, { width: 768, height: 1024 }];

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of DEMOS.filter((one) => !process.env.DEMO || one === process.env.DEMO)) await small(chromium, demo);
});

async function small(chromium, demo) {
  const bench = await serve(demo);
  for (const viewport of SCREENS) {
    const { width } = viewport;
    const context = await chromium.newContext({ viewport, hasTouch: true, isMobile: true, reducedMotion: "reduce" });
    const { page, wrong } = await open(context, bench);
    const drawing = page.locator("#parts button", { hasText: "Drawing" });
    if (await drawing.isVisible()) await drawing.click();
    await test.case(`${demo}, ${width} px: no text of the drawing is smaller than ${LEAST_PX} px`, async () => {
      const found = [];
      let count = 0;
      const buttons = async (selector) => Math.max(1, await page.locator(selector).count());
      const turn = async (selector, i) => { const one = page.locator(selector).nth(i); if (await one.count() > 0) await one.click(); };
      for (let storey = 0; storey < await buttons(".section button"); storey += 1) {
        await turn(".section button", storey);
        for (let layer = 0; layer < await buttons(".layers button"); layer += 1) {
          await turn(".layers button", layer);
          await rested(page);
          const { texts, small: less } = await settled(page);
          count += texts;
          found.push(...less.map((one) => `storey ${storey}, layer ${layer}: ${one}`));
          if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/letters-${demo}-${width}-${storey}-${layer}.png` });
        }
      }
      return [...found, ...(count > 20 ? [] : [`only ${count} texts`])];
    });
    await test.case(`${demo}, ${width} px: no complaint`, async () => wrong);
    await context.close();
  }
  await bench.end();
}

// The texts once the drawing has come as large as it is to be; those that are still too small after a while are.
async function settled(page) {
  let seen = { texts: 0, small: [] };
  for (let i = 0; i < 60; i += 1) {
    seen = await page.evaluate((least) => {
      const all = [...document.querySelectorAll(".sheet .plan text")];
      const sizes = all.map((one) => ({ says: one.textContent, px: parseFloat(one.getAttribute("font-size")) * one.ownerSVGElement.getScreenCTM().a }));
      return { texts: all.length, small: sizes.filter(({ px }) => px < least - 0.05).map(({ says, px }) => `“${says}” has ${px.toFixed(1)} px`) };
    }, LEAST_PX);
    if (seen.texts > 0 && seen.small.length === 0) return seen;
    await page.waitForTimeout(100);
  }
  return seen;
}
