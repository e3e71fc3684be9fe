// The schedule as a spreadsheet: cell to cell by keys, serial numbers, rows pasted from a table.
import { writeFileSync } from "node:fs";
import { cases, inBrowser, open, rested, serve, tooWide, violations, WIDTHS } from "./served.mjs";

const test = cases();
await inBrowser(test, run);

async function run(chromium) {
  const bench = await serve("ropewalk");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  const { page, wrong } = await open(context, bench);
  const here = () => page.evaluate(() => document.activeElement.getAttribute("aria-label"));
  const keys = async (...all) => { for (const key of all) await page.keyboard.press(key); };
  const same = (got, wanted) => (got === wanted ? [] : [`got ${got}, wanted ${wanted}`]);
  await test.case("one tab stop; arrows go from cell to cell and change nothing, over what cannot be edited too", async () => {
    const before = bench.text();
    const stops = await page.evaluate(() => [...document.querySelectorAll("tr[data-zone] :is(select, button, input)")].filter((one) => one.tabIndex === 0).length);
    await page.getByRole("combobox", { name: "behaviour of zone 1", exact: true }).focus();
    await keys("ArrowDown", "ArrowDown");
    const down = await here();
    await keys("ArrowRight", "ArrowRight", "ArrowUp", "ArrowLeft");
    return [...same(stops, 1), ...same(down, "behaviour of zone 3"), ...same(await here(), "reports, zone 2"), ...same(bench.text(), before)];
  });
  await test.case("the cell one is in is still the one when an edit comes back", async () => {
    await page.getByRole("switch", { name: "chime, zone 3", exact: true }).focus();
    await keys("Space");
    await page.waitForFunction(() => document.querySelector('[aria-label="chime, zone 3"]').getAttribute("aria-checked") === "true", undefined, { timeout: 60000 });
    const at = await here();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.waitForFunction(() => document.querySelector('[aria-label="chime, zone 3"]').getAttribute("aria-checked") === "false", undefined, { timeout: 60000 });
    await rested(page);
    return same(at, "chime, zone 3");
  });
  await page.getByRole("button", { name: "devices", exact: true }).click();
  const serial = (zone) => page.getByRole("textbox", { name: `serial of zone ${zone}`, exact: true });
  const written = (zone, value) => page.waitForFunction(([number, wanted]) => document.querySelector(`[aria-label="serial of zone ${number}"]`)?.defaultValue === wanted, [zone, value], { timeout: 60000 });
  await test.case("a serial number that is on another zone is told as one types, before it is written", async () => {
    const before = bench.text();
    await serial(2).fill("0821 40");
    const quiet = await page.locator(".also", { hasText: "also" }).count();
    await page.keyboard.type("1");
    await page.locator(".also", { hasText: "also on zone 1" }).waitFor();
    const found = await violations(page);
    await keys("Escape");
    return [...found, ...same(quiet, 0), ...same(await serial(2).inputValue(), "0821 402"), ...same(await page.locator(".also", { hasText: "also" }).count(), 0), ...same(bench.text(), before)];
  });
  await test.case("Enter writes it and goes down; what was typed is in the file, in quotes", async () => {
    await serial(2).fill("0999 002");
    await keys("Enter");
    const at = await here();
    await written(2, "0999 002");
    return [...same(at, "serial of zone 3"), ...same(bench.text().includes('{name: garden contact, profile: slim-contact, on: garden door, serial: "0999 002"}'), true)];
  });
  await test.case("what is being typed outlives a change by another hand", async () => {
    await serial(4).fill("0777 1");
    writeFileSync(bench.file, bench.text().replace("name: Terrace on the ropewalk", "name: Terrace by another hand"));
    await page.locator("h1", { hasText: "Terrace by another hand" }).waitFor();
    await page.keyboard.type("23");
    const typed = await serial(4).inputValue();
    await keys("Escape");
    return same(typed, "0777 123");
  });
  await test.case("rows pasted into the table: what would change and what does not fit, before anything is written", async () => {
    await rested(page);
    const before = bench.text();
    const rows = "no.\tbehaviour\tchime\tserial\n3\tinterior\tyes\t0821 999\n4\tsometimes\tno\t\n12\t\t\t\n";
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.setData("text/plain", text);
      document.querySelector("#schedule tbody td").dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
    }, rows);
    await page.locator(".unfit li", { hasText: "does not offer “sometimes”" }).waitFor();
    const told = await page.locator(".paste").innerText();
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    await page.setViewportSize({ width: 1280, height: 900 });
    return [...found, ...["row 4: zone 12 is new", "zone 3 · behaviour", "Write 3 changes, leave out the rest"].filter((words) => !told.includes(words)), ...same(bench.text(), before)];
  });
  await test.case("written in one step, and one undo takes it back", async () => {
    const before = bench.text();
    await page.getByRole("button", { name: /Write 3 changes/ }).click();
    await written(3, "0821 999");
    const after = bench.text();
    await page.getByRole("button", { name: "Undo" }).click();
    await written(3, "0821 403");
    return [...same(/device: front window contact, behaviour: interior, chime: yes/.test(after), true), ...same(bench.text(), before)];
  });
  await test.case("measured where one stands: a level goes into the file with its unit and its day, and out again", async () => {
    const before = bench.text();
    await page.locator('button.number[aria-label^="zone 1,"]').click();
    const level = page.getByRole("textbox", { name: "level at the panel, zone 1", exact: true });
    const computed = await page.locator(".measured").innerText();
    await level.fill("-71");
    await keys("Enter");
    await page.waitForFunction(() => document.querySelector('[aria-label="level at the panel, zone 1"]')?.defaultValue === "-71 dBm", undefined, { timeout: 60000 });
    const after = bench.text();
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    await page.setViewportSize({ width: 1280, height: 900 });
    await level.fill("as loud as it gets");
    await keys("Enter");
    await page.locator(".measured [role=alert]", { hasText: "dBm" }).waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.waitForFunction(() => document.querySelector('[aria-label="level at the panel, zone 1"]')?.defaultValue === "", undefined, { timeout: 60000 });
    return [...found, ...same(/computed -[0-9]+ to -[0-9]+ dBm/.test(computed), true), ...same(/device: front contact,.* measured: "?-71 dBm"?, measured-on: 20[0-9-]+/.test(after), true), ...same(bench.text(), before)];
  });
  await test.case("schedule: no complaint but of the refusal", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}
