// Every face as people with other eyes and other machines have it: at each width in light and dark, with high contrast, with forced
// colours, with wider spacing of text, at 400 % zoom. Sources: WCAG 2.2, 1.4.3 (contrast, by axe-core), 1.4.10 (reflow: 320 CSS px
// are 1280 px at 400 %), 1.4.12 (text spacing: the four figures below).
import { cases, inBrowser, open, rested, serve, toFace, tooWide, violations, WIDTHS } from "./served.mjs";

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
  await papers(chromium);
});

// As it leaves a printer, on A4 with margins of 12 mm: no sheet is left empty, every storey is there with what its letters mean, and
// the lanes of a story end before the edge. Source of the sizes: ISO 216 (A4), 96 px an inch (CSS).
async function papers(chromium) {
  const MARGIN = { top: "12mm", bottom: "12mm", left: "12mm", right: "12mm" };
  const WIDE_PX = Math.floor((210 - 24) / 25.4 * 96);
  for (const [demo, face, most] of [["ropewalk", "Bench", 3], ["ropewalk", "Keying in", 2], ["surgery-as-found", "Bench", 3]]) {
    const bench = await serve(demo);
    const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
    const { page } = await open(context, bench);
    if (await page.locator(".clause.wrong").count() > 0) await page.locator(".clause.wrong").first().click();
    await page.locator(".faces button", { hasText: face }).click();
    await rested(page);
    await test.case(`${demo}, ${face}, printed: at most ${most} sheets, nothing past their edge`, async () => {
      const sheets = (await page.pdf({ format: "A4", margin: MARGIN })).toString("latin1").match(/\/Type\s*\/Page\b/g).length;
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: WIDE_PX, height: 1000 });
      await rested(page);
      const found = await page.evaluate(([wide, name]) => {
        const far = [...document.querySelectorAll("body *")].filter((one) => one.checkVisibility() && !one.closest(".read, .skip") && one.getBoundingClientRect().right > wide + 1);
        const marks = name === "Bench" ? [...document.querySelectorAll(".plan .d-sign ~ .d-mark, .plan .d-sign-dark ~ .d-mark-light")].map((one) => one.textContent).filter((mark) => !/^\d/.test(mark)) : [];
        const told = [...document.querySelectorAll(".letters.on-paper b")].map((one) => one.textContent);
        const printed = document.getElementById("printed");
        const absent = (name === "Bench" ? ["#drawing .plan", "#schedule table"] : ["#keying .line"]).filter((one) => !document.querySelector(one)?.checkVisibility());
        if (/the rest holds/.test(document.getElementById("sentence").textContent)) absent.push("all of the sentence");
        return [...absent.map((one) => `not on paper: ${one}`), ...far.slice(0, 3).map((one) => `past the edge: ${one.outerHTML.slice(0, 60)}`), ...marks.filter((mark) => !told.includes(mark)).map((mark) => `no words for ${mark}`), ...(name === "Bench" && marks.length === 0 ? ["no sign is drawn"] : []),
          ...(printed.checkVisibility() && /printed \d{4}-\d\d-\d\d/.test(printed.textContent) ? [] : ["nothing says when it was printed"])];
      }, [WIDE_PX, face]);
      await page.emulateMedia({ media: "screen" });
      await page.waitForFunction(() => document.querySelectorAll(".paper").length === 0 && !document.body.hasAttribute("data-paper"), undefined, { timeout: 20000 });
      return [...(sheets <= most ? [] : [`${sheets} sheets`]), ...found];
    });
    await context.close();
    await bench.end();
  }
}

// Every face of a bench in one look; more(page, face): what else is to hold.
async function looks(chromium, bench, name, options, widths, more = () => []) {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce", ...options });
  const { page, wrong } = await open(context, bench);
  await page.locator(".clause.wrong").first().click();
  await rested(page);
  const faces = await page.locator(".faces button").allInnerTexts();
  for (const face of faces) {
    await test.case(`${name}: ${face}`, async () => {
      await toFace(page, face);
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
