// Who comes and goes, what is worth protecting and what a break-in has to beat, edited on the page.
import { cases, inBrowser, open, rested, serve, tooWide, violations, WIDTHS } from "./served.mjs";

const test = cases();
await inBrowser(test, run);

async function run(chromium) {
  const bench = await serve("ropewalk");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  const { page, wrong } = await open(context, bench);
  const named = (role, name) => page.getByRole(role, { name, exact: true });
  const holds = (pattern) => (pattern.test(bench.text()) ? [] : [`not in the file: ${pattern}`]);
  const written = async (act) => {
    const before = bench.text();
    await act();
    for (let i = 0; i < 300 && bench.text() === before; i += 1) await page.waitForTimeout(50);
    await rested(page);
  };
  const fill = (label, value) => written(async () => { await named("textbox", label).fill(value); await page.keyboard.press("Tab"); });
  await named("button", "Routines").click();
  await page.locator("#people-title").waitFor();
  await test.case("how long somebody keys, how he walks, whether he has a fob", async () => {
    await fill("how long mother keys the code", "5-8");
    await written(() => named("combobox", "how daughter walks").selectOption("child"));
    await written(() => named("checkbox", "lodger has a fob").check());
    return [...holds(/name: mother, codes-in: 5\.\.8 s/), ...holds(/name: daughter.*walks: child/), ...holds(/name: lodger.*fob: yes/), ...await violations(page)];
  });
  await test.case("what is no time stays in its field, with the reason", async () => {
    const before = bench.text();
    await named("textbox", "how long father keys the code").fill("soon");
    await page.keyboard.press("Tab");
    await page.locator("#routines .refusal").waitFor();
    return bench.text() === before ? [] : ["it was written"];
  });
  await test.case("somebody else, and an animal", async () => {
    await named("textbox", "who else comes and goes").fill("cleaner");
    await written(() => page.keyboard.press("Enter"));
    await named("textbox", "who else comes and goes").fill("dog");
    await named("checkbox", "it is an animal").check();
    await written(() => page.keyboard.press("Enter"));
    return [...holds(/name: cleaner/), ...holds(/name: dog, animal: (true|yes)/), ...(await page.locator("#routines .people b", { hasText: /^cleaner$/ }).count() === 1 ? [] : ["no cleaner is shown"])];
  });
  await test.case("who does something in a routine is not taken out, and it says why; who does not is", async () => {
    await named("button", "take out mother").click();
    await page.locator("#routines .refusal", { hasText: "stays:" }).waitFor();
    const kept = holds(/name: mother/);
    await written(() => named("button", "take out cleaner").click());
    return [...kept, .../name: cleaner/.test(bench.text()) ? ["the cleaner is still there"] : []];
  });
  await test.case("what is worth protecting, for how long it holds out, when help comes", async () => {
    await named("textbox", "what else is worth protecting").fill("stamps");
    await named("combobox", "in which room it is").selectOption("lodger's room");
    await written(() => named("button", "Add").last().click());
    await fill("how long stamps holds somebody up", "90 s");
    await fill("how long help takes", "10 min");
    await written(() => named("combobox", "what counts as heard").selectOption("siren"));
    return [...holds(/protects: stamps, room: lodger's room, takes: 90 s/), ...holds(/help-after: 10 min/), ...holds(/heard-by: siren/)];
  });
  await test.case("each is one step of undo", async () => {
    for (let i = 0; i < 4; i += 1) await written(() => page.locator("#undo").click());
    return /stamps|help-after|heard-by/.test(bench.text()) ? [bench.text().slice(-300)] : [];
  });
  for (const width of WIDTHS) await test.case(`${width} px: nothing reaches past the edge`, () => tooWide(page, width));
  await test.case("no error but of the refusals, nothing asked of elsewhere", async () => wrong.filter((line) => !/422/.test(line)));
  await bench.end();
}
