// Each drag that the page knows has a typed twin: both end in the same file, byte by byte, and undo takes both back. Here those that
// editor_test.mjs does not have: it drags and types a detector to a corner, a window along its wall, a wall between rooms, the
// first room. What is only shown (the sheet shifted, the line of time) writes nothing; a picture to be traced is in no file.
import { COTTAGE, drag, pull, same, screen, written } from "./drawn.mjs";
import { cases, inBrowser, open, serve } from "./served.mjs";

// With a storey above, stairs, a siren and something to guard.
const HOUSE = COTTAGE.replace("devices:\n", "devices:\n  - {name: siren, profile: fog-siren}\n")
  .replace("building:\n", "building:\n  storeys: [{name: ground}, {name: upper}]\n").replace("  openings:\n", "    - {name: landing, above: hall}\n  openings:\n")
  .replace("  furniture:", "  stairs: [{room: hall, to: landing, at: 0.5 x 2 m, size: 0.9 x 3 m, up: back}]\n  furniture:")
  .concat("    - {device: siren, room: kitchen, wall: right, from-left: 1 m}\n    - {protects: silver, room: living room, at: 2 x 1 m}\n");

// Of the dragged file: what one would read off the drawing and type.
const of = (text, needle, key) => new RegExp(`${needle}.*?\\b${key}: ([^,}]+)`).exec(text)?.[1] ?? "";

const KEYPAD = "building.places[0]";
const MOTION = "zones[1]";
const fill = async (at, label, text) => at.writes(async () => { await at.field(label).fill(text); await at.page.keyboard.press("Enter"); });
const pick = async (at, label, option) => at.writes(() => at.choice(label).selectOption(option));

const TWINS = [
  ["a keypad along its wall", KEYPAD, [0, 3000], async (at, text) => fill(at, "from the left corner", of(text, "keypad: hall keypad, room", "from-left"))],
  ["a keypad to a wall of another room", KEYPAD, [6120, 1500], async (at, text) => {
    await pick(at, "in", "living room");
    await pick(at, "stands", "right wall");
    await fill(at, "from the left corner", of(text, "keypad: hall keypad, room", "from-left"));
  }],
  ["the panel along its wall", "building.places[2]", [4500, 6000], async (at, text) => fill(at, "from the left corner", of(text, "is: panel", "from-left"))],
  ["a siren along its wall", "building.places[3]", [6120, 5500], async (at, text) => fill(at, "from the left corner", of(text, "device: siren", "from-left"))],
  ["what is worth protecting to another point", "building.places[4]", [3000, 2500], async (at, text) => fill(at, "right x back", of(text, "protects: silver", "at"))],
  ["a detector to a wall", MOTION, [6120, 1700], async (at, text) => { await pick(at, "stands", "right wall"); await fill(at, "from the left corner", of(text, "room motion, room", "from-left")); }],
  ["a detector made to look elsewhere", MOTION, { from: "look-1", to: [6120, 1600] }, async (at) => fill(at, "looks at, in °", "-90")],
  ["a window to a wall of another room", "building.openings[3]", [6120, 4900], async (at, text) => {
    await pick(at, "in the", { label: "right wall of kitchen" });
    await fill(at, "from the left corner", of(text, "is: window", "from-left"));
  }],
  ["an inner door along its wall", "building.openings[1]", [1860, 2500], async (at, text) => fill(at, "from the left corner", of(text, "room: hall, to: living room", "from-left"))],
  ["a contact to a window that has no name yet", "zones[0]", [4000, 0], async (at) => pick(at, "on the", { label: "living room front window" })],
  ["a table", "building.furniture[0]", [4000, 5200], async (at, text) => fill(at, "from the front left corner, right x back", of(text, "name: table", "at"))],
  ["stairs", "building.stairs[0]", [800, 4000], async (at, text) => fill(at, "from the front left corner, right x back", of(text, "to: landing", "at"))],
  ["the outer wall to the left", "building.rooms[0]", { at: [0, 3000], to: [-300, 3000] }, async (at) => {
    await at.choice("by its").selectOption("front left");
    await fill(at, "clear inside, wide x deep", "2.1 x 6");
    await at.choice("by its").selectOption("back right");
  }],
  ["a corner of a room", "building.rooms[1]", { at: [6120, 3600], to: [6420, 3300] }, async (at) => fill(at, "clear inside, wide x deep", "4.5 x 3.3")],
  ["a room as it is", "building.rooms[2]", { at: [4600, 5400], to: [5000, 5800] }, async (at, text, low) => fill(at, "stands at, right x back", low)],
];

const test = cases();
await inBrowser(test, async (chromium) => {
  const bench = await serve("cottage", HOUSE);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1300 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const at = {
    page, field: (name) => page.locator(".edit-bar").getByRole("textbox", { name, exact: true }), choice: (name) => page.locator(".edit-bar").getByRole("combobox", { name, exact: true }),
    writes: async (act) => { const was = bench.text(); await act(); await written(page, bench, was); },
  };
  const back = async () => {
    for (let i = 0; i < 8 && bench.text() !== before; i += 1) {
      const was = bench.text();
      await page.getByRole("button", { name: "Undo" }).click();
      await written(page, bench, was);
    }
    return same(bench.text(), before);
  };
  // Chosen in words, as nothing else lies over it there.
  const choose = async (subject) => {
    if (await page.locator(`.words [data-key="word-${subject}"][aria-pressed="true"]`).count() === 0) await page.evaluate((key) => document.querySelector(`[data-key="word-${key}"]`).click(), subject);
    await page.locator(".edit-bar .fields[role=group]", { hasText: "Pick up" }).waitFor();
  };
  const lowOf = (room) => page.evaluate(async (index) => { const { site } = await fetch("./state").then((got) => got.json()); const flat = site.drawing.house.rooms[index].outline_mm; return [0, 1].map((axis) => Math.min(...flat.filter((_, i) => i % 2 === axis)) / 1000).join(" x "); }, room);
  await page.getByRole("button", { name: "ground", exact: true }).click();
  for (const [name, subject, to, type] of TWINS.filter(([one]) => new RegExp(process.env.PART ?? "").test(one))) {
    await test.case(`${name}: dragged and typed, the same file`, async () => {
      await choose(subject);
      await page.locator(".plan").scrollIntoViewIfNeeded();
      if (Array.isArray(to)) { await drag(page, subject, to); await page.mouse.up(); }
      else if (to.at) await pull(page, to.at, to.to);
      else {
        const box = await page.locator(`[data-grip="${to.from}"] .d-hit`).boundingBox();
        await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
        await page.mouse.down();
        const [x, y] = await screen(page, ...to.to);
        await page.mouse.move(x + 9, y + 9, { steps: 3 });
        await page.mouse.move(x, y, { steps: 2 });
        await page.mouse.up();
      }
      const dragged = await written(page, bench, before);
      const low = subject.startsWith("building.rooms") ? await lowOf(Number(/\d+/.exec(subject)[0])) : "";
      const undone = await back();
      await choose(subject);
      await type(at, dragged, low);
      const typed = bench.text();
      return [...undone, ...same(typed === before, false), ...same(typed, dragged), ...await back()];
    });
  }
  await test.case("a room drawn beside the others, and said in words: the same file", async () => {
    await page.locator('[data-key="tool-room"]').click();
    await pull(page, [6250, 100], [8200, 3550]);
    const drawn = await written(page, bench, before);
    const undone = await back();
    const [, called, where, size] = /name: ([^,]+), at: ([^,]+), size: ([^}]+)/.exec(drawn.split("\n").find((line) => line.includes("6.24"))) ?? [];
    await page.locator(".words summary").click();
    await page.locator('[data-key="words-line"]').fill(`room ${called} ${size} at ${where}`);
    await page.keyboard.press("Enter");
    const said = await written(page, bench, before);
    return [...undone, ...same(said, drawn), ...await back()];
  });
  const said = async (line) => {
    const was = bench.text();
    if (!await page.locator('[data-key="words-line"]').isVisible()) await page.locator(".words summary").click();
    await page.locator('[data-key="words-line"]').fill(line);
    await page.keyboard.press("Enter");
    return written(page, bench, was).catch(async () => { throw new Error(`not understood: ${line}: ${await page.locator(".words .refusal").allInnerTexts()}`); });
  };
  // Of what is pressed on a wall the file says what one would have said: its words, and how far from the left corner it is.
  for (const [name, tool, at_, line, kept] of [
    ["a window pressed on an outer wall", "window", [6120, 1000], (left) => `window living room right ${left} from left`, "{name: living room window, outside: yes}"],
    ["a door pressed where there is none yet", "door", [900, 6000], () => "door hall back", "{door: back door, room: hall, wall: back}"],
    ["an inner door pressed on the wall between", "door", [3000, 3600], (left) => `door living room kitchen ${left} from left`, "{room: living room, to: kitchen, from-left: "],
  ]) {
    await test.case(`${name}, and said in words: the same file`, async () => {
      await page.evaluate(() => { document.querySelector("details.words").open = false; });
      await page.locator(`[data-key="tool-${tool}"]`).click();
      await page.evaluate(() => document.querySelector(".plan").scrollIntoView({ block: "center" }));
      await page.mouse.move(...await screen(page, ...at_));
      await page.waitForTimeout(300); // what is tried is drawn
      await page.mouse.click(...await screen(page, ...at_));
      const pressed = await written(page, bench, before);
      await page.locator('[data-key="tool-none"]').click();
      const undone = await back();
      const left = /from-left: ([^,}]+)/.exec(pressed.split("\n").filter((one) => !before.includes(one)).join("\n"))?.[1];
      const words = await said(line(left));
      return [...undone, ...same(words, pressed), ...(pressed.includes(kept) ? [] : [`not in the file: ${kept}`]), ...await back()];
    });
  }
  await test.case("twins: no complaint", async () => wrong);
  await context.close();
  await bench.end();
  await ells(chromium);
});

// A room that is no rectangle: one corner of it dragged, and all of them typed as x, y with this one elsewhere.
async function ells(chromium) {
  const bench = await serve("cottage", COTTAGE.replace("  openings:\n", "    - {name: annexe, at: 6.24 x 0 m, outline: [0 x 0 m, 3 x 0 m, 3 x 2 m, 1.5 x 2 m, 1.5 x 3.5 m, 0 x 3.5 m]}\n  openings:\n"));
  const context = await chromium.newContext({ viewport: { width: 1280, height: 1300 }, reducedMotion: "reduce" });
  const { page, wrong } = await open(context, bench);
  const before = bench.text();
  const pick_ = () => page.evaluate(() => document.querySelector('.words [data-key="word-building.rooms[3]"]').click());
  await test.case("a corner of an L-shaped room dragged, and typed as x, y: the same file", async () => {
    await pick_();
    await page.locator('[data-grip="corner-3-3"]').waitFor();
    await page.locator(".plan").scrollIntoViewIfNeeded();
    await pull(page, [7740, 2000], [7990, 1650]);
    const dragged = await written(page, bench, before);
    await page.getByRole("button", { name: "Undo" }).click();
    await written(page, bench, dragged);
    const undone = same(bench.text(), before);
    await pick_();
    const field = page.locator(".edit-bar").getByRole("textbox", { name: "corners", exact: true });
    await field.fill("0 x 0, 3 x 0, 3 x 2, 1.75 x 1.65, 1.5 x 3.5, 0 x 3.5 m");
    await page.keyboard.press("Enter");
    return [...undone, ...same(await written(page, bench, before), dragged), ...(dragged.includes("1.75 x 1.65 m") ? [] : [dragged])];
  });
  await test.case("an L: no complaint", async () => wrong);
  await context.close();
  await bench.end();
}
