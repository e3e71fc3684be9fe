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
  const flag = (key, zone) => page.getByRole("switch", { name: `${key}, zone ${zone}`, exact: true });
  const isSet = (key, zone, wanted) => page.waitForFunction(([name, value]) => document.querySelector(`[aria-label="${name}"]`)?.getAttribute("aria-checked") === value, [`${key}, zone ${zone}`, wanted], { timeout: 60000 });
  const number = (zone) => page.locator(`button.number[aria-label^="zone ${zone},"]`);
  const chosen = () => page.locator("#schedule tr.selected[data-zone]").evaluateAll((all) => all.map((one) => one.dataset.zone).join());
  const undone = async (text) => { await page.getByRole("button", { name: "Undo" }).click(); for (let i = 0; i < 600 && bench.text() !== text; i += 1) await page.waitForTimeout(50); await rested(page); return same(bench.text(), text); };
  const changed = async (text) => { for (let i = 0; i < 600 && bench.text() === text; i += 1) await page.waitForTimeout(50); await rested(page); return bench.text(); };
  await test.case("Ctrl+D fills down from the row above, Delete takes out what is said, each is one step of undo", async () => {
    const before = bench.text();
    const [above, below] = await Promise.all([2, 3].map((zone) => page.getByRole("combobox", { name: `behaviour of zone ${zone}`, exact: true }).inputValue()));
    await page.getByRole("combobox", { name: "behaviour of zone 3", exact: true }).focus();
    await keys("Control+d");
    await changed(before);
    const filled = await page.getByRole("combobox", { name: "behaviour of zone 3", exact: true }).inputValue();
    const at = await here();
    const back = await undone(before);
    await flag("chime", 1).focus();
    await keys("Delete");
    const cleared = await changed(before);
    return [...same(above === below, false), ...same(filled, above), ...same(at, "behaviour of zone 3"), ...back, ...same(cleared.split("chime").length, before.split("chime").length - 1), ...await undone(before)];
  });
  await test.case("Ctrl+C copies the cell one is in, Ctrl+V puts it into another", async () => {
    const before = bench.text();
    const copied = await page.evaluate(() => {
      const clip = (type, label, text) => { const data = new DataTransfer(); if (text) data.setData("text/plain", text); document.querySelector(`[aria-label="${label}"]`).dispatchEvent(new ClipboardEvent(type, { clipboardData: data, bubbles: true, cancelable: true })); return data.getData("text/plain"); };
      const text = clip("copy", "behaviour of zone 3");
      clip("paste", "behaviour of zone 6", text);
      return text;
    });
    await changed(before);
    return [...same(await page.getByRole("combobox", { name: "behaviour of zone 6", exact: true }).inputValue(), copied), ...same(copied, "perimeter"), ...await undone(before)];
  });
  await test.case("several zones with Shift: what they have in common is changed at once, what differs reads various; in the drawing each is framed", async () => {
    const before = bench.text();
    await number(1).click();
    await number(3).click({ modifiers: ["Shift"] });
    const all = await chosen();
    const bar = page.getByRole("group", { name: "3 zones chosen" });
    const shown = await bar.getByRole("combobox", { name: "behaviour of all 3" }).inputValue();
    const frames = await page.locator(".plan .d-chosen").count();
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    await page.setViewportSize({ width: 1280, height: 900 });
    const wanted = await bar.getByRole("combobox", { name: "chime of all 3" }).inputValue() === "yes" ? "no" : "yes";
    await bar.getByRole("combobox", { name: "chime of all 3" }).selectOption(wanted);
    await changed(before);
    for (const zone of [1, 2, 3]) await isSet("chime", zone, String(wanted === "yes"));
    return [...found, ...same(all, "1,2,3"), ...same(shown, "various"), ...same(frames, 3), ...await undone(before)];
  });
  await test.case("with Ctrl one more or less; filled down from the first; Esc lets them go", async () => {
    const before = bench.text();
    await number(1).click();
    await number(3).click();
    await number(4).click({ modifiers: ["Control"] });
    await number(6).click({ modifiers: ["Control"] });
    await number(4).click({ modifiers: ["Control"] });
    const all = await chosen();
    await number(3).click({ modifiers: ["Control"] });
    await number(3).click({ modifiers: ["Control"] });
    const two = await chosen();
    await page.getByRole("combobox", { name: "behaviour of zone 6", exact: true }).focus();
    await keys("Control+d");
    await changed(before);
    const filled = await Promise.all([3, 6].map((zone) => page.getByRole("combobox", { name: `behaviour of zone ${zone}`, exact: true }).inputValue()));
    const back = await undone(before);
    await number(3).focus();
    await keys("Escape", "Escape");
    return [...same(all, "3,6"), ...same(two, "3,6"), ...same(filled[0], filled[1]), ...back, ...same(await chosen(), "")];
  });
  await test.case("with Shift and arrows by keys alone, by a finger with “choose several”; taken out together, brought back together", async () => {
    const before = bench.text();
    await number(2).focus();
    await keys("Shift+ArrowDown", "Shift+ArrowDown");
    const keyed = await chosen();
    await page.getByRole("button", { name: "let them go" }).click();
    await page.getByRole("button", { name: "choose several" }).click();
    await number(1).click();
    await number(2).click();
    const pressed = await chosen();
    const rows = await page.locator("#schedule tr[data-zone]").count();
    await page.getByRole("button", { name: "take them out" }).click();
    await changed(before);
    const left = await page.locator("#schedule tr[data-zone]").count();
    await page.getByRole("button", { name: "choose several" }).click();
    return [...same(keyed, "2,3,4"), ...same(pressed, "1,2"), ...same(left, rows - 2), ...await undone(before)];
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
