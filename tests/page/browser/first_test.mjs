// First use in a real browser: the blank page, the examples, and the list of sites.
import { copyFileSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { browser, cases, lacks, open, rested, serveFolder, SOURCE, tooWide, violations, WIDTHS } from "./served.mjs";

const EVIL = '<script>window.ran = 1</script>"><img src=x onerror="window.ran = 1">';

const test = cases();
const missing = lacks();
if (missing) {
  test.skip(missing);
} else {
  const chromium = await browser();
  try {
    for (const colorScheme of ["light", "dark"]) await blank(chromium, colorScheme);
    await example(chromium);
    await listed(chromium);
  } finally {
    await chromium.close();
  }
  test.end();
}

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
