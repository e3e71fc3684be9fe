// First use in a real browser: the blank page, the examples, and the list of sites. The way through it: newcomer_test.mjs.
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { cases, inBrowser, open, rested, serveFolder, tooWide, violations, SOURCE, WIDTHS } from "./served.mjs";

const EVIL = '<script>window.ran = 1</script>"><img src=x onerror="window.ran = 1">';

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const colorScheme of ["light", "dark"]) await blank(chromium, colorScheme);
  await example(chromium);
  await listed(chromium);
  await brought(chromium);
  await helped(chromium);
  await awake(chromium, true);
  await awake(chromium, false);
});

async function blank(chromium, colorScheme) {
  const bench = await serveFolder();
  const context = await chromium.newContext({ colorScheme, viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  await page.getByRole("button", { name: "Start drawing" }).waitFor();
  await test.case(`blank page, ${colorScheme}: nothing is violated, nothing reaches past the edge`, async () => {
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    return found;
  });
  await test.case(`blank page, ${colorScheme}: a measure that is none is told where it stands, and what was typed stays`, async () => {
    await page.getByLabel("What is the place called?").fill(EVIL.slice(0, 60));
    await page.getByLabel("to the right").fill("nine");
    await page.getByLabel("to the back").fill("7");
    await page.getByRole("button", { name: "Start drawing" }).click();
    await page.getByRole("alert").filter({ hasText: "Not begun yet" }).waitFor();
    return await page.getByLabel("to the right").inputValue() === "nine" && bench.files().length === 0 ? [] : [String(bench.files())];
  });
  await test.case(`blank page, ${colorScheme}: with all four unanswered there is a bench, and no script of a name runs`, async () => {
    await page.getByLabel("to the right").fill("");
    await page.getByLabel("to the back").fill("");
    await page.getByRole("button", { name: "Start drawing" }).click();
    await page.waitForURL(/\/site\/.*\.yaml\//);
    await rested(page);
    const ran = await page.evaluate(() => window.ran);
    return ran === undefined && await page.locator("h1").innerText() === EVIL.slice(0, 60) ? [] : [`ran: ${ran}`, await page.locator("h1").innerText()];
  });
  await test.case(`blank page, ${colorScheme}: no complaint but of the refusal`, async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

async function example(chromium) {
  const bench = await serveFolder();
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  await test.case("an example in two presses: checked, and its first fault explained", async () => {
    await page.getByRole("button", { name: "as found, with mistakes" }).first().click();
    await page.locator(".clause.wrong").first().click();
    await page.locator(".explained.wrong").waitFor();
    return bench.files().join() === "quayside-as-found.yaml" ? [] : [bench.files().join()];
  });
  await test.case("from its bench back to the list", async () => {
    await page.getByRole("link", { name: "All sites" }).click();
    await page.getByRole("link", { name: "Quayside bakery as found" }).waitFor();
    return [];
  });
  await test.case("example: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

async function listed(chromium) {
  const bench = await serveFolder((folder) => {
    for (const name of ["quayside", "ropewalk-as-found", "harbour"]) copyFileSync(join(SOURCE, "demo", `${name}.yaml`), join(folder, `${name}.yaml`));
    writeFileSync(join(folder, "evil.yaml"), `site: {name: ${JSON.stringify(EVIL)}}\npanel: {profile: halyard-28}\nareas: [{name: x}]\n`);
    writeFileSync(join(folder, "half.yaml"), "site: {name: Half\nzones: [{number: one}]\n");
    mkdirSync(join(folder, "none.yaml"));
  });
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  const shown = () => page.locator(".rows .open").allInnerTexts();
  await test.case("each site is listed with its verdict in a sentence", async () => {
    const row = (name) => page.locator(".site", { hasText: name }).locator(".says").innerText();
    const says = { "Quayside bakery": /All 46 routines are proven/, "Terrace on the ropewalk": /fail|false alarm/, "half.yaml": /cannot be read/, "Kestrel harbour": /proven/ };
    const all = [];
    for (const [name, sentence] of Object.entries(says)) if (!sentence.test(await row(name))) all.push(`${name}: ${await row(name)}`);
    return [...all, ...(await shown()).length === 5 ? [] : [`${(await shown()).length} sites`]];
  });
  await test.case("nothing is violated, nothing reaches past the edge, no script of a name runs", async () => {
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    return [...found, ...await page.evaluate(() => window.ran) === undefined ? [] : ["a script ran"]];
  });
  await test.case("what is sought is found by any word of it; a site is opened by keys alone", async () => {
    await page.getByLabel("find a site").focus();
    await page.keyboard.type("proven bakery");
    const found = await shown();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.waitForURL(/quayside/);
    await rested(page);
    return found.join() === "Quayside bakery" ? [] : found;
  });
  await test.case("list: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

// A file chosen or dropped: read, or told where it cannot be; into the folder, and into an open site.
async function brought(chromium) {
  const bench = await serveFolder((folder) => copyFileSync(join(SOURCE, "demo", "quayside.yaml"), join(folder, "quayside.yaml")));
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  const broken = Buffer.from(`site: {name: Half}\npanel: {profile: halyard-28}\nareas: [{name: x}]\nzones:\n  - {number: ${JSON.stringify(EVIL)}}\n`);
  await page.getByRole("button", { name: "Choose a file" }).waitFor();
  await test.case("a file that cannot be read is told with line and column, and kept where one says so", async () => {
    await page.getByLabel("site file").setInputFiles({ name: "half.yaml", mimeType: "application/yaml", buffer: broken });
    await page.locator("#brought b", { hasText: "line 5, column" }).first().waitFor();
    const found = await violations(page);
    const before = bench.files().join();
    await page.getByRole("button", { name: "Keep it as it is" }).click();
    await page.waitForURL(/half\.yaml/);
    await page.locator("#problems b", { hasText: "line 5, column" }).first().waitFor();
    return [...found, ...before === "quayside.yaml" && bench.text("half.yaml") === broken.toString() ? [] : [before, bench.text("half.yaml")], ...await page.evaluate(() => window.ran) === undefined ? [] : ["a script ran"]];
  });
  await test.case("what is no text is told, and nothing is written", async () => {
    const before = bench.text("half.yaml");
    await page.getByLabel("site file").setInputFiles({ name: "photo.yaml", mimeType: "image/jpeg", buffer: Buffer.from([0xff, 0xd8, 0xff, 0xe0]) });
    await page.locator("#brought h2", { hasText: "no text in UTF-8" }).waitFor();
    return bench.text("half.yaml") === before ? [] : ["it was written"];
  });
  await test.case("a file dropped on an open site takes its place, and Undo brings back what was there", async () => {
    await page.goto(`${new URL(page.url()).origin}/site/quayside.yaml/`);
    await rested(page);
    const text = readFileSync(join(SOURCE, "demo", "ropewalk.yaml"), "utf8");
    const data = await page.evaluateHandle((content) => { const all = new DataTransfer(); all.items.add(new File([content], "ropewalk.yaml")); return all; }, text);
    await page.dispatchEvent("main", "drop", { dataTransfer: data });
    await page.locator("h1", { hasText: "Terrace on the ropewalk" }).waitFor();
    const taken = bench.text("quayside.yaml") === text;
    await page.getByRole("button", { name: "Undo" }).click();
    await page.locator("h1", { hasText: "Quayside bakery" }).waitFor();
    return taken && bench.text("quayside.yaml") === readFileSync(join(SOURCE, "demo", "quayside.yaml"), "utf8") ? [] : ["the file is another"];
  });
  await test.case("import: no complaint but of the refusal", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

// Terms are explained where they stand, from docs/words.md.
async function helped(chromium) {
  const bench = await serveFolder((folder) => copyFileSync(join(SOURCE, "demo", "quayside-as-found.yaml"), join(folder, "quayside.yaml")));
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  await page.goto(`${new URL(page.url()).origin}/site/quayside.yaml/`);
  await rested(page);
  await test.case("a column is explained by keys alone, beside itself; Esc closes it and one stands where one was", async () => {
    await page.getByRole("button", { name: "supervised", exact: true }).focus();
    await page.keyboard.press("Enter");
    const note = page.locator("#note", { hasText: "a device that stays silent for too long is missed" });
    await note.waitFor();
    const box = await note.boundingBox();
    const found = await violations(page);
    await page.keyboard.press("Escape");
    await note.waitFor({ state: "hidden" });
    const at = await page.evaluate(() => document.activeElement.textContent);
    return [...found, ...box.x >= 0 && box.x + box.width <= 1280 && box.y >= 0 ? [] : [JSON.stringify(box)], ...at === "supervised" ? [] : [at]];
  });
  await test.case("so is a word of a reason, on a narrow screen too", async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.locator(".clause.wrong").first().click();
    const word = page.locator(".detail .term").filter({ visible: true }).first();
    await word.click();
    await page.locator("#note p b").waitFor();
    const box = await page.locator("#note").boundingBox();
    return [...await violations(page), ...box.x >= 0 && box.x + box.width <= 360 && box.y + box.height <= 740 ? [] : [JSON.stringify(box)]];
  });
  await test.case("help: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

// Beside the panel the screen stays awake where the browser permits it; where not, one sentence says so.
async function awake(chromium, permitted) {
  const bench = await serveFolder((folder) => copyFileSync(join(SOURCE, "demo", "quayside.yaml"), join(folder, "quayside.yaml")));
  const context = await chromium.newContext({ viewport: { width: 810, height: 1080 } });
  await context.addInitScript((granted) => {
    const held = { count: 0 };
    window.held = held;
    const request = async () => { if (!granted) throw new DOMException("no", "NotAllowedError"); held.count += 1; return { release: async () => { held.count -= 1; } }; };
    Object.defineProperty(navigator, "wakeLock", { value: { request } });
  }, permitted);
  const { page, wrong } = await open(context, bench);
  await page.goto(`${new URL(page.url()).origin}/site/quayside.yaml/`);
  await rested(page);
  const count = () => page.evaluate(() => window.held.count);
  const sentence = page.locator("#keying", { hasText: "This screen may fall asleep: lengthen its time-out." });
  await test.case(permitted ? "keying in keeps the screen awake, once, and lets it go again" : "where it may not be kept awake, one sentence says so", async () => {
    const before = await count();
    await page.getByRole("button", { name: "Keying in" }).click();
    if (!permitted) { await sentence.waitFor(); return []; }
    await page.waitForFunction(() => window.held.count === 1);
    await page.getByRole("checkbox").first().click();
    await page.locator(".tick[aria-checked=true]").first().waitFor();
    const during = await count();
    const told = await sentence.count();
    await page.getByRole("button", { name: "Bench", exact: true }).click();
    await page.waitForFunction(() => window.held.count === 0);
    return before === 0 && during === 1 && told === 0 ? [] : [`${before} ${during} ${told}`];
  });
  await test.case("awake: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
