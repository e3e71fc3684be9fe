// The bench on a phone: the sentence keeps to what is not good, in four lines, and unfolds; below it one part at a time, by the words at
// the foot, by touch and by keys. Source of the size of targets: the page's own rule, 44 px; of focus not hidden: WCAG 2.2, 2.4.11.
import { cases, inBrowser, open, rested, serve, tooWide, violations } from "./served.mjs";

const PHONE = { viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true, reducedMotion: "reduce" };

const SECTIONS = { Verdict: "findings", Drawing: "drawing", Zones: "schedule", Story: "ribbon" };

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of ["quayside-as-found", "quayside"]) await shortly(chromium, demo);
  await parted(chromium);
});

function shown(page) {
  return page.evaluate(() => [...document.querySelectorAll("main > *")].filter((one) => one.offsetHeight > 0).map((one) => one.id).join(" "));
}

async function parted(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext(PHONE);
  const { page, wrong } = await open(context, bench);
  const bar = page.locator("#parts");
  const turn = (words) => bar.getByRole("button", { name: words, exact: true }).tap();
  await test.case("one part at a time, each by its word of 44 px, none past the edge", async () => {
    const found = [];
    for (const [words, id] of Object.entries(SECTIONS)) {
      await turn(words);
      found.push(...same(await shown(page), id), ...same(await bar.locator("[aria-current]").innerText(), words), ...await violations(page), ...await tooWide(page, 320), ...await tooWide(page, 360));
      await page.setViewportSize(PHONE.viewport);
    }
    await bar.locator("button").first().waitFor(); // once the window is as wide as it was
    const low = await page.evaluate(() => [...document.querySelectorAll("#parts button")].filter((one) => one.offsetHeight < 44 || one.offsetWidth < 44).length);
    return [...found, ...same(low, 0)];
  });
  await test.case("at its end the page stands above the bar, and so does what has the focus", async () => {
    await turn("Zones");
    const covered = await page.evaluate(() => {
      scrollTo(0, document.documentElement.scrollHeight);
      return document.querySelector("footer").getBoundingClientRect().bottom - document.getElementById("parts").getBoundingClientRect().top;
    });
    await page.evaluate(() => scrollTo(0, 0));
    await page.locator("#schedule .number").first().focus();
    const under = [];
    for (let i = 0; i < 30; i += 1) {
      await page.keyboard.press("ArrowDown");
      under.push(...await page.evaluate(() => (document.activeElement.getBoundingClientRect().bottom > document.getElementById("parts").getBoundingClientRect().top + 1 ? [`${document.activeElement.dataset.key} is under the bar`] : [])));
    }
    return [...under, ...(covered > 1 ? [`${covered} px of the foot are covered`] : [])];
  });
  await test.case("a clause leads to the part in which its finding stands, and what is chosen is told in each", async () => {
    await turn("Verdict");
    await page.locator(".clause.wrong").first().tap();
    const first = await shown(page);
    const told = await page.locator("#schedule .explained .headline").first().boundingBox();
    const foot = await bar.boundingBox();
    await turn("Story");
    const story = await page.locator("#ribbon-title").innerText();
    await turn("Drawing");
    const chosen = await page.locator(".plan .d-chosen").count();
    return [...same(first, "schedule"), ...same(told.y >= 0 && told.y + told.height <= foot.y, true), ...same(/first batch/.test(story), true), ...same(chosen, 1)];
  });
  await test.case("undo shows what it changed in the part where it is", async () => {
    await turn("Zones");
    const before = bench.text();
    await page.locator('[data-key="zone-0-chime"]').tap();
    for (let i = 0; i < 300 && bench.text() === before; i += 1) await page.waitForTimeout(50);
    await turn("Drawing");
    await page.locator("#undo").tap();
    await page.waitForFunction(() => document.activeElement?.dataset.key === "zone-0-chime", undefined, { timeout: 60000 });
    return same(await shown(page), "schedule");
  });
  await test.case("by keys: F6 goes from the part to the bar, a skip link to its part", async () => {
    await page.locator("#schedule").focus();
    await page.keyboard.press("F6");
    const at = await page.evaluate(() => document.activeElement.id);
    await page.locator(".skip", { hasText: "drawing" }).focus();
    await page.keyboard.press("Enter");
    return [...same(at, "parts"), ...same(await shown(page), "drawing")];
  });
  await test.case("a wide screen has all of them and no bar", async () => {
    await page.setViewportSize({ width: 1280, height: 800 });
    await page.waitForFunction(() => document.getElementById("parts").hidden);
    return same(await shown(page), "drawing leaves schedule ribbon");
  });
  await test.case("in parts: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

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
      await page.getByRole("link", { name: /^and [a-z]+ more$/ }).tap();
      const whole = await sentence.innerText();
      await page.evaluate(() => { document.adoptedStyleSheets = []; });
      return [...same(/, and [a-z]+ more; the rest holds\.$/.test(words), true), ...same(/Nine risks stand\. Five links are weak\. Standby falls at least 0\.5 h short of 4 h\./.test(whole), true)];
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
