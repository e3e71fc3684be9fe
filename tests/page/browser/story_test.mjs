// A story that is asked for: in sight as soon as its clause is pressed; where one stands in it is in the address and comes back with a
// reload; on a phone it is a list downwards.
import { cases, inBrowser, open, rested, serve, tooWide, violations } from "./served.mjs";

const test = cases();
const SIZES = [{ width: 1280, height: 800 }, { width: 768, height: 1024 }];

// What of the story is not wholly within the window or lies under something else; what of the sentence that is in the window does.
function hidden(page) {
  return page.evaluate(() => {
    const found = [];
    const free = (one, within) => {
      const box = one.getBoundingClientRect();
      const inside = box.top >= 0 && box.bottom <= window.innerHeight;
      const at = inside ? document.elementFromPoint(box.left + Math.min(20, box.width / 2), (box.top + box.bottom) / 2) : null;
      return { inside, covered: inside && !within.contains(at) };
    };
    const ribbon = document.getElementById("ribbon");
    for (const [name, one] of [["title", document.getElementById("ribbon-title")], ["first lane", ribbon.querySelector(".lanes .lane")]]) {
      if (!one) { found.push(`no ${name}`); continue; }
      const { inside, covered } = free(one, ribbon);
      if (!inside || covered) found.push(`${name}: ${covered ? "covered" : `at ${Math.round(one.getBoundingClientRect().top)} px of ${window.innerHeight}`}`);
    }
    const sentence = document.getElementById("sentence");
    for (const clause of sentence.querySelectorAll(".clause")) if (free(clause, sentence).covered) found.push(`covered: ${clause.textContent}`);
    return found;
  });
}

async function inSight(chromium, size) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: size, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const name = `${size.width} x ${size.height}`;
  await test.case(`${name}: pressing a clause that is not good brings its story into sight, and the focus stays`, async () => {
    const clause = page.locator("#sentence .clause.wrong").first();
    const key = await clause.getAttribute("data-key");
    await clause.click();
    await page.locator("#ribbon .lanes").waitFor();
    const focused = await page.evaluate(() => document.activeElement.dataset.key);
    return [...await hidden(page), ...(focused === key ? [] : [`the focus is on ${focused}`])];
  });
  await test.case(`${name}: pressed again, the next one is in sight`, async () => {
    const title = await page.locator("#ribbon-title").innerText();
    await page.keyboard.press("Enter");
    return [...await hidden(page), ...(await page.locator("#ribbon-title").innerText() === title ? ["the same story"] : [])];
  });
  await test.case(`${name}: a finding pressed in its list stays where it can be read`, async () => {
    await page.locator("#leaves button").nth(1).click();
    const row = page.locator("#findings button.finding").nth(2);
    await row.click();
    const box = await row.boundingBox();
    return box.y >= 0 && box.y + box.height <= size.height ? [] : [`at ${box.y} px`];
  });
  await test.case(`${name}: no complaint`, async () => wrong);
  await context.close();
  await bench.end();
}

// What is chosen, and the second, are in the address; a reload comes back to them, back does not go through them.
async function address(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: SIZES[0], reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const stands = () => page.evaluate(() => ({ title: document.getElementById("ribbon-title").textContent, second: document.querySelector(".lanes")?.getAttribute("aria-valuenow"), row: document.querySelector("#schedule tr.selected")?.dataset.zone ?? null, length: history.length }));
  await test.case("a story and its second come back with a reload", async () => {
    await page.locator("#sentence .clause.wrong").first().click();
    await page.locator("#ribbon .lanes").focus();
    for (const key of ["Home", "ArrowRight", "ArrowRight"]) await page.keyboard.press(key);
    await page.waitForFunction(() => new RegExp(`/${document.querySelector(".lanes").getAttribute("aria-valuenow")}/`).test(decodeURIComponent(location.hash)));
    const before = await stands();
    await page.reload();
    await rested(page);
    const after = await stands();
    return JSON.stringify(before) === JSON.stringify(after) ? [] : [JSON.stringify(before), JSON.stringify(after)];
  });
  await test.case("a thing without a finding comes back too; what is let go leaves the address", async () => {
    await page.locator("#schedule tr[data-zone] .number").first().click();
    const before = [await page.evaluate(() => location.hash), await stands()];
    await page.reload();
    await rested(page);
    const after = [await page.evaluate(() => location.hash), await stands()];
    await page.locator("#schedule tr.selected .number").click();
    const free = await page.evaluate(() => location.hash);
    return [...(JSON.stringify(before) === JSON.stringify(after) ? [] : [JSON.stringify(before), JSON.stringify(after)]), ...(free === "#bench" ? [] : [free])];
  });
  await test.case("an address of what is not there chooses nothing", async () => {
    await page.goto(`${page.url().split("#")[0]}#bench/zones[99]/5/no.such finding`);
    await page.reload();
    await rested(page);
    return await page.locator("#schedule tr.selected").count() === 0 ? [] : ["something is chosen"];
  });
  await test.case("address: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

// A phone has the story as a list downwards, on its own part.
async function asList(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  await test.case("a phone: downwards, each line with its second and whose lane it is, and no lanes beside it", async () => {
    await page.locator("#sentence .clause.wrong").first().tap();
    await page.locator("#parts button", { hasText: "Story" }).tap();
    const lines = await page.locator("#ribbon .story li").evaluateAll((all) => all.map((one) => [one.querySelector(".clock").textContent, one.querySelector(".of").checkVisibility() && one.querySelector(".of").textContent, one.getBoundingClientRect().top]));
    const down = lines.every(([, , top], i) => i === 0 || top > lines[i - 1][2]);
    const of = lines.map((one) => one[1]).join();
    return [...(down && lines.length > 0 ? [] : ["not downwards"]), ...(of === "panel,baker,baker,sound" ? [] : [of]), ...(await page.locator("#ribbon .lanes").isVisible() ? ["lanes"] : []), ...await violations(page), ...await tooWide(page, 320)];
  });
  await test.case("a phone: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

await inBrowser(test, async (chromium) => {
  for (const size of SIZES) await inSight(chromium, size);
  await address(chromium);
  await asList(chromium);
});
