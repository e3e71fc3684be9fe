// Find: a line in the header opens a list beneath it; what is chosen there is chosen everywhere. And the foot of the sheet: how the site
// stands. By keys, by mouse, by touch on a phone.
import { cases, inBrowser, open, rested, serve, tooWide, violations } from "./served.mjs";

const test = cases();
await inBrowser(test, async (chromium) => {
  await byKeys(chromium);
  await onAPhone(chromium);
});

function same(got, wanted) {
  return got === wanted ? [] : [`${got}, not ${wanted}`];
}

function focused(page) {
  return page.evaluate(() => document.activeElement?.dataset.key ?? document.activeElement?.dataset.about ?? document.activeElement?.id ?? "");
}

async function byKeys(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const line = page.getByRole("searchbox");
  const lines = page.locator("#finding li");
  await test.case("Ctrl+/ opens the line; a number leads to its zone, chosen in the table and on the drawing", async () => {
    await page.keyboard.press("Control+/");
    await page.keyboard.type("side door");
    const told = await page.locator("#finding [role=status]").innerText();
    const found = [...await violations(page), ...await tooWide(page, 320)];
    await page.setViewportSize({ width: 1280, height: 900 });
    await line.press("Enter");
    return [...found, ...same(/^\d+ found$/.test(told), true), ...same(await page.locator("tr.selected[data-zone]").getAttribute("data-zone"), "6"), ...same(await page.locator(".plan .d-chosen").count(), 1),
      ...same(/zones.5.$/.test(await focused(page)), true), ...same(await page.locator("#finding").isVisible(), false)];
  });
  await test.case("by serial; arrows go through the list", async () => {
    const serial = /serial: "?(\d{4} \d{3})/.exec(bench.text())[1];
    await page.getByRole("button", { name: "Find", exact: true }).click();
    await line.fill(serial.replace(" ", ""));
    const count = await lines.count();
    await line.fill("window");
    await line.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    const second = await page.evaluate(() => document.activeElement.textContent);
    await page.keyboard.press("Enter");
    return [...same(count, 1), ...same(second.includes("window"), true), ...same(await page.locator(".plan .d-chosen").count(), 1)];
  });
  await test.case("what is not there is said; Esc closes, and gives back the place", async () => {
    await page.keyboard.press("Control+/");
    await line.fill("aviary");
    const told = await page.locator("#finding [role=status]").innerText();
    await page.keyboard.press("Escape");
    return [...same(told, "Nothing is called so."), ...same(await focused(page), "find"), ...same(await page.locator("#finding").isVisible(), false)];
  });
  await test.case("a routine is found on its own face", async () => {
    await page.keyboard.press("Control+/");
    await line.fill("dog must go out");
    await line.press("Enter");
    const within = await page.evaluate(() => document.activeElement.closest(".routine")?.textContent ?? "");
    const face = await page.locator(".faces [aria-current]").innerText();
    await page.locator(".faces button").first().click();
    return [...same(face, "Routines"), ...same(/dog must go out/.test(within), true)];
  });
  await test.case("the foot of the sheet says whose it is, how it was found, and when it was saved; it follows an edit", async () => {
    const foot = page.locator(".stands");
    const before = await foot.innerText();
    const was = bench.text();
    await page.locator('[data-key="zone-0-chime"]').click();
    await foot.getByText(/^revision 1$/).waitFor();
    for (let i = 0; i < 100 && bench.text() === was; i += 1) await page.waitForTimeout(50);
    await rested(page);
    const after = await foot.innerText();
    const day = new Date().toLocaleDateString("sv");
    return [...same(/^Quayside bakery.*\s+as found, unchanged\s+saved \d\d:\d\d$/.test(before), true), ...same(new RegExp(`as found ${day}\\s+revision 1\\s+saved \\d\\d:\\d\\d$`).test(after), true), ...await violations(page)];
  });
  await test.case("found by keys: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

async function onAPhone(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  await test.case("a phone: lines of 44 px, and the part where it is comes forward", async () => {
    await page.getByRole("button", { name: "Find", exact: true }).tap();
    await page.getByRole("searchbox").fill("shop");
    const low = await page.locator("#finding :is(input, li button)").evaluateAll((all) => all.filter((one) => one.offsetHeight < 44).length);
    const found = [...await violations(page), ...await tooWide(page, 320), ...await tooWide(page, 360)];
    await page.locator("#finding li button", { hasText: "room" }).first().tap();
    const part = await page.locator("#parts [aria-current]").innerText();
    return [...found, ...same(low, 0), ...same(part, "Drawing")];
  });
  await test.case("a phone: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
