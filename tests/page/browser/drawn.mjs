// What tests of drawing by hand share: a small house, where its points are on the screen, and things dragged, written and taken back.
import { rested } from "./served.mjs";

// A house of our own, small so that each edit is checked at once.
export const COTTAGE = `site: {name: Cottage (invented), invented: yes}
panel: {profile: halyard-28, exit-delay: 60 s, entry-delays: {front: 30 s}}
areas: [{name: cottage}]
keypads: [{name: hall keypad}]
doors: [{name: front door, outside: yes}]
devices:
  - {name: door contact, profile: slim-contact, on: front door}
  - {name: room motion, profile: quarter-motion}
zones:
  - {number: 1, says: front door, device: door contact, behaviour: entry, delay: front}
  - {number: 2, says: living room, device: room motion, behaviour: interior}
people: [{name: owner}]
building:
  rooms:
    - {name: hall, size: 1.8 x 6 m}
    - {name: living room, size: 4.2 x 3.6 m, right-of: hall}
    - {name: kitchen, size: 4.2 x 2.28 m, behind: living room}   # measured twice
  openings:
    - {door: front door, room: hall, wall: front}
    - {room: hall, to: living room}
    - {room: hall, to: kitchen}
    - {is: window, room: living room, wall: front, width: 1.8 m}
  furniture: [{name: table, room: kitchen, at: 1 x 0.5 m, size: 1.2 x 0.8 m}]
  places:
    - {keypad: hall keypad, room: hall, wall: left, from-left: 1 m}
    - {device: room motion, room: living room, corner: back right, height: 2.3 m}
    - {is: panel, room: kitchen, wall: back}
`;

// Of texts of many lines only those that differ are told.
export function same(got, wanted) {
  if (got === wanted) return [];
  const [is, should] = [got, wanted].map((text) => String(text).split("\n"));
  const at = should.findIndex((line, i) => line !== is[i]);
  return [`got    ${is[Math.max(at, 0)]}`, `wanted ${should[Math.max(at, 0)]}`];
}

// The point of the screen at which a point of the building is drawn.
export function screen(page, x, y) {
  return page.evaluate(async ([mx, my]) => {
    const plan = document.querySelector(".plan");
    const { high_mm: high } = (await (await fetch("./state")).json()).site.drawing;
    const at = new DOMPoint(mx, high[1] - my).matrixTransform(plan.getScreenCTM());
    return [at.x, at.y];
  }, [x, y]);
}

export async function middle(page, about) {
  const box = await page.locator(`.plan [data-about="${about}"] .d-hit`).first().boundingBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
}

export async function drag(page, about, to) {
  await page.locator(".plan").scrollIntoViewIfNeeded();
  await page.mouse.move(...await middle(page, about));
  await page.mouse.down();
  const [x, y] = await screen(page, ...to);
  await page.mouse.move(x + 9, y + 9, { steps: 3 });
  await page.mouse.move(x, y, { steps: 2 });
}

// Waits until the file differs from what it was, and the page is at rest.
export async function written(page, bench, before) {
  for (let i = 0; i < 600 && bench.text() === before; i += 1) await page.waitForTimeout(50);
  if (bench.text() === before) throw new Error("nothing was written");
  await rested(page);
  return bench.text();
}

export async function undone(page, bench, wanted) {
  await page.getByRole("button", { name: "Undo" }).click();
  for (let i = 0; i < 600 && bench.text() !== wanted; i += 1) await page.waitForTimeout(50);
  if (bench.text() !== wanted) throw new Error("undo brought another file");
  await rested(page);
}

export async function pull(page, from, to) {
  await page.mouse.move(...await screen(page, ...from));
  await page.mouse.down();
  const [x, y] = await screen(page, ...to);
  await page.mouse.move(x - 7, y - 7, { steps: 3 });
  await page.mouse.move(x, y, { steps: 2 });
  await page.mouse.up();
}
