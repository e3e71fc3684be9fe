// Drawing by hand in a real browser: each drag has a twin by keys and a twin that is typed, all end in the same file, and one undo
// takes each back. Mistakes on purpose show where they are and lose nothing.
import { COTTAGE, drag, middle, pull, same, screen, undone, written } from "./drawn.mjs";
import { cases, inBrowser, open, rested, serve, violations } from "./served.mjs";

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const part of [begun, moved, mapped, built, near, touched].filter((one) => !process.env.PART || one.name === process.env.PART)) await part(chromium);
});

// Where nothing is drawn: the first room, and the first thing hung up in it.
async function begun(chromium) {
  const bare = COTTAGE.slice(0, COTTAGE.indexOf("building:"));
  const bench = await serve("cottage", bare);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const first = `${bare}building:\n  rooms:\n    - {name: room, size: 4.5 x 3 m}\n`;
  await test.case("where nothing is drawn one sentence says so, and one press lays a sheet; another takes it away", async () => {
    const said = await page.locator("#drawing").innerText();
    await page.getByRole("button", { name: "Draw the first room" }).click();
    await page.locator(".plan .d-rule").first().waitFor({ state: "attached" });
    const found = await violations(page);
    await page.getByRole("button", { name: "No drawing for now" }).click();
    await page.getByRole("button", { name: "Draw the first room" }).waitFor();
    return [...(/Nothing is drawn yet/.test(said) ? [] : [said]), ...found, ...same(bench.text(), bare)];
  });
  await test.case("the first room from corner to corner: its measures follow the hand, the file begins a building", async () => {
    await page.getByRole("button", { name: "Draw the first room" }).click();
    const at = (x, y) => page.evaluate(([mx, my]) => { const is = new DOMPoint(mx, 9000 - my).matrixTransform(document.querySelector(".plan").getScreenCTM()); return [is.x, is.y]; }, [x, y]);
    await page.mouse.move(...await at(3000, 2000));
    await page.mouse.down();
    await page.mouse.move(...await at(6000, 4000), { steps: 3 });
    await page.mouse.move(...await at(7490, 5010), { steps: 3 });
    const measures = (await page.locator(".plan .d-measure text").allTextContents()).join(" ");
    await page.mouse.up();
    const drawn = await written(page, bench, bare);
    await page.getByRole("textbox", { name: "called" }).waitFor();
    return [...same(measures, "4.50 m 3.00 m"), ...same(drawn, first)];
  });
  await test.case("the panel is hung up in it: the first device", async () => {
    await page.locator('[data-key="tool-place"]').selectOption({ label: "panel" });
    await page.mouse.click(...await screen(page, 100, 1500));
    const hung = await written(page, bench, first);
    await undone(page, bench, first);
    return same(hung.slice(first.length), "  places:\n    - {is: panel, wall: left, from-left: 1.5 m, room: room}\n");
  });
  await test.case("undone to the empty sheet, and the same typed: the same file", async () => {
    await undone(page, bench, bare);
    await page.getByRole("textbox", { name: "size of the new room" }).fill("4,5 x 3");
    await page.keyboard.press("Enter");
    return same(await written(page, bench, bare), first);
  });
  await test.case("the last room taken off leaves a sheet to draw on", async () => {
    await page.mouse.click(...await screen(page, 1000, 1000));
    await page.getByRole("button", { name: "take off the drawing" }).click();
    const left = await written(page, bench, first);
    await page.locator(".plan .d-rule").first().waitFor({ state: "attached" });
    return same(left, bare);
  });
  await test.case("beginning: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}

async function moved(chromium) {
  const bench = await serve("cottage", COTTAGE);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const place = (text) => text.split("\n").find((line) => line.includes("device: room motion, room"))?.trim();
  let dragged = "";
  await test.case("a detector dragged to another corner: what it sees follows before it is let go, the file after", async () => {
    await page.getByRole("button", { name: "sight", exact: true }).click();
    const seen = () => page.locator(".plan .layer .d-seen").evaluateAll((all) => all.map((one) => one.outerHTML).join(" "));
    const was = await seen();
    await drag(page, "zones[1]", [6000, 120]);
    await page.waitForFunction((old) => [...document.querySelectorAll(".plan .layer .d-seen")].map((one) => one.outerHTML).join(" ") !== old, was, { timeout: 10000 });
    const words = await page.locator(".edit-words").innerText();
    const untouched = same(bench.text(), before);
    await page.mouse.up();
    dragged = await written(page, bench, before);
    return [...untouched, ...(/^in the front right corner of living room · radio: \d+ to \d+ dB above what the panel needs$/.test(words) ? [] : [words]), ...same(place(dragged), "- {device: room motion, room: living room, corner: front right, height: 2.3 m}")];
  });
  await test.case("undo says what it takes back, on its button and when it is done; so does redo", async () => {
    const [undo, redo] = ["undo", "redo"].map((name) => page.locator(`#${name}`));
    await undo.hover();
    const shown = await undo.locator(".step").evaluate((one) => getComputedStyle(one).clipPath);
    const named = await undo.textContent();
    await undone(page, bench, before);
    const told = await page.locator("#changes").innerText();
    const forward = await redo.textContent();
    await redo.click();
    await written(page, bench, before);
    const again = await page.locator("#changes").innerText();
    await undone(page, bench, before);
    return [...same(shown, "none"), ...same(named, "Undo: room motion moved"), ...same(forward, "Redo: room motion moved"), ...same(told.split(" · ")[0], "taken back: room motion moved"), ...same(again.split(" · ")[0], "made again: room motion moved")];
  });
  await test.case("the same typed: the same file", async () => {
    await page.locator('.fields select[aria-label="stands"]').selectOption("front right");
    const typed = await written(page, bench, before);
    await undone(page, bench, before);
    return same(typed, dragged);
  });
  await test.case("the same by keys: M, arrows, Enter", async () => {
    await page.locator('.plan [data-about="zones[1]"]').focus();
    await page.keyboard.press("m");
    for (let i = 0; i < 8; i += 1) await page.keyboard.press("Shift+ArrowDown");
    await page.keyboard.press("Enter");
    const keyed = await written(page, bench, before);
    const focus = await page.evaluate(() => document.activeElement.dataset.about);
    await undone(page, bench, before);
    return [...same(keyed, dragged), ...same(focus, "zones[1]")];
  });
  await test.case("the same by two presses: pick up, put down", async () => {
    await page.locator(".fields").getByRole("button", { name: "Pick up" }).click();
    await page.mouse.click(...await screen(page, 6200, 120));
    const pressed = await written(page, bench, before);
    await undone(page, bench, before);
    return same(pressed, dragged);
  });
  await test.case("Esc in the middle of a drag leaves all as it was", async () => {
    await drag(page, "zones[1]", [6000, 120]);
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await page.waitForTimeout(300);
    return same(bench.text(), before);
  });
  await test.case("a window slid along its wall, dragged and typed", async () => {
    await drag(page, "building.openings[3]", [3000, 0]);
    await page.mouse.up();
    const slid = await written(page, bench, before);
    const line = slid.split("\n").find((one) => one.includes("is: window"));
    await undone(page, bench, before);
    const from = /from-left: ([\d.]+) m/.exec(line)[1];
    await page.getByRole("textbox", { name: "from the left corner" }).fill(from.replace(".", ","));
    await page.keyboard.press("Enter");
    const typed = await written(page, bench, before);
    await undone(page, bench, before);
    return same(typed, slid);
  });
  await test.case("a width that cannot be is kept in its field and explained, nothing is written", async () => {
    const width = page.getByRole("textbox", { name: "width", exact: true });
    await width.fill("nine");
    await page.keyboard.press("Enter");
    await page.locator(".edit-bar [role=alert]").waitFor();
    await rested(page);
    const kept = await width.inputValue();
    const told = await violations(page);
    await width.focus();
    await page.keyboard.press("Escape");
    return [...same(kept, "nine"), ...same(bench.text(), before), ...told];
  });
  await test.case("a window too wide for its wall is written, and the finding stands where it is", async () => {
    await page.getByRole("textbox", { name: "width", exact: true }).fill("7 m");
    await page.keyboard.press("Enter");
    await written(page, bench, before);
    const flaws = await page.locator(".plan .d-flaw").count();
    const found = await page.locator("#sentence").innerText();
    await undone(page, bench, before);
    return [...same(String(flaws), "1"), ...(/fault|not|one/.test(found) ? [] : [found])];
  });
  await test.case("a contact dragged to a window makes it one of the doors", async () => {
    await drag(page, "zones[0]", [4000, 0]);
    await page.mouse.up();
    const after = await written(page, bench, before);
    await undone(page, bench, before);
    return after.includes("on: living room front window") && after.includes("door: living room front window") && /doors: .*living room front window.*outside: yes/.test(after) ? [] : after.split("\n").slice(4, 8);
  });
  await test.case("moving: no complaint", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

// The radio map of the bakery, whose oven and walls shade it.
async function mapped(chromium) {
  const bench = await serve("quayside");
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const { site } = await page.evaluate(() => fetch("./state").then((got) => got.json()));
  const panel = site.file.building.places.findIndex((place) => place.is === "panel");
  await test.case("the radio map follows the panel while it is in the hand, and the weakest link is said; nothing is written", async () => {
    await page.getByRole("button", { name: "radio", exact: true }).click();
    const inks = () => page.locator(".plan .layer").evaluateAll((all) => all.map((one) => one.outerHTML).join(" "));
    const was = await inks();
    const hall = site.drawing.house.rooms[site.file.building.rooms.findIndex((room) => room.name === "stair hall")].outline_mm;
    await drag(page, `building.places[${panel}]`, [hall[0] + 50, hall[1] + 1000]);
    await page.waitForFunction((old) => [...document.querySelectorAll(".plan .layer")].map((one) => one.outerHTML).join(" ") !== old, was, { timeout: 20000 });
    const words = await page.locator(".edit-words").innerText();
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await page.waitForTimeout(300);
    return [...(/weakest radio link: zone \d+, .*, \d+ (dB too little )?to \d+ dB above/.test(words) && was.includes("d-radio-") ? [] : [words]), ...same(await inks(), was), ...same(bench.text(), before)];
  });
  await test.case("mapped: no complaint", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

// Rooms, openings and things are made, changed and taken away; a bad drawing says so where it is.
async function built(chromium) {
  const bench = await serve("cottage", COTTAGE);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1200 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const press = async (...at) => page.mouse.click(...await screen(page, ...at));
  let pulled = "";
  await test.case("a wall pulled: three rooms change, what stands in them stays", async () => {
    await press(2500, 2500);
    await pull(page, [1920, 1800], [2220, 1800]);
    pulled = await written(page, bench, before);
    await undone(page, bench, before);
    const sizes = ["{name: hall, size: 2.1 x 6 m}", "{name: living room, size: 3.9 x 3.6 m, right-of: hall}", "{name: kitchen, size: 3.9 x 2.28 m, behind: living room}   # measured twice", "room: kitchen, at: 0.7 x 0.5 m"];
    return sizes.filter((line) => !pulled.includes(line));
  });
  await test.case("the same typed: the same file; nothing is violated with all the fields of a room", async () => {
    await press(500, 2200);
    await page.getByRole("textbox", { name: "clear inside, wide x deep" }).fill("2.1 x 6");
    await page.keyboard.press("Enter");
    const typed = await written(page, bench, before);
    const found = await violations(page);
    await undone(page, bench, before);
    return [...same(typed, pulled), ...found];
  });
  await test.case("a room drawn from corner to corner falls beside the others, and takes its name", async () => {
    await page.locator('[data-key="tool-room"]').click();
    await pull(page, [6250, 100], [8200, 3550]);
    const drawn = await written(page, bench, before);
    const name = page.getByRole("textbox", { name: "called" });
    await name.fill("store");
    await page.keyboard.press("Enter");
    const named = await written(page, bench, drawn);
    await page.getByRole("button", { name: "take off the drawing" }).click();
    await written(page, bench, named);
    const gone = bench.text();
    for (const text of [named, drawn, before]) await undone(page, bench, text);
    return [...(/at: 6.24 x 0 m, size: 1.95 x 3.6 m/.test(drawn) ? [] : [drawn.split("\n").find((line) => line.includes("6.24")) ?? "no such room"]), ...(named.includes("store") ? [] : ["it has no name"]), ...same(gone, before)];
  });
  await test.case("a door pressed onto a wall leads where the wall leads", async () => {
    await page.locator(".plan").focus();
    await page.keyboard.press("d");
    await press(4000, 3610);
    const after = await written(page, bench, before);
    await page.getByRole("button", { name: "Put it down" }).waitFor();
    await page.keyboard.press("Escape");
    await undone(page, bench, before);
    return after.includes("- {room: living room, to: kitchen}") ? [] : [after.split("\n").find((line) => line.includes("to: kitchen")) ?? "no door"];
  });
  await test.case("a room whose corners cross: it is drawn, marked at its point, explained, and nothing is lost", async () => {
    await press(5800, 5000);
    await page.locator('[aria-label="a step in the wall"]').selectOption("back");
    const stepped = await written(page, bench, before);
    const corners = page.getByRole("textbox", { name: "corners" });
    await corners.fill("0 x 0, 4.2 x 2.28, 4.2 x 0, 0 x 2.28 m");
    await page.keyboard.press("Enter");
    const crossed = await written(page, bench, stepped);
    const [flaws, broken] = await Promise.all([page.locator(".plan .d-flaw").count(), page.locator(".plan .d-broken").count()]);
    await page.getByRole("button", { name: /^Findings/ }).click();
    const told = await page.locator("#findings").innerText();
    await undone(page, bench, stepped);
    await undone(page, bench, before);
    return [...(flaws > 0 && broken === 1 ? [] : [`${flaws} marks, ${broken} outlines`]), ...(/crosses itself/.test(told) ? [] : [told.slice(0, 200)]), ...(crossed.includes("outline") ? [] : ["not written"])];
  });
  await test.case("a room typed beside another, and a storey above all of them", async () => {
    await page.locator(".plan").focus();
    await page.getByRole("textbox", { name: "size of the new room" }).fill("2 x 6");
    await page.locator('[data-key="typed-where"]').selectOption("left-of");
    await page.getByRole("button", { name: "add", exact: true }).click();
    const typed = await written(page, bench, before);
    await page.getByRole("button", { name: "Storey above" }).click();
    const above = await written(page, bench, typed);
    const storeys = await page.locator(".section button").count();
    return [...(/size: 2 x 6 m, left-of: hall/.test(typed) ? [] : ["no room"]), ...same(String(storeys), "2"), ...(above.includes('above: hall}') ? [] : ["no rooms above"])];
  });
  await test.case("on paper both storeys are there, on the screen again the one", async () => {
    await page.emulateMedia({ media: "print" });
    await page.locator(".paper .plan").waitFor();
    const names = await page.locator("#drawing h2").allInnerTexts();
    await page.emulateMedia({ media: "screen" });
    await page.locator(".paper").waitFor({ state: "detached" });
    return same(names.sort().join(" "), "ground upper");
  });
  await test.case("a picture is traced: scaled by two points, kept in this browser over a reload, nowhere else", async () => {
    const text = bench.text();
    const png = await page.evaluate(() => { const canvas = document.createElement("canvas"); canvas.width = 400; canvas.height = 300; canvas.getContext("2d").fillRect(50, 50, 300, 200); return canvas.toDataURL("image/png").split(",")[1]; });
    await page.locator('[data-key="trace-file"]').setInputFiles({ name: "plan.png", mimeType: "image/png", buffer: Buffer.from(png, "base64") });
    await page.locator(".d-traced canvas").waitFor();
    await page.getByRole("button", { name: "Scale by two points" }).click();
    await press(0, 1000);
    await press(4000, 1000);
    const before_ = await page.locator(".d-traced").getAttribute("transform");
    await page.getByRole("textbox", { name: "Both points are apart by" }).fill("2 m");
    await page.getByRole("button", { name: "Scale the picture" }).click();
    const [was, is] = [before_, await page.locator(".d-traced").getAttribute("transform")].map((one) => Number(/matrix\(([-\d.]+)/.exec(one)[1]));
    const found = await violations(page);
    await page.waitForTimeout(500);
    await page.reload();
    await rested(page);
    await page.locator(".d-traced canvas").waitFor();
    const kept = Number(/matrix\(([-\d.]+)/.exec(await page.locator(".d-traced").getAttribute("transform"))[1]);
    await page.getByRole("button", { name: "take the picture away" }).click();
    await page.locator(".d-traced").waitFor({ state: "detached" });
    return [...(Math.abs(is / was - 0.5) < 0.02 ? [] : [`${was} became ${is}`]), ...same(String(kept), String(is)), ...same(bench.text(), text), ...found];
  });
  await test.case("building: no complaint", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

async function part(page) {
  return page.evaluate(() => document.querySelector(".plan").getAttribute("viewBox").split(" ").map(Number));
}

// Closer to the drawing, and about on it.
async function near(chromium) {
  const bench = await serve("cottage", COTTAGE);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1000 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const whole = await part(page);
  const label = () => page.locator(".plan .d-label", { hasText: "living room" }).first().evaluate((one) => one.getBoundingClientRect().height);
  const letters = await label();
  await test.case("the wheel with Ctrl draws nearer; the point under it stays, letters come back to their size", async () => {
    const [x, y] = await screen(page, 4000, 1500);
    await page.mouse.move(x, y);
    await page.keyboard.down("Control");
    await page.mouse.wheel(0, -460);
    await page.keyboard.up("Control");
    await page.waitForFunction((size) => Math.abs([...document.querySelectorAll(".plan .d-label")].find((one) => one.textContent === "living room").getBoundingClientRect().height - size) < size * 0.2, letters, { timeout: 20000 });
    const [now, there] = [await part(page), await screen(page, 4000, 1500)];
    const found = await violations(page);
    return [...(now[2] < whole[2] * 0.6 ? [] : [`still ${now[2]} of ${whole[2]} mm`]), ...(Math.hypot(there[0] - x, there[1] - y) < 4 ? [] : [`the point went from ${x}, ${y} to ${there}`]), ...found];
  });
  await test.case("on ground that does not move the mouse shifts it, and chooses nothing", async () => {
    const was = await part(page);
    await page.mouse.move(...await screen(page, 3300, 900));
    await page.mouse.down();
    await page.mouse.move(...await screen(page, 3600, 1300), { steps: 4 });
    await page.mouse.up();
    await page.waitForFunction((old) => document.querySelector(".plan").getAttribute("viewBox") !== old, was.join(" "));
    const now = await part(page);
    return [...(now[0] < was[0] && now[1] > was[1] && now[2] === was[2] ? [] : [`${was} became ${now}`]), ...same(String(await page.locator('.plan [aria-pressed="true"]').count()), "0"), ...same(bench.text(), before)];
  });
  await test.case("a detector dragged so near ends in the same file as ever", async () => {
    await page.locator('#schedule [data-key="zones[1]"]').click();
    await page.locator('.plan [data-about="zones[1]"] .d-hit').first().waitFor();
    await page.waitForTimeout(600);
    await page.mouse.move(...await middle(page, "zones[1]"));
    await page.mouse.down();
    const [x, y] = await screen(page, 6000, 2000);
    await page.mouse.move(x - 9, y - 9, { steps: 3 });
    await page.mouse.move(x, y, { steps: 2 });
    await page.mouse.up();
    const after = await written(page, bench, before);
    await undone(page, bench, before);
    return /device: room motion, room: living room, height: 2.3 m, wall: right, from-left: 2 m/.test(after) || after.split("\n").find((line) => line.includes("device: room motion, room"))?.includes("wall: right") ? [] : [after.split("\n").find((line) => line.includes("device: room motion, room"))];
  });
  await test.case("by keys: + nearer, - farther, Shift and arrows about, 0 the whole sheet; and by words", async () => {
    await page.locator(".plan").focus();
    const wide = async (key) => { await page.keyboard.press(key); await page.waitForTimeout(120); return (await part(page)); };
    const [closer, aside] = [await wide("+"), await wide("Shift+ArrowUp")];
    const [farther, all] = [await wide("-"), await wide("0")];
    await page.getByRole("button", { name: "closer" }).click();
    await page.waitForTimeout(120);
    const word = await part(page);
    await page.getByRole("button", { name: "whole sheet" }).click();
    await page.waitForTimeout(120);
    return [...(closer[2] < farther[2] && farther[2] < all[2] && aside[1] < closer[1] ? [] : [[closer, aside, farther, all].join(" | ")]), ...same(all.join(" "), whole.join(" ")), ...(word[2] < whole[2] ? [] : ["the word does nothing"]), ...same((await part(page)).join(" "), whole.join(" "))];
  });
  await test.case("printed, the sheet is whole", async () => {
    await page.getByRole("button", { name: "closer" }).click();
    await page.emulateMedia({ media: "print" });
    await page.waitForFunction((old) => document.querySelector(".plan").getAttribute("viewBox") === old, whole.join(" "), { timeout: 5000 });
    await page.emulateMedia({ media: "screen" });
    return [];
  });
  await test.case("near: no complaint", async () => wrong.filter((line) => !/422/.test(line)));
  await context.close();
  await bench.end();
}

// By touch: the first press chooses, only what is chosen moves.
async function touched(chromium) {
  const bench = await serve("cottage", COTTAGE);
  const context = await chromium.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const client = await context.newCDPSession(page);
  const before = bench.text();
  const touch = (type, points) => client.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
  let loupe = null; // where it stood, and the finger, before the finger was lifted
  async function stroke(about, to) {
    await page.locator(".plan").scrollIntoViewIfNeeded();
    const from = await middle(page, about);
    const end = await screen(page, ...to);
    await touch("touchStart", [from]);
    for (const share of [0.2, 0.5, 0.8, 1]) await touch("touchMove", [from.map((value, i) => value + (end[i] - value) * share)]);
    loupe = await page.evaluate(() => { const box = document.querySelector(".loupe")?.getBoundingClientRect(); return box && { low: box.bottom, inks: document.querySelectorAll(".loupe .d-wall").length }; }) ?? null;
    if (loupe) loupe.finger = end[1];
    await touch("touchEnd", []);
  }
  await test.case("by touch: what is not chosen does not move, what is chosen does", async () => {
    await stroke("zones[1]", [6000, 120]);
    await page.waitForTimeout(400);
    const first = same(bench.text(), before);
    await page.locator('.plan [data-about="zones[1]"]').tap();
    await stroke("zones[1]", [6000, 120]);
    const after = await written(page, bench, before);
    return [...first, ...(after.includes("device: room motion, room: living room, corner: front right") ? [] : ["it did not move"])];
  });
  await test.case("while a finger drags, a loupe above it shows where; then it is gone", async () => {
    const gone = await page.locator(".loupe").count();
    return [...(loupe && loupe.inks > 0 && loupe.low < loupe.finger - 40 ? [] : [JSON.stringify(loupe)]), ...same(String(gone), "0")];
  });
  await test.case("a door in the hand goes where the finger is lifted; two fingers put none down", async () => {
    const text = bench.text();
    await page.locator(".plan").scrollIntoViewIfNeeded();
    await page.getByRole("button", { name: "Door", exact: true }).tap();
    const [x, y] = await screen(page, 4000, 1500);
    await touch("touchStart", [[x - 30, y]]);
    await touch("touchStart", [[x - 30, y], [x + 30, y]]);
    for (const apart of [33, 30]) await touch("touchMove", [[x - apart, y], [x + apart, y]]);
    await touch("touchEnd", []);
    await page.waitForTimeout(400);
    const pinched = same(bench.text(), text);
    const [from, to] = [await screen(page, 3000, 1500), await screen(page, 4000, 3610)];
    await touch("touchStart", [from]);
    for (const share of [0.3, 0.7, 1]) await touch("touchMove", [from.map((value, i) => value + (to[i] - value) * share)]);
    await page.waitForTimeout(100);
    const seen = await page.locator(".loupe").count();
    await touch("touchEnd", []);
    const after = await written(page, bench, text);
    await page.keyboard.press("Escape");
    await undone(page, bench, text);
    return [...pinched, ...same(String(seen), "1"), ...(after.includes("- {room: living room, to: kitchen}") ? [] : [after.split("\n").find((line) => line.includes("to: kitchen") && !text.includes(line)) ?? "no door"])];
  });
  await test.case("two fingers apart draw nearer, one then shifts; nothing is moved by it", async () => {
    const text = bench.text();
    const was = await part(page);
    const [x, y] = await screen(page, 4000, 1500);
    await touch("touchStart", [[x - 30, y], [x + 30, y]]);
    for (const apart of [40, 60, 80]) await touch("touchMove", [[x - apart, y], [x + apart, y]]);
    await touch("touchEnd", []);
    await page.waitForTimeout(300);
    const closer = await part(page);
    await touch("touchStart", [[x, y]]);
    for (const by of [15, 30, 45]) await touch("touchMove", [[x + by, y]]);
    await touch("touchEnd", []);
    await page.waitForTimeout(300);
    const aside = await part(page);
    return [...(closer[2] < was[2] / 2 ? [] : [`${was} became ${closer}`]), ...(aside[0] < closer[0] && aside[2] === closer[2] ? [] : [`${closer} became ${aside}`]), ...same(bench.text(), text)];
  });
  await test.case("touch: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
