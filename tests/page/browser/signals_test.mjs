// What the sentence says of signals: nothing before something is keyed in, then that nothing was seen, then how many were, as they come;
// the figures are those of lintel accept over the same archive.
import { join } from "node:path";
import { cases, inBrowser, lintel, listener, open, rested, serve } from "./served.mjs";

const WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const test = cases();

// What lintel accept has of it: the signals of required tests, and those of them that are seen.
function counted(bench, heard) {
  const { tests } = JSON.parse(lintel("accept", bench.file, "--archive", heard.archive, "--json").stdout);
  const signals = tests.filter((one) => one.required).flatMap((one) => one.signals.map((signal) => signal.id !== 0 || ["done", "by hand"].includes(one.state)));
  return { all: signals.length, seen: signals.filter(Boolean).length };
}

await inBrowser(test, async (chromium) => {
  const bench = await serve("surgery", null, (folder) => ["--archive", join(folder, "signals.db")]);
  const heard = await listener(bench.folder, "70518");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const sentence = page.locator("#sentence");
  const post = (path, body) => page.evaluate(([to, sent]) => fetch(to, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(sent) }).then((got) => got.status), [path, body]);
  await test.case("before anything is keyed in nothing is said of signals", async () => {
    await page.waitForTimeout(1500);
    const words = await sentence.innerText();
    return /signal|station/.test(words) ? [words] : [];
  });
  await test.case("once something is: nothing has been seen at the station yet", async () => {
    await page.getByRole("button", { name: "Keying in", exact: true }).click();
    await page.locator("#keying .tick").first().click();
    await page.getByRole("button", { name: "Bench", exact: true }).click();
    await page.locator("#sentence", { hasText: "Nothing has been seen at the station yet." }).waitFor({ timeout: 20000 });
    return [];
  });
  await test.case("what comes is counted at once, as lintel accept counts it", async () => {
    await post("./acceptance", { act: "begin", test: "", by: "" });
    const sent = lintel("rehearse", bench.file, "--to", heard.to, "--speed", "0", "--only", "mains");
    await page.locator("#sentence .clause", { hasText: "have been seen" }).waitFor({ timeout: 30000 });
    await page.waitForTimeout(1000);
    const { all, seen } = counted(bench, heard);
    const words = await page.locator("#sentence .clause", { hasText: "seen" }).innerText();
    return [...(sent.status === 0 ? [] : [sent.stderr]), ...(seen > 1 && words === `Of ${all} signals, ${WORDS[seen]} have been seen` ? [] : [`${words}, not ${seen} of ${all}`])];
  });
  await test.case("after a reload as well; pressed, it leads to the acceptance", async () => {
    await page.reload();
    await rested(page);
    const clause = page.locator("#sentence .clause", { hasText: "have been seen" });
    await clause.waitFor({ timeout: 20000 });
    await clause.click();
    return await page.locator("#acceptance .tests").isVisible() ? [] : ["no acceptance"];
  });
  await test.case("no complaint", async () => wrong);
  await context.close();
  await heard.end();
  await bench.end();
});
