// The page in a real browser: it opens without a complaint, asks nothing of elsewhere, reads well for who cannot see it, fits
// narrow and wide screens, and an edit changes the verdict and can be taken back.
import { cases, inBrowser, open, rested, serve, tooWide, violations, WIDTHS } from "./served.mjs";

const DEMOS = ["quayside-as-found", "quayside", "ropewalk"];

const test = cases();
await inBrowser(test, run);

async function run(chromium) {
  for (const demo of process.env.PART ? [] : DEMOS) {
    const bench = await serve(demo);
    for (const colorScheme of demo === "quayside" ? ["light", "dark"] : ["light"]) {
      const context = await chromium.newContext({ colorScheme, viewport: { width: 1280, height: 800 }, reducedMotion: "reduce" });
      const { page, wrong } = await open(context, bench);
      await test.case(`${demo}, ${colorScheme}: nothing is violated, as it opens and with the first finding`, async () => {
        const first = await violations(page);
        await page.locator(".number").nth(5).click();
        const zone = demo === "quayside" ? await violations(page) : [];
        if (await page.locator("#leaves").isVisible()) await page.locator("#leaves button").nth(1).click();
        await page.locator("button.finding").first().click();
        return [...first, ...zone, ...await violations(page)];
      });
      await test.case(`${demo}, ${colorScheme}: nothing reaches past the edge, from 320 to 1920 px`, async () => {
        const each = [];
        for (const width of WIDTHS) each.push(...await tooWide(page, width));
        return each;
      });
      await test.case(`${demo}, ${colorScheme}: no complaint and nothing asked of elsewhere`, async () => wrong);
      await context.close();
    }
    await bench.end();
  }
  const plays = [(one) => played(one, "no-preference"), (one) => played(one, "reduce")];
  for (const part of [figures, edited, drawn, ...plays, keyedIn, rehearsed, described].filter((one) => !process.env.PART || one.name === process.env.PART)) await part(chromium);
}

// Every figure of a finding on the page is one of its JSON, and every one of that is on the page. Also: what its edits would write.
async function figures(chromium) {
  for (const demo of ["quayside-as-found", "ropewalk-as-found", "surgery-as-found"]) {
    const bench = await serve(demo);
    const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
    const { page, wrong } = await open(context, bench);
    await page.locator("#leaves button").nth(1).click();
    await test.case(`${demo}: the figures of each finding are those of its JSON`, async () => {
      const { count, differs } = await page.evaluate(async () => {
        const { findings } = (await fetch("./state").then((got) => got.json())).report.check;
        const in_ = (text) => new Set(text.match(/\d+(?:[.,:]\d+)*/g) ?? []);
        const differs = [];
        findings.forEach((finding, i) => {
          document.querySelector(`[data-key="finding-${i}"]`).click();
          const shown = document.querySelector(".findings .selected").textContent;
          const said = [finding.headline, finding.why, finding.when, finding.remedy, finding.price];
          const known = in_([...said, ...(finding.also ?? []), finding.source, finding.place?.line, JSON.stringify(finding.edits)].join(" "));
          const [missing, stray] = [[...in_(said.join(" "))].filter((one) => !in_(shown).has(one)), [...in_(shown)].filter((one) => !known.has(one))];
          if (missing.length > 0 || (stray.length > 0 && !finding.edits?.length)) differs.push(`${finding.headline}: missing ${missing}, besides ${stray}`);
        });
        return { count: findings.length, differs };
      });
      return [...differs, ...(count > 20 ? [] : [`${count} findings`])];
    });
    await test.case(`${demo}: no complaint`, async () => wrong);
    await context.close();
    await bench.end();
  }
}

// Routines as strips: a from-to edited in place changes the verdict, one that cannot be is refused where it stands, one is told.
async function described(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  await page.getByRole("button", { name: "Routines", exact: true }).click();
  const routine = page.locator(".routine", { hasText: "dog must go out" });
  await test.case("a slower hand, typed as people type it: the verdict changes, undo brings it back", async () => {
    await routine.getByRole("textbox", { name: /keys the code/ }).fill("9-60");
    await page.keyboard.press("Enter");
    await routine.locator(".wrong", { hasText: "goes wrong" }).waitFor({ timeout: 60000 });
    const written = bench.text().includes("in: 9..60 s");
    await page.getByRole("button", { name: "Undo" }).click();
    await routine.locator("h3", { hasText: "proven" }).waitFor({ timeout: 60000 });
    return written ? [] : ["it is not in the file as 9..60 s"];
  });
  await test.case("what is no time is refused where it stands, and the file stays", async () => {
    const before = bench.text();
    await routine.getByRole("textbox", { name: /keys the code/ }).fill("soon");
    await page.keyboard.press("Enter");
    await routine.getByRole("alert").waitFor();
    return bench.text() === before ? [] : ["it was written"];
  });
  await test.case("steps are added, moved and taken out; the same as before is the same file", async () => {
    const before = bench.text();
    const steps = () => routine.locator(".steps li > span").allInnerTexts();
    const is = (wanted) => page.waitForFunction((list) => JSON.stringify([...document.querySelectorAll(".steps li > span")].map((one) => one.innerText)) === list, JSON.stringify(wanted), { timeout: 60000 });
    await routine.getByRole("button", { name: "change the steps" }).click();
    const first = await steps();
    await routine.getByRole("combobox", { name: "what is done" }).selectOption("pass");
    await routine.getByRole("combobox", { name: "with what" }).selectOption("landing");
    await routine.getByRole("textbox", { name: "how long after" }).fill("1-2 min");
    await routine.getByRole("button", { name: "Add", exact: true }).click();
    const added = [...first, "lodger passes zone 11"];
    await is(added);
    await rested(page);
    await routine.getByRole("button", { name: /^earlier: lodger passes/ }).click();
    await is([...first.slice(0, -1), added[3], first[2]]);
    await rested(page);
    await routine.getByRole("button", { name: /^take out: lodger passes/ }).click();
    await is(first);
    await rested(page);
    const told = await violations(page);
    const now = bench.text();
    for (let i = 0; i < 3; i += 1) {
      const was = bench.text();
      await page.getByRole("button", { name: "Undo" }).click();
      for (let k = 0; k < 600 && bench.text() === was; k += 1) await page.waitForTimeout(50);
      await rested(page);
    }
    return [...told, ...(bench.text() === before ? [] : ["three steps back it is another file"]), ...(now.includes("passes landing") ? ["words in the file"] : [])];
  });
  await test.case("a routine is told: words, lanes, people", async () => {
    await page.locator(".routine", { hasText: "first batch" }).getByRole("button", { name: "Tell it" }).click();
    await page.locator(".lanes").waitFor();
    await page.locator(".plan .d-person").first().waitFor();
    return /first batch/.test(await page.locator("#ribbon-title").innerText()) ? [] : ["not this one"];
  });
  await test.case("routines: nothing is violated, nothing reaches past the edge, no complaint", async () => {
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    return [...found, ...wrong.filter((line) => !/422/.test(line))];
  });
  await context.close();
  await bench.end();
}

// Acting: the apprentice comes in by the side door and does not reach the keypad; kept, it is proven like any routine.
async function rehearsed(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 } });
  const { page, wrong } = await open(context, bench);
  const log = () => page.locator(".log").innerText();
  const button = (name) => page.getByRole("button", { name, exact: true });
  await button("Rehearse").click();
  await page.getByLabel("how shop begins").selectOption("full");
  await button("apprentice").click();
  await test.case("a door opened on the drawing: the panel answers in words, the person stands there", async () => {
    await page.locator('.plan [data-about="building.openings[6]"]').click();
    await button("goes through, it falls shut").click();
    await page.locator(".log", { hasText: "entry tone" }).waitFor();
    return await page.locator(".plan .d-person").count() === 1 ? [] : ["nobody is drawn"];
  });
  await test.case("time goes on to what happens next, as the panel is set: no code, the siren", async () => {
    for (let i = 0; i < 3 && !/siren/.test(await log()); i += 1) await button("to the next thing that happens").click();
    return /the entry time ends/.test(await log()) && /siren/.test(await log()) ? [] : [await log()];
  });
  await test.case("taken back, and by words alone: the code is keyed in time", async () => {
    await page.locator(".lanes").focus();
    await page.keyboard.press("Home");
    for (let i = 0; i < 12; i += 1) await page.keyboard.press("ArrowRight");
    await page.getByRole("combobox", { name: "where" }).selectOption("passage keypad");
    await button("keys the code").click();
    await page.locator(".log", { hasText: "shop is unset" }).waitFor();
    return /siren/.test(await log()) ? [await log()] : [];
  });
  await test.case("no digit to press, no display: words only", async () => {
    const words = await page.locator("#acting button").allInnerTexts();
    return words.filter((word) => /^\d$|^[#*]$/.test(word.trim()));
  });
  await test.case("rehearse: nothing is violated, nothing reaches past the edge", async () => {
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    await page.setViewportSize({ width: 1280, height: 1000 });
    return found;
  });
  await test.case("kept, it stands in the file and is proven with the others", async () => {
    await page.getByLabel("Keep as routine, called").fill("late apprentice");
    await button("Keep").click();
    await page.locator("#sentence", { hasText: "All 47 routines are proven" }).waitFor({ timeout: 60000 });
    return /name: "?late apprentice|"name": ?"late apprentice"/.test(bench.text()) ? [] : ["it is not in the file"];
  });
  await test.case("rehearsing: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

// The programming sheet: ticks outlive a reload, and a value that changes afterwards says so.
async function keyedIn(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 } });
  const { page, wrong } = await open(context, bench);
  const tick = (name) => page.getByRole("checkbox", { name });
  await page.getByRole("button", { name: "Keying in" }).click();
  await page.locator(".groups button", { hasText: "Zone 6" }).click();
  await test.case("a line is ticked, and is so after a reload, in the same place", async () => {
    await tick("behaviour: entry").click();
    await page.waitForFunction(() => document.querySelector('.tick[aria-label="behaviour: entry"]').getAttribute("aria-checked") === "true");
    await page.reload();
    await tick("behaviour: entry").waitFor();
    await page.waitForFunction(() => document.querySelector('.tick[aria-label="behaviour: entry"]').getAttribute("aria-checked") === "true");
    return await page.locator(".one h2").innerText() === "Zone 6 · side door" ? [] : [await page.locator(".one h2").innerText()];
  });
  await test.case("the list of things is one tab stop; arrows go through it, Enter opens one", async () => {
    const title = () => page.locator(".one h2").innerText();
    await page.locator(".groups [aria-current]").focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    const next = await title();
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Tab");
    const within = await page.evaluate(() => document.activeElement.closest(".groups") !== null);
    return next === "Zone 7 · bakehouse window" && await title() === "Zone 6 · side door" && !within ? [] : [next, await title(), `still within: ${within}`];
  });
  await test.case("changed after it was keyed: the line says so and is to be keyed again", async () => {
    const { writeFileSync } = await import("node:fs");
    writeFileSync(bench.file, bench.text().replace("device: side contact, area: shop, behaviour: entry, delay: side", "device: side contact, area: shop, behaviour: perimeter"));
    await tick("behaviour: perimeter").waitFor({ timeout: 60000 });
    const was = await page.locator(".line.changed").innerText();
    return /was keyed as entry/.test(was) ? [] : [was];
  });
  await test.case("the rest of a zone at one press, on to the next", async () => {
    await page.getByRole("button", { name: "All keyed, next" }).click();
    await page.locator(".one h2", { hasText: "Zone 7" }).waitFor();
    await page.waitForFunction(() => [...document.querySelectorAll(".groups button")].some((one) => /Zone 6.*keyed/.test(one.innerText.replaceAll("\n", " "))));
    return [];
  });
  await test.case("keying in: nothing is violated, nothing reaches past the edge, no complaint", async () => {
    await rested(page);
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    return [...found, ...wrong];
  });
  await context.close();
  await bench.end();
}

// A story plays: the apprentice comes in, the door opens, the siren sounds, in words too; with less motion, event by event.
async function played(chromium, reducedMotion) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion });
  const { page, wrong } = await open(context, bench);
  await page.getByRole("combobox", { name: "behaviour of zone 2" }).selectOption("interior");
  await page.waitForSelector(".clause.wrong", { timeout: 60000 });
  await rested(page);
  await page.locator(".clause.wrong").first().click();
  const told = () => page.locator(".telling").innerText();
  const seen = () => page.evaluate(() => ({ people: document.querySelectorAll(".plan .d-person").length, ajar: document.querySelectorAll(".plan .ajar").length, sounds: document.querySelector(".plan").classList.contains("sounds") }));
  await test.case(`${reducedMotion}: a story is shown as it ends, siren, words and all`, async () => {
    const end = await seen();
    return end.sounds && end.people > 0 && /siren/.test(await told()) ? [] : [JSON.stringify(end), await told()];
  });
  await test.case(`${reducedMotion}: by keys to its beginning: nothing sounds, the words are those of the first second`, async () => {
    await page.locator(".lanes").focus();
    await page.keyboard.press("Home");
    const begin = await seen();
    return !begin.sounds && begin.ajar > 0 && !/siren/.test(await told()) ? [] : [JSON.stringify(begin), await told()];
  });
  await test.case(`${reducedMotion}: it plays to its end by itself`, async () => {
    await page.locator(".lanes").focus();
    await page.keyboard.press(" ");
    const moved = new Set();
    for (let i = 0; i < 200 && await page.locator(".play").innerText() === "Stop"; i += 1) {
      moved.add(await page.locator(".lanes .now").getAttribute("transform"));
      await page.waitForTimeout(100);
    }
    const end = await seen();
    const steps = reducedMotion === "reduce" ? moved.size > 1 && moved.size < 12 : moved.size > 12;
    return end.sounds && steps ? [] : [JSON.stringify(end), `${moved.size} places of the line`];
  });
  await test.case(`${reducedMotion}: with the ribbon nothing is violated, nothing reaches past the edge, no complaint`, async () => {
    const found = await violations(page);
    for (const width of WIDTHS) found.push(...await tooWide(page, width));
    return [...found, ...wrong];
  });
  await context.close();
  await bench.end();
}

// The drawing and the schedule speak of the same things.
async function drawn(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  const pressed = () => page.locator('.plan [aria-pressed="true"]').evaluateAll((list) => list.map((one) => one.dataset.about).sort().join(" "));
  const same = (got, wanted) => (got === wanted ? [] : [`got    ${got}`, `wanted ${wanted}`]);
  await test.case("a zone chosen in the table is chosen on the drawing, with its opening", async () => {
    await page.getByRole("button", { name: "zone 6, side door", exact: true }).first().click();
    const first = await page.evaluate(() => document.querySelectorAll(".plan .d-chosen").length);
    return [...same(await pressed(), "building.openings[6] zones[5]"), ...same(String(first), "1")];
  });
  await test.case("a sign chosen on the drawing is chosen in the table", async () => {
    await page.locator('.plan [data-about="zones[3]"]').click();
    return same(await page.locator("#schedule tr.selected .says").innerText(), "shop floor");
  });
  await test.case("a zone of another storey brings its storey", async () => {
    await page.locator('#schedule [data-key="zones[9]"]').click();
    return [...same(await page.locator("#drawing-title").innerText(), "flat"), ...same(String(await page.locator(".plan .d-chosen").count()), "1")];
  });
  await test.case("by keys alone: storey, from thing to thing, choose", async () => {
    await page.locator(".plan").focus();
    await page.keyboard.press("PageDown");
    await page.keyboard.press("ArrowDown");
    const from = await page.evaluate(() => document.activeElement.dataset.about);
    await page.keyboard.press("ArrowRight");
    const to = await page.evaluate(() => document.activeElement.dataset.about);
    await page.keyboard.press("Enter");
    return [...same(await page.locator("#drawing-title").innerText(), "ground"), ...(from && to && from !== to ? [] : [`from ${from} to ${to}`]),
      ...same(String((await pressed()).split(" ").includes(to)), "true"), ...same(await page.evaluate(() => document.activeElement.dataset.about), to)];
  });
  await test.case("what is wrong shows where it is: a ring on the sign, its reason in the row", async () => {
    await page.getByRole("combobox", { name: "behaviour of zone 6" }).selectOption("perimeter");
    await page.waitForSelector(".plan .d-ring.fault", { timeout: 60000 });
    await rested(page);
    await page.locator(".clause.wrong").first().click();
    return [...same(await page.locator(".told .explained.wrong").count().then(String), "1"), ...same(await pressed(), "building.openings[6] zones[5]"), ...await violations(page)];
  });
  await test.case("its remedy, pressed, mends it, and one undo takes it back", async () => {
    await page.locator(".told .remedy .act").click();
    await page.waitForFunction(() => document.querySelectorAll(".clause.wrong").length === 0, undefined, { timeout: 60000 });
    await rested(page);
    const mended = await page.locator("#sentence").innerText();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.waitForSelector(".clause.wrong", { timeout: 60000 });
    return [...same(mended, "All 46 routines are proven, every way in is heard in time, every link holds, and standby lasts 28.5 h where 4 h are asked, two devices not counted."), ...(bench.text().includes("device: side contact, area: shop, behaviour: perimeter") ? [] : ["the file is not as it was before"])];
  });
  await test.case("drawing: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

async function edited(chromium) {
  const bench = await serve("quayside-as-found");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 800 } });
  const { page, wrong } = await open(context, bench);
  const sentence = () => page.locator("#sentence").innerText();
  const before = { text: bench.text(), sentence: await sentence() };
  const behaviour = page.getByRole("combobox", { name: "behaviour of zone 6" });
  await test.case("a zone set otherwise changes the file and the verdict", async () => {
    await behaviour.selectOption("24-hour");
    await page.waitForFunction((was) => document.querySelector("#sentence").innerText !== was, before.sentence, { timeout: 60000 });
    await rested(page);
    return bench.text() !== before.text && bench.text().includes("behaviour: 24-hour") ? [] : ["the file is as it was"];
  });
  await test.case("undo brings the file and the verdict back, by key", async () => {
    await page.keyboard.press("Control+z");
    await page.waitForFunction((was) => document.querySelector("#sentence").innerText === was, before.sentence, { timeout: 60000 });
    return bench.text() === before.text ? [] : ["the file is not as it was"];
  });
  await test.case("a change of the file by another hand shows by itself", async () => {
    const { writeFileSync } = await import("node:fs");
    writeFileSync(bench.file, before.text.replace("name: Quayside bakery as found", "name: Quayside by another hand"));
    await page.waitForFunction(() => document.querySelector("h1").innerText === "Quayside by another hand", undefined, { timeout: 60000 });
    return [];
  });
  await test.case("editing: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
