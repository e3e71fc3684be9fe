// The acceptance face in a real browser, with a listener and a panel that is played: every row of a demo ticks itself off with
// the screen untouched, another zone than the next one is explained and ticks nothing, a connection that is lost for a while
// loses nothing, and the site is refused while something is open.
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { cases, inBrowser, lintel, listener, open, serve, serveFolder, tooWide, violations, SOURCE, WIDTHS } from "./served.mjs";

const NAME = "N. Tester (invented)";

const test = cases();
function accountOf(demo) {
  return /account: "(\w+)"/.exec(readFileSync(join(SOURCE, "demo", `${demo}.yaml`), "utf8"))[1];
}

// A bench with an archive, a listener that fills it, and the face, begun, on a phone held upright.
async function start(chromium, demo, aheadMs = 0) {
  const bench = await serve(demo, null, (folder) => ["--archive", join(folder, "signals.db")]);
  const heard = await listener(bench.folder, accountOf(demo));
  const context = await chromium.newContext({ viewport: { width: 400, height: 860 }, hasTouch: true, reducedMotion: "reduce" });
  // A tablet whose clock goes ahead of the bench's.
  await context.addInitScript((ms) => { const real = Date.now; Date.now = () => real() + ms; }, aheadMs);
  const { page, wrong } = await open(context, bench);
  await page.getByRole("button", { name: "Acceptance", exact: true }).click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  const end = async () => { await context.close(); await heard.end(); await bench.end(); };
  return { bench, heard, page, wrong, end };
}

const state = (page, name) => page.locator(`[data-test="${name}"]`).getAttribute("data-state");
const becomes = (page, name, wanted) => page.locator(`[data-test="${name}"][data-state="${wanted}"]`).waitFor({ timeout: 20000 });
const shows = (page, words) => page.locator("#acceptance", { hasText: words }).waitFor({ timeout: 20000 });

async function onTest(page) {
  await page.getByLabel("Who at the station").fill(NAME);
  await page.getByLabel("On test until").fill("17:00");
  await tickShown(page, "on test");
}

// A press at once after a change is not counted: it is pressed again until the form is there.
async function openForm(page, press) {
  for (let i = 0; i < 20 && await page.locator(".by input[type=text]").count() === 0; i += 1) {
    await press();
    await page.waitForTimeout(300);
  }
}

// Ticks off by hand the test that is shown, which is to be this one.
async function tickShown(page, name) {
  const shown = page.locator(".walk > .test", { hasText: name });
  await shown.waitFor({ timeout: 20000 });
  await openForm(page, () => page.getByRole("button", { name: "By hand", exact: true }).click({ timeout: 2000 }).catch(() => {}));
  const field = page.locator(".by input[type=text]");
  if (await field.inputValue() === "") await field.fill(NAME);
  const ticked = page.locator(`[data-test="${name}"][data-state="by hand"]`);
  for (let i = 0; i < 20 && await ticked.count() === 0; i += 1) {
    await page.getByRole("button", { name: "Tick off by hand", exact: true }).click({ timeout: 2000 }).catch(() => {});
    await page.waitForTimeout(300);
  }
  await becomes(page, name, "by hand");
}

// A question by its answer, once it stands there.
async function answer(page, name, words, states) {
  await page.locator(".walk > .test", { hasText: name }).waitFor({ timeout: 20000 });
  for (let i = 0; i < 20 && await state(page, name) !== states; i += 1) {
    await page.getByRole("button", { name: words, exact: true }).click({ timeout: 2000 }).catch(() => {});
    await page.waitForTimeout(300);
  }
  await becomes(page, name, states);
}

const small = (page) => page.evaluate(() => [...document.querySelectorAll("#acceptance button.big, #acceptance input")].flatMap((one) => {
  const { width, height } = one.getBoundingClientRect();
  return width < 72 || height < 72 ? [`${one.textContent || one.type}: ${Math.round(width)} x ${Math.round(height)} px`] : [];
}));

// Every test that a signal can prove, with the screen untouched; then what only a person can say.
async function walked(chromium, demo) {
  const { bench, heard, page, wrong, end } = await start(chromium, demo);
  await onTest(page);
  await test.case(`${demo}: the account on test is said, with its hour`, async () => {
    await shows(page, "Account on test until 17:00");
    return [];
  });
  await test.case(`${demo}: a rehearsal ticks off every row that a signal can prove, with the screen untouched`, async () => {
    const ran = lintel("rehearse", bench.file, "--to", heard.to, "--speed", "0");
    if (ran.status !== 0) return [ran.stdout.slice(-300), ran.stderr];
    await page.locator(".walk > .test", { hasText: "heard" }).waitFor({ timeout: 30000 });
    const left = await page.locator(".tests > li").evaluateAll((rows) => rows.filter((row) => !["done", "by hand"].includes(row.dataset.state)).map((row) => `${row.dataset.test}: ${row.dataset.state}`));
    const told = await page.locator("#acceptance .wrong").allInnerTexts();
    return [...left.filter((one) => !/^(station|off test|heard .*): /.test(one)), ...told];
  });
  await heardOrNot(page, demo === "quayside" ? "heard in bedroom" : "heard gable siren in yard", demo);
  await test.case(`${demo}: it is not accepted while the account is on test, and is when it is off`, async () => {
    await tickShown(page, "station");
    await shows(page, "Not accepted: the account is still on test.");
    await tickShown(page, "off test");
    await shows(page, "Accepted: every required test is ticked off");
    const answer = JSON.parse(lintel("accept", bench.file, "--archive", heard.archive, "--json").stdout);
    const by = answer.tests.find((one) => one.name === "station")?.by;
    return [...(answer.accepted ? [] : ["the command says not accepted"]), ...(by === `${NAME}, read back by the operator` ? [] : [`station by ${by}`])];
  });
  await test.case(`${demo}: no complaint and nothing asked of elsewhere`, async () => wrong);
  await end();
}

// What only a person can say: two answers, wide and apart; a double press takes nothing back; not heard stays open.
async function heardOrNot(page, name, demo) {
  const box = (words) => page.getByRole("button", { name: words, exact: true }).boundingBox();
  await test.case(`${demo}: the siren is asked for, in two answers of 72 px, full width, 16 px apart, the caution above`, async () => {
    await shows(page, demo === "quayside" ? "Is the siren heard in the bedroom?" : "Is the gable siren heard in the yard?");
    const wide = (await page.locator(".walk").boundingBox()).width;
    const [yes, no] = [await box("Heard"), await box("Not heard")];
    const care = await page.locator(".walk > .test .caution").boundingBox();
    return [...[yes, no].filter((one) => one.height < 72 || one.width < wide - 1).map((one) => `${one.width} x ${one.height} of ${wide} px`), ...(no.y - yes.y - yes.height === 16 ? [] : [`${no.y - yes.y - yes.height} px apart`]),
      ...(care && care.y + care.height <= yes.y ? [] : ["the caution is not above"]), ...await small(page), ...await violations(page)];
  });
  await test.case(`${demo}: pressed twice it is answered once, and Take back stands elsewhere for 8 s`, async () => {
    await page.waitForTimeout(500);
    const at = await box("Heard");
    await page.mouse.dblclick(at.x + at.width / 2, at.y + at.height / 2);
    await becomes(page, name, "by hand");
    const back = await page.locator(".before .big").boundingBox();
    const each = [...(back.height >= 72 && back.y + back.height <= at.y ? [] : [`Take back at ${JSON.stringify(back)}, Heard was at ${JSON.stringify(at)}`]), ...await small(page)];
    await page.waitForTimeout(600);
    if (await state(page, name) !== "by hand") each.push("the second press took it back");
    await page.locator(".before .big").click();
    await becomes(page, name, "next");
    return each;
  });
  await test.case(`${demo}: not heard stays open, and the walk goes on; heard later, it is ticked off`, async () => {
    await page.waitForTimeout(2500);
    await answer(page, name, "Not heard", "said no");
    await page.locator(".walk > .test", { hasText: "read back one signal" }).waitFor({ timeout: 20000 });
    const row = page.locator(`[data-test="${name}"]`);
    const words = await row.innerText();
    await page.waitForTimeout(8500);
    const gone = await page.locator(".before .big").count();
    await row.locator("button").first().click();
    await answer(page, name, "Heard", "by hand");
    await page.locator(".walk > .test", { hasText: "read back one signal" }).waitFor({ timeout: 20000 });
    return [...(/not heard \d\d:\d\d:\d\d, N\. Tester/.test(words) ? [] : [words]), ...(gone === 0 ? [] : ["Take back still stands there"])];
  });
}

// A panel in which two numbers are exchanged; and the face as it is read, seen and pressed.
async function elsewhere(chromium) {
  const { bench, heard, page, wrong, end } = await start(chromium, "quayside");
  await onTest(page);
  const twin = join(bench.folder, "twin.yaml");
  copyFileSync(bench.file, twin);
  writeFileSync(twin, readFileSync(twin, "utf8").replace(/\{number: (10|11), /g, (all, number) => `{number: ${21 - Number(number)}, `));
  await test.case("another zone than the next one is explained, and ticks nothing off", async () => {
    lintel("rehearse", twin, "--to", heard.to, "--speed", "0", "--only", "zone 10");
    await shows(page, /Wrong zone: zone 10 .* came, zone 11 .* is next/);
    await page.locator("#ribbon .story .bad", { hasText: "wrong zone" }).waitFor();
    await page.setViewportSize({ width: 1024, height: 860 }); // on a phone it is a list alone
    await page.locator("#ribbon .bar.station.bad", { hasText: "intrusion, zone 10" }).waitFor();
    await page.setViewportSize({ width: 400, height: 860 });
    const states = [await state(page, "zone 10"), await state(page, "zone 11")];
    return states.join() === "open,next" ? [] : [states.join()];
  });
  await test.case("targets of 72 px, nothing violated, nothing past the edge, light and at night", async () => {
    const each = [...await small(page), ...await violations(page)];
    await page.getByRole("button", { name: "night", exact: true }).click();
    each.push(...await violations(page));
    await page.getByRole("button", { name: "night", exact: true }).click();
    await page.emulateMedia({ colorScheme: "dark" });
    each.push(...await violations(page));
    await page.emulateMedia({ colorScheme: "light" });
    await openForm(page, () => page.getByRole("button", { name: "By hand", exact: true }).click());
    each.push(...await small(page), ...await violations(page));
    await page.getByRole("button", { name: "Not by hand", exact: true }).click();
    for (const width of WIDTHS) each.push(...await tooWide(page, width));
    await page.setViewportSize({ width: 400, height: 860 });
    return each;
  });
  await test.case("where the device hangs is drawn, and said", async () => {
    const said = await page.locator(".walk > .test .where").first().innerText();
    const drawn = await page.locator(".walk > .test").getByRole("img", { name: /^where it hangs: / }).boundingBox();
    const signs = await page.locator(".sketch .d-sign").count();
    return [...(/landing.*zone 11/.test(said) ? [] : [said]), ...(drawn && drawn.height > 100 ? [] : ["it is not drawn"]), ...(signs === 1 ? [] : [`${signs} signs`])];
  });
  await test.case("a press that slides up to 24 px counts, also beside its button, by finger and by mouse; farther it is none", async () => {
    const each = [];
    const finger = await page.context().newCDPSession(page);
    const touch = (type, at) => finger.send("Input.dispatchTouchEvent", { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
    const byTouch = async (from, to) => { await touch("touchStart", from); await touch("touchMove", to); await touch("touchEnd"); };
    const byMouse = async (from, to) => { await page.mouse.move(...from); await page.mouse.down(); await page.mouse.move(...to); await page.mouse.up(); };
    const asked = page.getByRole("button", { name: "Tick off by hand", exact: true });
    for (const [name, slide, from, to, counts] of [["finger", byTouch, 4, -18, true], ["finger, far", byTouch, 4, -30, false], ["finger, within", byTouch, 30, 52, true], ["mouse", byMouse, 4, -18, true], ["mouse, far", byMouse, 4, -30, false]]) {
      await page.waitForTimeout(500); // so soon after the last change, no press counts
      const box = await page.getByRole("button", { name: "By hand", exact: true }).boundingBox();
      const x = box.x + box.width / 2;
      await slide([x, box.y + from], [x, box.y + to]);
      await page.waitForTimeout(300);
      const came = await asked.count() === 1;
      if (came !== counts) each.push(`${name}: ${came ? "it counted" : "it was lost"}`);
      if (came) await page.getByRole("button", { name: "Not by hand", exact: true }).click();
    }
    return each;
  });
  await test.case("what a glove presses slowly stays under it while a signal comes in, and the press counts", async () => {
    const button = await page.getByRole("button", { name: "Note it, go on" }).elementHandle();
    const before = await page.locator("#acceptance .wrong").allInnerTexts();
    const { x, y, width, height } = await button.boundingBox();
    await page.mouse.move(x + width / 2, y + height / 2);
    await page.mouse.down();
    lintel("rehearse", twin, "--to", heard.to, "--speed", "0", "--only", "zone 10");
    await page.waitForTimeout(500);
    const stays = await button.evaluate((one) => one.isConnected);
    await page.mouse.up();
    await becomes(page, "tamper 11", "next");
    await page.waitForFunction((count) => document.querySelectorAll("#acceptance .wrong").length !== count, before.length, { timeout: 20000 });
    return stays ? [] : ["it was taken away while it was pressed"];
  });
  await test.case("noted and gone on: it comes last; a tick by hand is taken back", async () => {
    await page.waitForTimeout(2500);
    await tickShown(page, "tamper 11");
    await page.waitForTimeout(500); // so soon after what was pressed before, a press does not count
    await page.getByRole("button", { name: "take back: tamper 11" }).click();
    await becomes(page, "tamper 11", "next");
    const order = JSON.parse(lintel("accept", bench.file, "--archive", heard.archive, "--json").stdout).tests.map((one) => one.name);
    return order.indexOf("zone 11") === order.indexOf("station") - 1 ? [] : [order.join()];
  });
  await test.case("a test that may be done besides is chosen by its row, and ticked off by hand", async () => {
    await page.locator('[data-test="bypass 7"] button').first().click();
    await page.locator(".walk > .test", { hasText: "bypass bakehouse window" }).waitFor();
    await tickShown(page, "bypass 7");
    await page.locator(".walk > .test", { hasText: "tamper 11" }).waitFor();
    return [];
  });
  await test.case("with keys alone", async () => {
    await openForm(page, async () => {
      await page.getByRole("button", { name: "By hand", exact: true }).focus();
      await page.keyboard.press("Enter");
    });
    await page.locator(".by input[type=text]").focus();
    await page.keyboard.type(" jun.");
    await page.getByRole("button", { name: "Tick off by hand" }).focus();
    await page.keyboard.press("Space");
    await becomes(page, "tamper 11", "by hand");
    return /jun\./.test(await page.locator('[data-test="tamper 11"]').innerText()) ? [] : ["not the name that was typed"];
  });
  await test.case("no complaint there", async () => wrong);
  await end();
}

// The bench does not answer for a while (it is held by a signal of the system, so that the connection is cut without a word):
// the listener goes on, a tick by hand is noted with its time, and the list catches up.
async function interrupted(chromium) {
  const { bench, heard, page, wrong, end } = await start(chromium, "quayside", 300000);
  await onTest(page);
  await shows(page, "Account on test");
  await page.waitForTimeout(3000);
  process.kill(bench.pid, "SIGSTOP");
  await test.case("a lost connection is said plainly", async () => {
    await shows(page, /Not connected since \d\d:\d\d\. Keep walking: signals are kept, this list catches up\./);
    return [];
  });
  await test.case("a tick by hand is noted meanwhile, and said to be not sent", async () => {
    await tickShown(page, "zone 11");
    await shows(page, "noted here, not sent yet");
    const kept = await page.evaluate(() => Object.values(localStorage).join());
    if (!/zone 11/.test(kept)) return [`kept in the browser: ${kept}`];
    return (await state(page, "tamper 11")) === "next" ? [] : ["the next test is not next"];
  });
  const ran = lintel("rehearse", bench.file, "--to", heard.to, "--speed", "0", "--only", "tamper 11");
  process.kill(bench.pid, "SIGCONT");
  await test.case("it catches up: the tick arrives with its time, and what came after it counts", async () => {
    await shows(page, "Account on test until 17:00");
    await becomes(page, "tamper 11", "done");
    await becomes(page, "zone 11", "by hand");
    await page.waitForFunction(() => !document.querySelector("#acceptance").textContent.includes("not sent yet"), undefined, { timeout: 20000 });
    const row = await page.locator('[data-test="zone 11"]').innerText();
    const told = await page.locator("#acceptance .wrong").allInnerTexts();
    const kept = await page.evaluate(() => localStorage.length);
    return [...(kept === 0 ? [] : ["it is still kept in the browser"]), ...(ran.status === 0 ? [] : [ran.stderr]), ...(/noted without a connection/.test(row) ? [] : [row]), ...told];
  });
  await test.case("the browser itself complains of nothing but the lost connection", async () => wrong.filter((line) => !/ERR_|Failed to load resource/.test(line)));
  await end();
}

// Where the panel cannot be pointed here: the station's list, shown as it is understood, then taken; each tick names its line.
async function pasted(chromium) {
  const { bench, heard, page, wrong, end } = await start(chromium, "quayside");
  await onTest(page);
  await page.waitForTimeout(2500);
  await page.getByRole("button", { name: "Paste the station's list" }).click();
  const now = new Date(Date.now() + 1000);
  const time = (seconds) => new Date(now.getTime() + seconds * 1000).toTimeString().slice(0, 8);
  const line = `${time(1)};4021;Burglary alarm;11`;
  await page.locator(".pasting textarea").fill(`Time;Account;Event;Zone\n${line}\n${time(2)};4021;Burglary restored;11\n${time(3)};4021;operator Q. asks;\n`);
  await test.case("a station's list is shown as it is understood, and nothing is taken", async () => {
    await page.getByRole("button", { name: "Show what is understood" }).click();
    await shows(page, "2 of 3 lines understood. Nothing is taken yet.");
    await page.locator(".understood li", { hasText: "intrusion, zone 11" }).first().waitFor();
    await page.locator(".understood li", { hasText: "says nothing here" }).waitFor();
    return [...(await state(page, "zone 11")) === "next" ? [] : ["it was taken"], ...await small(page), ...await violations(page)];
  });
  await test.case("taken, it ticks off as signals do, and the record is its line", async () => {
    await page.getByRole("button", { name: "Take these" }).click();
    await becomes(page, "zone 11", "done");
    await shows(page, "2 of 3 lines understood, 2 of them new.");
    const answer = JSON.parse(lintel("accept", bench.file, "--archive", heard.archive, "--json").stdout);
    const frame = answer.tests.find((one) => one.name === "zone 11").signals[0].frame;
    return [...(frame === line ? [] : [`record: ${frame}`]), ...wrong];
  });
  await end();
}

// Of a folder each site has its own acceptance over the one archive.
async function ofFolder(chromium) {
  const bench = await serveFolder((folder) => copyFileSync(join(SOURCE, "demo", "surgery.yaml"), join(folder, "surgery.yaml")), (folder) => ["--archive", join(folder, "signals.db")]);
  const heard = await listener(bench.folder, accountOf("surgery"));
  const context = await chromium.newContext({ viewport: { width: 400, height: 860 }, reducedMotion: "reduce" });
  const page = await context.newPage();
  await page.goto(bench.address);
  await page.goto(new URL("/site/surgery.yaml/#acceptance", bench.address).href);
  await test.case("a site of a folder has its own acceptance, also by its address", async () => {
    await page.getByRole("button", { name: "Begin", exact: true }).click();
    await onTest(page);
    const ran = lintel("rehearse", join(bench.folder, "surgery.yaml"), "--to", heard.to, "--speed", "0", "--only", "mains");
    await becomes(page, "mains", "done");
    return ran.status === 0 ? [] : [ran.stderr];
  });
  await context.close();
  await heard.end();
  await bench.end();
}

// A bench without an archive says how to get one.
async function without(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 400, height: 860 } });
  const { page, wrong } = await open(context, bench);
  await page.getByRole("button", { name: "Acceptance", exact: true }).click();
  await test.case("without an archive the face says what to do", async () => {
    await shows(page, "lintel serve --archive signals.db");
    return [...wrong, ...await violations(page)];
  });
  await context.close();
  await bench.end();
}

await inBrowser(test, async (chromium) => {
  await walked(chromium, "quayside");
  await walked(chromium, "surgery");
  await elsewhere(chromium);
  await interrupted(chromium);
  await pasted(chromium);
  await ofFolder(chromium);
  await without(chromium);
});
