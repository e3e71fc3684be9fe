// What is heard: the names in the browser's own accessibility tree, of every thing of the drawing of every demo that has one, against sentences that
// names_expected.py makes of the site file and of what the program prints. And what is read when something is put down.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { COTTAGE, drag, written } from "./drawn.mjs";
import { BUILD, cases, inBrowser, open, serve, SOURCE, violations } from "./served.mjs";

const DEMOS = ["quayside-as-found", "quayside", "ropewalk-as-found", "ropewalk", "surgery-as-found", "surgery"];
const SAYS = "Arrows move between things, Enter edits, L lists in words";

function expected(file) {
  const made = spawnSync("python3", [join(SOURCE, "tests", "page", "browser", "names_expected.py"), join(BUILD, "shell", "cli", "lintel"), join(SOURCE, "data"), file], { encoding: "utf8" });
  if (made.status !== 0) throw new Error(made.stderr.trim().split("\n").slice(-3).join("\n"));
  return JSON.parse(made.stdout);
}

// What a reader finds in the drawing: the container, and below it each node that is not ignored.
async function heard(page) {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send("Accessibility.getFullAXTree");
  await session.detach();
  const of = (node, name) => node.properties?.find((one) => one.name === name)?.value.value;
  const plan = nodes.find((node) => !node.ignored && node.role?.value === "application");
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const below = (node) => node.childIds.flatMap((id) => { const child = byId.get(id); return child ? [...child.ignored ? [] : [child], ...child.role?.value === "button" && !child.ignored ? [] : below(child)] : []; });
  return { plan: { name: plan.name.value, description: plan.description?.value, role: of(plan, "roledescription") }, things: below(plan).map((node) => ({ role: node.role.value, name: node.name?.value })) };
}

const differ = (got, wanted, what) => {
  const left = [...got];
  const missing = wanted.filter((one) => { const at = left.indexOf(one); if (at >= 0) left.splice(at, 1); return at < 0; });
  return [...missing.map((one) => `${what}: missing ${one}`), ...left.map((one) => `${what}: besides ${one}`)];
};

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of DEMOS.filter((one) => new RegExp(process.env.PART ?? "").test(one))) {
    const bench = await serve(demo);
    const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
    const { page, wrong } = await open(context, bench);
    await test.case(`${demo}: each thing is called by its sentence, and nothing else is heard in the drawing`, async () => {
      const all = [];
      let count = 0;
      for (const [storey, sentences] of Object.entries(expected(bench.file))) {
        const button = page.locator(".section").getByRole("button", { name: storey, exact: true });
        if (await button.count() > 0) await button.click();
        const { plan, things } = await heard(page);
        all.push(...differ(things.map(({ name }) => name), sentences, storey), ...things.filter(({ role }) => role !== "button").map(({ role, name }) => `${storey}: ${role} ${name}`));
        if (plan.role !== "plan" || plan.description !== SAYS || plan.name !== `${storey}: ${sentences.length} things`) all.push(JSON.stringify(plan));
        count += sentences.length;
      }
      return [...all, ...(count > 12 ? [] : [`${count} things`])];
    });
    await test.case(`${demo}: no complaint, nothing violated`, async () => [...await violations(page), ...wrong]);
    await context.close();
    await bench.end();
  }
  await dropped(chromium);
});

// Read when it is put down, by mouse and by keys: where it now is, then the verdict.
async function dropped(chromium) {
  const bench = await serve("cottage", COTTAGE);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const read = page.locator(".edit-words");
  const says = async (wanted) => {
    await page.waitForFunction((words) => new RegExp(words).test(document.querySelector(".edit-words").textContent), wanted.source, { timeout: 20000 }).catch(() => {});
    const got = await read.textContent();
    return wanted.test(got) ? [] : [`read ${got}`];
  };
  await test.case("a door slid along its wall: its distance and the verdict are read when it is dropped, in one region that stays", async () => {
    await page.evaluate(() => { window.region = document.querySelector(".edit-words"); });
    const before = bench.text();
    await drag(page, "building.openings[1]", [1860, 2500]);
    await page.mouse.up();
    await written(page, bench, before);
    const read_ = await says(/^2\.05 m from the lower corner\. Verdict unchanged\.$/);
    return [...read_, ...(await page.evaluate(() => window.region === document.querySelector(".edit-words") && window.region.getAttribute("role") === "status") ? [] : ["the region was made anew"])];
  });
  await test.case("by keys, M and arrows: 5 cm on", async () => {
    const before = bench.text();
    await page.locator('.plan [data-about="building.openings[1]"]').focus();
    for (const key of ["m", "ArrowUp", "Enter"]) await page.keyboard.press(key);
    await written(page, bench, before);
    return says(/^2\.1 m from the lower corner\. Verdict unchanged\.$/);
  });
  await test.case("a detector put elsewhere in its room: the corner; where findings change, that is read", async () => {
    const before = bench.text();
    await drag(page, "zones[1]", [6000, 120]);
    await page.mouse.up();
    await written(page, bench, before);
    return says(/^front right corner\. Verdict (unchanged|changed, since the last edit: .*)\.$/);
  });
  await test.case("a window carried to another room: room, wall and distance", async () => {
    const before = bench.text();
    await drag(page, "building.openings[3]", [6120, 4900]);
    await page.mouse.up();
    await written(page, bench, before);
    return says(/^kitchen, right wall, 0\.\d+ m from the (upper|lower) corner\. Verdict (unchanged|changed, .*)\.$/);
  });
  await test.case("dropped: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
