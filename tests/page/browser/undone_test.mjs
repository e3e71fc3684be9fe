// Undo: it brings what it changed into view with the focus on it, and takes back one's own last step, not another's: two pages
// on one site.
import { cases, inBrowser, open, rested, serve } from "./served.mjs";

const test = cases();
await inBrowser(test, async (chromium) => {
  await run(chromium);
});

// Does something and waits until the file is otherwise and every page tells so.
async function written(bench, pages, act) {
  const before = bench.text();
  await act();
  for (let i = 0; i < 300 && bench.text() === before; i += 1) await new Promise((after) => { setTimeout(after, 100); });
  await pages[0].waitForTimeout(300);
  for (const page of pages) await rested(page);
  return bench.text() === before ? ["the file is as before"] : [];
}

function zone(bench, number) {
  return bench.text().split("\n").find((line) => line.includes(`- {number: ${number},`));
}

function same(got, wanted) {
  return got === wanted ? [] : [`${got}, not ${wanted}`];
}

function cell(page, index, key) {
  return page.locator(`[data-key="zone-${index}-${key}"]`);
}

function undoWords(page) {
  return page.locator("#undo").textContent();
}

function focused(page) {
  return page.evaluate(() => document.activeElement?.dataset.key ?? document.activeElement?.dataset.about ?? "");
}

async function inSight(page, key) {
  return page.evaluate((wanted) => {
    const box = document.querySelector(`[data-key="${wanted}"]`).getBoundingClientRect();
    return box.top >= 0 && box.bottom <= window.innerHeight && box.height > 0;
  }, key);
}

async function run(chromium) {
  const bench = await serve("quayside");
  const first = bench.text();
  const context = () => chromium.newContext({ viewport: { width: 1280, height: 700 }, reducedMotion: "reduce" });
  const [one, other] = [await open(await context(), bench), await open(await context(), bench)];
  const pages = [one.page, other.page];
  const [ann, ben] = pages;

  await test.case("what one page did the other cannot take back", async () => {
    const wrong = await written(bench, pages, () => cell(ann, 0, "chime").click());
    return [...wrong, ...same(await ben.locator("#undo").isDisabled(), true), ...(/chime/.test(await undoWords(ann)) ? [] : [await undoWords(ann)])];
  });
  await test.case("one's own last step is taken back, the other's later one stays", async () => {
    const wrong = await written(bench, pages, () => cell(ben, 1, "chime").click());
    const [of1, of2] = [zone(bench, 1), zone(bench, 2)];
    wrong.push(...await written(bench, pages, () => ann.locator("#undo").click()));
    wrong.push(...same(zone(bench, 2), of2), ...(zone(bench, 1) !== of1 && first.includes(zone(bench, 1)) ? [] : [zone(bench, 1)]));
    return [...wrong, ...same(await ann.locator("#undo").isDisabled(), true)];
  });
  await test.case("made again, it is there with the other's; both taken back, the file is as it was found", async () => {
    const wrong = await written(bench, pages, () => ann.locator("#redo").click());
    wrong.push(...await written(bench, pages, () => ben.locator("#undo").click()), ...await written(bench, pages, () => ann.locator("#undo").click()));
    return [...wrong, ...same(bench.text(), first)];
  });
  await test.case("where the other changed the same since, it says so and what to do, and changes nothing", async () => {
    const field = (page) => cell(page, 0, "behaviour");
    const was = await field(ann).inputValue();
    const [mine, theirs] = (await field(ann).locator("option").evaluateAll((all) => all.map((option) => option.value))).filter((value) => value && value !== was && !/entry/.test(value));
    const wrong = await written(bench, pages, () => field(ann).selectOption(mine));
    wrong.push(...await written(bench, pages, () => field(ben).selectOption(theirs)));
    const before = bench.text();
    await ann.locator("#undo").click();
    await ann.waitForFunction(() => document.getElementById("changes").textContent.includes("somebody else"), undefined, { timeout: 10000 });
    const told = await ann.locator("#changes").innerText();
    wrong.push(...same(bench.text(), before), ...(/It cannot be taken back: somebody else has changed the same since \(.*behaviour.*\)\. Let them undo that first, or set it/.test(told) ? [] : [told]));
    wrong.push(...await written(bench, pages, () => ben.locator("#undo").click()), ...await written(bench, pages, () => ann.locator("#undo").click()));
    return [...wrong, ...same(bench.text(), first)];
  });
  await test.case("what is one's own is so after a reload as well", async () => {
    const wrong = await written(bench, pages, () => cell(ann, 0, "chime").click());
    await ann.reload();
    await rested(ann);
    wrong.push(...await written(bench, pages, () => ann.locator("#undo").click()));
    return [...wrong, ...same(bench.text(), first)];
  });
  await test.case("what it changed comes into view with the focus on it, from wherever one was", async () => {
    const last = await ann.locator("tr[data-zone]").count() - 1;
    const wrong = await written(bench, pages, () => cell(ann, last, "chime").click());
    await ann.locator(".faces button", { hasText: "Routines" }).click();
    wrong.push(...await written(bench, pages, () => ann.keyboard.press("Control+z")));
    const key = `zone-${last}-chime`;
    return [...wrong, ...same(await focused(ann), key), ...same(await inSight(ann, key), true), ...same(await ann.locator(`[data-key="zones[${last}]"]`).getAttribute("aria-pressed"), "true")];
  });
  await test.case("a step of a routine: its face, its field; and keys go on from there", async () => {
    await ann.locator(".faces button", { hasText: "Routines" }).click();
    const field = ann.locator("#routines input.from-to").first();
    const key = await field.getAttribute("data-key");
    let wrong = await written(bench, pages, async () => { await field.fill("6:20-6:25"); await field.press("Enter"); });
    await ann.locator(".faces button", { hasText: "Bench" }).click();
    wrong = wrong.concat(await written(bench, pages, () => ann.keyboard.press("Control+z")));
    wrong.push(...same(await focused(ann), key), ...same(bench.text(), first));
    wrong.push(...await written(bench, pages, () => ann.keyboard.press("Control+Shift+z")), ...await written(bench, pages, () => ann.keyboard.press("Control+z")));
    return [...wrong, ...same(bench.text(), first)];
  });
  await test.case("a thing on the drawing is chosen there", async () => {
    await ann.locator(".faces button", { hasText: "Bench" }).click();
    const sign = ann.locator(".plan").locator(["zones[1]", "zones[3]", "zones[10]"].map((zone) => `[data-about="${zone}"]`).join(", ")).first(); // motion detectors
    const about = await sign.getAttribute("data-about");
    await sign.focus();
    await ann.keyboard.press("m");
    for (let i = 0; i < 8; i += 1) await ann.keyboard.press("Shift+ArrowDown");
    const wrong = await written(bench, pages, () => ann.keyboard.press("Enter"));
    wrong.push(...await written(bench, pages, () => ann.locator("#undo").click()));
    wrong.push(...same(await ann.locator(`.plan [data-about="${about}"]`).getAttribute("aria-pressed"), "true"), ...(/^(draw-)?(zones|building\.places)/.test(await focused(ann)) ? [] : [await focused(ann)]));
    return [...wrong, ...same(bench.text(), first)];
  });
  await test.case("no complaint", async () => [...one.wrong, ...other.wrong].filter((line) => !line.includes("status of 422"))); // which the one refused was
  await bench.end();
}
