// Revisions on the page: kept by a name, compared, brought back; the first one by itself.
import { cases, inBrowser, open, rested, serve, tooWide, violations, WIDTHS } from "./served.mjs";

const test = cases();
await inBrowser(test, run);

async function run(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  const { page, wrong } = await open(context, bench);
  const face = (name) => page.getByRole("button", { name, exact: true }).click();
  const names = () => page.locator(".kept b").allTextContents();
  const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`]);
  const found = bench.text();
  await test.case("before any change there is none, and the page says so", async () => {
    await face("Revisions");
    await page.getByText("None is kept yet").waitFor();
    return violations(page);
  });
  await test.case("the first change keeps what was found by itself", async () => {
    await face("Bench");
    await page.locator(".clause.wrong").first().click();
    await page.locator(".told .remedy .act").first().click();
    await page.waitForFunction(() => !document.getElementById("undo").disabled, undefined, { timeout: 60000 });
    await rested(page);
    await face("Revisions");
    await page.locator(".kept").waitFor();
    return [...same(await names(), ["as found"]), ...same(bench.text() === found, false)];
  });
  await test.case("Ctrl+S asks for a name; Enter keeps it", async () => {
    await face("Bench");
    await page.keyboard.press("Control+s");
    await page.keyboard.type("one remedy made");
    await page.keyboard.press("Enter");
    await page.getByText("Kept: “one remedy made”.").waitFor();
    return same((await names()).sort(), ["as found", "one remedy made"]);
  });
  await test.case("compared with what was found, something is better, and the newest is as it is", async () => {
    await page.getByRole("button", { name: "Compare with as found" }).click();
    const told = page.locator(".compared [role=status]");
    await told.waitFor({ timeout: 60000 });
    const first = await told.textContent();
    const seen = await violations(page);
    await page.getByRole("button", { name: "Compare with one remedy made" }).click();
    await page.getByText("Since “one remedy made” nothing that is checked has changed.").waitFor({ timeout: 60000 });
    return [...seen, ...(/^Since “as found”: .+ better, .+ worse\.$/.test(first) && !/ no things better/.test(first) ? [] : [first])];
  });
  await test.case("brought back, the file is what was found, and one undo takes that back", async () => {
    const before = bench.text();
    await page.getByRole("button", { name: "Bring back as found" }).click();
    await page.getByText("The site is as it was at “as found”.").waitFor({ timeout: 60000 });
    const back = bench.text();
    await page.locator("#undo").click();
    await rested(page);
    return [...same(back === found, true), ...same(bench.text() === before, true)];
  });
  await test.case("a name that is none is refused with the reason", async () => {
    await page.getByRole("textbox", { name: "name of the revision" }).fill("a/b");
    await page.keyboard.press("Enter");
    const told = await page.locator("#revisions [role=alert]").textContent();
    return /name of a file/.test(told) ? [] : [told];
  });
  for (const width of WIDTHS) await test.case(`${width} px: nothing reaches past the edge`, () => tooWide(page, width));
  await test.case("no error but of the refusal, nothing asked of elsewhere", async () => wrong.filter((line) => !/422/.test(line)));
  await bench.end();
}
