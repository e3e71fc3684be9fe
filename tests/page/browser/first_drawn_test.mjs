// From the blank page to the proven sentence, the house drawn with a finger on a tablet and on a phone: walls stroked, doors, windows
// and devices pressed where they are. Source of the number of actions: page-spec 1, where each is counted.
import { join } from "node:path";
import { screen } from "./drawn.mjs";
import { finger, had, listened } from "./hands.mjs";
import { cases, check, inBrowser, open, rested, serveFolder, violations } from "./served.mjs";

const ACTIONS_MOST = 41; // an action is one press, one drag, or one field typed and left
const SCREENS = { tablet: { width: 768, height: 1024 }, phone: { width: 360, height: 740 } };

// The cottage, 9 x 7 m: walls from front to back, then what is pressed; in mm from its front left corner.
const WALLS = [[[2060, 250], [2060, 6800]], [[5580, 250], [5580, 6800]]];
const DOORS = [[1000, 0], [3800, 7000], [1960, 3500], [5690, 3500]];
const WINDOWS = [[3800, 0], [7300, 7000]];
const DEVICES = [[8850, 1000], [1950, 1500], [800, 6950]];

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const [name, viewport] of Object.entries(SCREENS)) if (!process.env.PART || process.env.PART === name) await drawn(chromium, name, viewport);
});

async function drawn(chromium, name, viewport) {
  const bench = await serveFolder();
  const context = await chromium.newContext({ viewport, hasTouch: true, isMobile: true });
  await listened(context);
  const { page, wrong } = await open(context, bench);
  const hand = finger(page);
  const file = () => bench.text("mill-cottage.yaml");
  const look = async (what) => { if (process.env.PICTURES) await page.screenshot({ path: join(process.env.PICTURES, `${name}-${what}.png`) }); };
  // Done once the file has it and the page is at rest.
  const writes = async (act) => {
    const before = file();
    await act();
    for (let i = 0; i < 600 && file() === before; i += 1) await page.waitForTimeout(50);
    if (file() === before) throw new Error(`nothing was written: ${await page.locator("#guide").innerText()}`);
    await rested(page);
    await hand.settled(`an edit, ${Math.round(hand.actions)} actions`);
  };
  // Where one can press it: not under what stands over the drawing. It may have to be scrolled to, as a finger would.
  const still = async () => {
    const box = () => page.evaluate(() => { const plan = document.querySelector(".plan"); return plan.getAttribute("viewBox") + JSON.stringify(plan.getBoundingClientRect()); });
    for (let was = "", same = 0; same < 4;) { const is = await box(); same = is === was ? same + 1 : 0; was = is; await page.waitForTimeout(80); }
  };
  const at = async (point) => {
    await still();
    const clear = ([x, y]) => page.evaluate(([px, py]) => (document.elementFromPoint(px, py)?.closest(".plan") ?? null) !== null, [x, y]);
    if (!await clear(await screen(page, ...point))) await page.evaluate(([x, y]) => scrollBy(0, y - innerHeight / 3), await screen(page, ...point));
    const there = await screen(page, ...point);
    if (!await clear(there)) hand.wrong.push(`covered: ${point}`);
    return there;
  };
  const next = async () => { await hand.press(page.locator('[data-key="guide-next"]')); await hand.settled("Next"); };
  const press = async (point) => writes(async () => hand.pressAt(await at(point)));
  await test.case(`${name}: four answers; the wall is in the hand`, async () => {
    await hand.type(page.getByLabel("What is the place called?"), "Mill cottage");
    await hand.press(page.getByRole("radio", { name: /^halyard-28/ }));
    await hand.type(page.getByLabel("to the right"), "9");
    await hand.type(page.getByLabel("to the back"), "7");
    await hand.press(page.getByRole("button", { name: "one child more" }));
    const other = await had(page, hand.allowed);
    await look("1-blank");
    await hand.press(page.getByRole("button", { name: "Start drawing" }));
    await page.waitForURL(/mill-cottage/);
    await rested(page);
    await page.locator('[data-key="guide-hand-wall"][aria-pressed="true"]').waitFor();
    return other;
  });
  await test.case(`${name}: two walls stroked, three names typed`, async () => {
    for (const [from, to] of WALLS) await writes(async () => { await at(from); await hand.stroke(await screen(page, ...from), await screen(page, ...to)); });
    for (const [i, room] of ["hall", "kitchen", "bedroom"].entries()) await writes(() => hand.type(page.locator(`[data-key="guide-name-${i}"]`), room, "Enter"));
    await look("2-rooms");
    const found = await violations(page);
    await next();
    return [...found, ...["{name: hall, size: 2 x 7 m", "{name: kitchen, size: 3.4 x 7 m, right-of: hall}", "{name: bedroom, size: 3.36 x 7 m, right-of: kitchen}"].filter((line) => !file().includes(line)).map((line) => `no ${line}, but${file().split("rooms:")[1]}`)];
  });
  await test.case(`${name}: doors and windows pressed on their walls`, async () => {
    for (const door of DOORS) await press(door);
    await hand.press(page.locator('[data-key="guide-hand-window"]'));
    for (const window of WINDOWS) await press(window);
    await look("3-openings");
    const found = await violations(page);
    await next();
    return [...found, ...["door: front door", "door: back door", "room: hall, to: kitchen", "room: bedroom, to: kitchen", "door: kitchen window", "door: bedroom window"].filter((words) => !file().includes(words))];
  });
  await test.case(`${name}: the panel, the keypad, the siren, contacts on all four, a motion detector`, async () => {
    for (const device of DEVICES) await press(device);
    await look("4-devices");
    await writes(() => hand.press(page.locator('[data-key="guide-contacts"]')));
    await press([250, 6750]);
    const found = await violations(page);
    await next();
    return [...found, ...["is: panel, room: bedroom", "keypad: keypad, room: hall, wall: right", "device: siren, room: hall", "device: hall motion, room: hall, corner: back left"].filter((words) => !file().includes(words))];
  });
  await test.case(`${name}: five routines as they are suggested`, async () => {
    await look("5-routines");
    for (let i = 0; i < 5; i += 1) await writes(() => hand.press(page.getByRole("button", { name: "Keep", exact: true }).first()));
    await next();
    return [];
  });
  await test.case(`${name}: what goes wrong is mended where it stands, until all is proven`, async () => {
    const mended = page.locator(".clause.wrong").filter({ hasNotText: /way in is (not )?heard/i });
    for (let i = 0; i < 4 && await mended.count() > 0; i += 1) {
      await hand.press(mended.first());
      await look(`6-proof-${i}`);
      await writes(() => hand.press(page.locator(".explained .remedy .act, .findings .remedy .act").filter({ visible: true }).first()));
    }
    await look("7-proven");
    const sentence = await page.title(); // the whole of it, on a phone too
    return [.../^All \d+ routines are proven\./.test(sentence) ? [] : [sentence], ...check(join(bench.folder, "mill-cottage.yaml")).status === 0 ? [] : ["lintel check finds a fault"]];
  });
  console.log(`# ${name}: ${hand.actions} actions`);
  await test.case(`${name}: in at most ${ACTIONS_MOST} actions (${hand.actions})`, async () => (hand.actions <= ACTIONS_MOST && hand.actions > ACTIONS_MOST / 2 ? [] : [`${hand.actions} actions`]));
  await test.case(`${name}: nowhere is the place lost, nothing but a finger was asked for, nothing was covered`, async () => [...hand.wrong, ...await had(page, hand.allowed)]);
  await test.case(`${name}: no complaint`, async () => wrong);
  await context.close();
  await bench.end();
}
