// Every face as people with other eyes and other machines have it: at each width in light and dark, with high contrast, with forced
// colours, with wider spacing of text, at 400 % zoom. Sources: WCAG 2.2, 1.4.3 (contrast, by axe-core), 1.4.10 (reflow: 320 CSS px
// are 1280 px at 400 %), 1.4.12 (text spacing: the four figures below).
import { cases, inBrowser, open, rested, serve, tooWide, violations, WIDTHS } from "./served.mjs";

const SPACING = "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }";

const test = cases();
await inBrowser(test, async (chromium) => {
  const bench = await serve("surgery-as-found");
  try {
    for (const colorScheme of ["light", "dark"]) await looks(chromium, bench, colorScheme, { colorScheme }, WIDTHS);
    await looks(chromium, bench, "high contrast", { contrast: "more" }, [1280]);
    await looks(chromium, bench, "high contrast in the dark", { contrast: "more", colorScheme: "dark" }, [1280]);
    for (const colorScheme of ["light", "dark"]) await looks(chromium, bench, `forced colours, ${colorScheme}`, { forcedColors: "active", colorScheme }, [1280], seenInForced);
    await looks(chromium, bench, "wider spacing of text", {}, [1280, 320], spaced);
    await looks(chromium, bench, "400 % zoom", { viewport: { width: 320, height: 256 }, deviceScaleFactor: 4 }, [320]);
  } finally {
    await bench.end();
  }
});

// Every face of a bench in one look; more(page, face): what else is to hold.
async function looks(chromium, bench, name, options, widths, more = () => []) {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce", ...options });
  const { page, wrong } = await open(context, bench);
  await page.locator(".clause.wrong").first().click();
  await rested(page);
  const faces = await page.locator(".faces button").allInnerTexts();
  for (const face of faces) {
    await test.case(`${name}: ${face}`, async () => {
      await page.locator(".faces button", { hasText: face }).first().click();
      await rested(page);
      await page.waitForTimeout(200);
      const found = [...await violations(page), ...await more(page, face)];
      for (const width of widths) found.push(...await tooWide(page, width), ...await cut(page, width));
      await page.setViewportSize(options.viewport ?? { width: 1280, height: 900 });
      return found;
    });
  }
  await test.case(`${name}: no complaint`, async () => [...(faces.length >= 4 ? [] : [`${faces.length} faces`]), ...wrong]);
  await context.close();
}

// Words that are cut off without a sign of it: no dots, and no way to scroll there.
function cut(page, width) {
  return page.evaluate((wide) => [...document.querySelectorAll("button, a, p, li, td, th, label, h1, h2, dt, dd")].filter((one) => {
    const style = getComputedStyle(one);
    return one.offsetWidth > 1 && style.overflowX === "hidden" && style.textOverflow !== "ellipsis" && style.clipPath === "none" && one.scrollWidth > one.clientWidth + 1;
  }).map((one) => `${wide} px: cut off: ${one.textContent.slice(0, 60)}`), width);
}

// What is wrong is seen by its ring where colours are the system's.
function seenInForced(page, face) {
  return page.evaluate((name) => {
    const chosen = document.querySelector("tr.selected");
    const rings = [...document.querySelectorAll(".plan .d-ring path, #schedule .ring svg *")].filter((one) => one.getBoundingClientRect().width > 0);
    const ground = getComputedStyle(document.body).backgroundColor;
    const unseen = rings.filter((one) => { const { stroke, fill } = getComputedStyle(one); return [stroke, fill].every((ink) => ink === "none" || ink === ground); });
    return [...(name === "Bench" && rings.length === 0 ? ["no ring at all"] : []), ...(name === "Bench" && getComputedStyle(chosen).outlineStyle === "none" ? ["the chosen row looks like the others"] : []), ...(unseen.length > 0 ? [`${unseen.length} of ${rings.length} rings have the ink of the ground`] : [])];
  }, face);
}

async function spaced(page) {
  await page.evaluate((css) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets = [sheet]; }, SPACING);
  const wide = await page.evaluate(() => getComputedStyle(document.querySelector("#sentence")).letterSpacing);
  return wide === "normal" ? ["the spacing is not set"] : [];
}
