// What can be done here: Shift+F10 lists the verbs of what has the focus, and each of them does what it says. By keys; by touch by a word.
import { cases, inBrowser, open, rested, serve, tooWide, violations } from "./served.mjs";

const test = cases();
await inBrowser(test, async (chromium) => {
  const bench = await serve("quayside-as-found");
  await byKeys(chromium, bench);
  await byTouch(chromium, bench);
  await bench.end();
});

function same(got, wanted) {
  return got === wanted ? [] : [`${got}, not ${wanted}`];
}

function verbs(page) {
  return page.locator("#here li button span:first-child").allInnerTexts();
}

// Opens the list where the focus is, and takes a verb from it.
async function does(page, words) {
  await page.keyboard.press("Shift+F10");
  await page.locator("#here li button").filter({ has: page.getByText(words, { exact: true }) }).click();
  return same(await page.locator("#here").isVisible(), false);
}

async function byKeys(chromium, bench) {
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const first = bench.text();
  const thing = page.locator('.plan [data-about="zones[1]"]'); // a motion detector
  const plan = (name) => page.locator(".plan").getAttribute(name);
  const shown = async (is) => { for (let i = 0; i < 100 && !is(await plan("viewBox")); i += 1) await page.waitForTimeout(50); };
  const written = async (before) => { for (let i = 0; i < 300 && bench.text() === before; i += 1) await page.waitForTimeout(50); await rested(page); return bench.text() === before ? ["nothing was written"] : []; };
  await test.case("on a thing of the drawing: its verbs, gone through by arrows; Esc closes and gives back the place", async () => {
    await thing.focus();
    await page.keyboard.press("Shift+F10");
    const list = await verbs(page);
    const found = await violations(page);
    await page.keyboard.press("ArrowDown");
    const second = await page.evaluate(() => document.activeElement.textContent);
    await page.keyboard.press("Escape");
    const at = await page.evaluate(() => document.activeElement.dataset.about);
    return [...found, ...same(list.join(", "), "choose it, move it by arrows, turn it by 5°, turn it back by 5°, take it off the drawing, show the next layer, one storey up, one storey down, look closer, list it in words"), ...same(/^move it/.test(second), true), ...same(at, "zones[1]")];
  });
  await test.case("choose, let go, next layer, storey, closer, whole sheet, words: each does it", async () => {
    const found = [];
    await thing.focus();
    found.push(...await does(page, "choose it"), ...same(await page.locator("tr.selected[data-zone]").getAttribute("data-zone"), "2"));
    await thing.focus();
    found.push(...await does(page, "let it go"), ...same(await page.locator("tr.selected").count(), 0));
    await thing.focus();
    found.push(...await does(page, "show the next layer"), ...same(await page.locator(".layers [aria-pressed=true]").innerText(), "sight"));
    await page.locator(".layers button").first().click();
    await page.locator(".plan").focus();
    const box = await plan("viewBox");
    found.push(...await does(page, "look closer"));
    await shown((part) => part !== box); // with the next frame
    found.push(...same(await plan("viewBox") === box, false));
    await page.locator(".plan").focus();
    found.push(...await does(page, "the whole sheet"));
    await shown((part) => part === box);
    found.push(...same(await plan("viewBox"), box));
    await page.locator(".plan").focus();
    found.push(...await does(page, "one storey up"), ...same(await page.locator("#drawing-title").innerText(), "flat"));
    await page.locator(".plan").focus();
    found.push(...await does(page, "one storey down"), ...same(await page.locator("#drawing-title").innerText(), "ground"));
    await page.locator(".plan").focus();
    found.push(...await does(page, "list it in words"), ...same(await page.locator('[data-key="words-line"]').isVisible(), true));
    return found;
  });
  await test.case("move, turn, take off: each is one step that undo takes back", async () => {
    const found = [];
    const back = async () => { const was = bench.text(); await page.keyboard.press("Control+z"); await written(was); return same(bench.text(), first); };
    await thing.focus();
    found.push(...await does(page, "move it by arrows"));
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    found.push(...await written(first), ...await back());
    for (const words of ["turn it by 5°", "turn it back by 5°", "take it off the drawing"]) {
      await thing.focus();
      found.push(...await does(page, words), ...await written(first), ...await back());
    }
    return found;
  });
  await test.case("in a row of the schedule: what is wrong with it, the next finding, live with it, chime", async () => {
    const found = [];
    const cell = (key) => page.locator(`[data-key="${key}"]`).first();
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await cell("zone-6-behaviour").focus();
    found.push(...await does(page, "say what is wrong with it"), ...same(await page.locator("#schedule .explained .headline").isVisible(), true));
    await cell("zone-6-behaviour").focus();
    found.push(...await does(page, "live with it"), ...same(await page.locator("#schedule .waive form").isVisible(), true));
    await cell("zone-6-behaviour").focus();
    found.push(...await does(page, "turn its chime"), ...await written(first));
    const was = bench.text();
    await page.keyboard.press("Control+z");
    await written(was);
    return found;
  });
  await test.case("in the story: event by event, to its ends, the next story", async () => {
    const found = [];
    await page.locator(".clause.wrong").first().click();
    const lanes = page.locator(".lanes");
    const second = async () => Number(await lanes.getAttribute("aria-valuenow"));
    const at = async (words) => { await lanes.focus(); found.push(...await does(page, words)); return second(); };
    const [begin, next, before, end] = [await at("to its beginning"), await at("to the next event"), await at("to the event before"), await at("to its end")];
    found.push(...same(begin < next && before === begin && end > next, true));
    const title = await page.locator("#ribbon-title").innerText();
    await at("the next story");
    return [...found, ...same(await page.locator("#ribbon-title").innerText() === title, false)];
  });
  await test.case("what can be done here: no complaint", async () => wrong);
  await context.close();
}

async function byTouch(chromium, bench) {
  const context = await chromium.newContext({ viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  await test.case("by touch: the word below the sheet lists the verbs of what is chosen, 44 px each", async () => {
    await page.locator('[data-key="part-drawing"]').tap();
    await page.locator('.plan [data-about="zones[1]"]').dispatchEvent("click");
    await page.locator('[data-key="more"]').tap();
    const low = await page.locator("#here button").evaluateAll((all) => all.filter((one) => one.offsetHeight < 44).length);
    const list = await verbs(page);
    const found = [...await violations(page), ...await tooWide(page, 360)];
    await page.locator("#here button", { hasText: "let it go" }).tap();
    return [...found, ...same(low, 0), ...same(list.includes("move it by arrows"), true), ...same(await page.locator(".plan .d-chosen").count(), 0)];
  });
  await test.case("by touch: no complaint", async () => wrong);
  await context.close();
}
