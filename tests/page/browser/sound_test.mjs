// The ribbon sounds on demand, and a rehearsal's clock runs, in a real browser.
import { cases, inBrowser, open, serve, violations } from "./served.mjs";

const test = cases();
await inBrowser(test, async (chromium) => {
  await heard(chromium);
  await running(chromium);
});

async function heard(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  // The loudness of every voice as it is set, beside the browser's own sound.
  await context.addInitScript(() => {
    const set = AudioParam.prototype.setTargetAtTime;
    window.loudness = [];
    AudioParam.prototype.setTargetAtTime = function (value, ...rest) { window.loudness.push(value); return set.call(this, value, ...rest); };
  });
  const { page, wrong } = await open(context, bench);
  const loudest = () => page.evaluate(() => Math.max(0, ...window.loudness));
  const play = page.locator('[data-key="play"]');
  await page.locator(".clause.wrong").first().click();
  await page.locator(".lanes").waitFor();
  const toSiren = async () => { await page.locator(".lanes").focus(); await page.keyboard.press("End"); for (let i = 0; i < 3; i += 1) await page.keyboard.press("ArrowLeft"); };
  await test.case("a story plays in silence unless sound was asked for", async () => {
    await toSiren();
    await play.click();
    await page.waitForTimeout(800);
    return await loudest() === 0 ? [] : [`${await loudest()}`];
  });
  await test.case("asked for, the siren sounds while it plays, and ends with it", async () => {
    await page.locator('[data-key="sound"]').click();
    await toSiren();
    if (await play.textContent() === "Play") await play.click();
    await page.waitForFunction(() => Math.max(0, ...window.loudness) > 0, undefined, { timeout: 20000 });
    const found = await violations(page);
    await page.waitForFunction(() => document.querySelector('[data-key="play"]').textContent === "Play", undefined, { timeout: 60000 });
    await page.waitForTimeout(300);
    const last = await page.evaluate(() => window.loudness.slice(-2));
    return [...found, ...(last.every((value) => value === 0) ? [] : [`it still sounds: ${last}`])];
  });
  await test.case("sound: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

async function running(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 } });
  const { page, wrong } = await open(context, bench);
  const button = (name) => page.getByRole("button", { name, exact: true });
  await button("Rehearse").click();
  await page.getByLabel("how shop begins").selectOption("full");
  await button("apprentice").click();
  await test.case("before anything is done time cannot run", async () => (await button("runs").isDisabled() ? [] : ["it can"]));
  await test.case("after an act time runs by itself, until it is told to stand", async () => {
    await page.getByRole("combobox", { name: "where" }).selectOption("yard door");
    await button("goes through, it falls shut").click();
    await page.locator(".log", { hasText: "entry tone" }).waitFor();
    const second = () => page.evaluate(() => Number(document.querySelector(".lanes").getAttribute("aria-valuenow")));
    const before = await second();
    await button("runs ten times as fast").click();
    await page.waitForFunction((from) => Number(document.querySelector(".lanes").getAttribute("aria-valuenow")) >= from + 5, before, { timeout: 30000 });
    await button("stands").click();
    const stood = await second();
    await page.waitForTimeout(600);
    return [...(await second() === stood ? [] : ["it goes on"]), ...await violations(page)];
  });
  await test.case("while it runs an act is done at its second, and time goes on from there", async () => {
    await page.getByRole("combobox", { name: "where" }).selectOption("passage keypad");
    await button("runs").click();
    await button("keys the code").click();
    await page.locator(".log", { hasText: "shop is unset" }).waitFor();
    const runs = await button("runs").getAttribute("aria-pressed");
    return runs === "true" || await button("stands").getAttribute("aria-pressed") === "true" ? [] : [`runs: ${runs}`];
  });
  await test.case("running: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
