// A check that takes its time says how far it is, in the sentence and as a hairline; after ten seconds it can be stopped, and what was not
// proven by then is undecided; it goes on when somebody wants it to.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { cases, inBrowser, serve, SOURCE, violations } from "./served.mjs";

const WHO = [["baker", "yard door"], ["apprentice", "side door"], ["partner", "shop door"], ["driver", "yard door"], ["lodger", "back stairs"]];
const STEPS = WHO.flatMap(([who, door]) => [0, 1, 2, 3].map((i) => `      - {who: ${who}, in: 1..${40 + 7 * i} s, ${["open", "close"][i % 2]}: ${door}, maybe: yes}\n`)).join("");
// Each takes some seconds, all of them more than anybody here waits.
const BUSY = Array.from({ length: 24 }, (_, which) => `  - name: everybody at once ${which}\n    starts: {shop: full, flat: night}\n    steps:\n${STEPS}`).join("");

const test = cases();
await inBrowser(test, async (chromium) => {
  const bench = await serve("quayside", readFileSync(join(SOURCE, "demo", "quayside.yaml"), "utf8").replace("  - name: apprentice opens\n", `${BUSY}  - name: apprentice opens\n`));
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: "reduce" });
  const page = await context.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (message) => { if (message.type() === "error") wrong.push(message.text()); });
  await page.goto(bench.address);
  const sentence = page.locator("#sentence");
  const bar = page.locator("#sentence progress");
  await test.case("how many routines are done, in words and as a hairline", async () => {
    await bar.waitFor({ timeout: 30000 });
    const words = await sentence.textContent();
    const drawn = await bar.evaluate((one) => [one.value, one.max, one.getBoundingClientRect().height, one.getBoundingClientRect().width > 100]);
    return [...(/^Checking for the first time, \d+ of 70 routines done\.$/.test(words) ? [] : [words]), ...(words.includes(`${drawn[0]} of ${drawn[1]}`) && drawn[2] === 2 && drawn[3] ? [] : [JSON.stringify(drawn)]), ...await violations(page)];
  });
  const stop = page.getByRole("button", { name: "Stop", exact: true }).and(page.locator("#sentence *"));
  await test.case("stopping is not offered at once, but after ten seconds", async () => {
    const early = await stop.count();
    await stop.waitFor({ timeout: 20000 });
    return [...(early === 0 ? [] : ["at once"]), ...await violations(page)];
  });
  await test.case("stopped: what is not proven is undecided; how to go on, and what would narrow it", async () => {
    await stop.click();
    const on = page.getByRole("button", { name: "Go on" });
    await on.waitFor({ timeout: 20000 });
    const words = await sentence.textContent();
    await page.getByRole("button", { name: "What would narrow it" }).click();
    const told = await page.locator("#findings .selected").innerText();
    return [...(/^Of 70 routines, one is proven; .* 6\d are undecided\./.test(words) ? [] : [words]), ...(/widest time is/.test(told) ? [] : [told]), ...await bar.count() === 0 ? [] : ["a hairline is left"], ...await violations(page)];
  });
  await test.case("gone on with, it says again how far it is, after what it said before", async () => {
    await page.getByRole("button", { name: "Go on" }).click();
    await bar.waitFor({ timeout: 20000 });
    const words = await sentence.textContent();
    return /undecided; checking, \d+ of 70 routines done\./.test(words) ? [] : [words];
  });
  await test.case("no complaint", async () => wrong);
  await context.close();
  await bench.end();
});
