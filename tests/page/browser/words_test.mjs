// No word on the page is cut off, or lies over another, or leaves its drawing, where one cannot come to the rest of it by scrolling
// or by its title: every face of every demo, as a phone, a tablet and a laptop have it. Sources: WCAG 2.2, 1.4.10 (reflow), 1.4.4.
import { face, FACES } from "./looks.mjs";
import { cases, inBrowser, open, rested, serve } from "./served.mjs";

const DEMOS = ["quayside", "quayside-as-found", "ropewalk", "ropewalk-as-found", "surgery", "surgery-as-found", "harbour"];
const WIDTHS = [1280, 768, 320];

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const demo of DEMOS.filter((one) => !process.env.DEMO || one === process.env.DEMO)) await words(chromium, demo);
  if (!process.env.DEMO) await proves(chromium);
});

async function words(chromium, demo) {
  const bench = await serve(demo);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const { page } = await open(context, bench);
  const wrong = page.locator(".clause.wrong");
  if (await wrong.count() > 0) await wrong.first().click();
  for (const name of FACES) {
    await test.case(`${demo}, ${name}: every word can be read`, async () => {
      const found = [];
      await face(page, name);
      await rested(page);
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 });
        await page.waitForTimeout(50);
        const parts = await page.locator("#parts button:visible").count(); // a phone shows one part of the bench at a time
        for (let part = 0; part < Math.max(1, parts); part += 1) {
          if (parts > 0) await page.locator("#parts button").nth(part).click();
          const { count, unread } = await look(page);
          found.push(...unread.map((one) => `${width} px: ${one}`), ...(count > 11 ? [] : [`${width} px: only ${count} words are seen`]));
        }
      }
      await page.setViewportSize({ width: 1280, height: 900 });
      return found;
    });
  }
  await context.close();
  await bench.end();
}

// The measurement itself: what is cut, laid over another or pushed out on purpose is found.
async function proves(chromium) {
  const page = await (await chromium.newContext({ viewport: { width: 600, height: 400 } })).newPage();
  const of = async (body) => {
    await page.setContent(`<body style="margin:0;font:15px sans-serif">${body}</body>`);
    return (await look(page)).unread.length;
  };
  const long = "a name that is longer than its box by far";
  await test.case("what is cut off on purpose is found, what can be read is not", async () => {
    const bad = { hidden: `<p style="width:60px;overflow:hidden;white-space:nowrap">${long}</p>`, dots: `<p style="width:60px;overflow:hidden;white-space:nowrap;text-overflow:ellipsis">${long}</p>`,
      within: `<div style="height:20px;overflow:hidden"><p>one</p><p>two</p></div>`, over: `<p style="position:relative;margin:0">one word</p><p style="position:relative;top:-12px;margin:0">another</p>`,
      outside: `<p style="position:absolute;left:580px;white-space:nowrap">${long}</p>`, select: `<select style="width:40px;appearance:none"><option>${long}</option></select>`,
      lanes: `<svg class="lanes" width="100" height="40"><text x="80" y="20">${long}</text></svg>`, crossed: `<svg class="lanes" width="400" height="40"><text x="8" y="20">one word</text><text x="20" y="22">another</text></svg>` };
    const good = { plain: `<p>${long}</p>`, scrolls: `<div style="height:20px;overflow:auto"><p>one</p><p>two</p></div>`, titled: `<p title="${long}" style="width:60px;overflow:hidden;white-space:nowrap;text-overflow:ellipsis">${long}</p>`,
      wide: `<select><option>${long}</option></select>`, lanes: `<svg class="lanes" width="400" height="40"><text x="8" y="20">one word</text><text x="200" y="20">another</text></svg>` };
    const missed = [];
    for (const [name, body] of Object.entries(bad)) if (await of(body) === 0) missed.push(`not found: ${name}`);
    for (const [name, body] of Object.entries(good)) if (await of(body) !== 0) missed.push(`found: ${name}`);
    return missed;
  });
  await page.context().close();
}

function look(page) {
  return page.evaluate(() => {
    const clip = (style) => [style.overflowX, style.overflowY].some((one) => one === "hidden" || one === "clip");
    const scrolls = (style) => [style.overflowX, style.overflowY].some((one) => one === "auto" || one === "scroll");
    const styles = new Map();
    const styleOf = (one) => { if (!styles.has(one)) styles.set(one, getComputedStyle(one)); return styles.get(one); };
    const cut = (text) => text.replaceAll(/\s+/g, " ").trim().slice(0, 50);
    const unread = [];
    const boxes = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (node.textContent.trim() === "" || parent.closest("script, style, option, .read, .skip, [hidden], title, svg")) continue;
      if (!parent.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()].filter((one) => one.width > 0.5 && one.height > 0.5);
      let [titled, floats] = [false, false];
      const rolled = [];
      let clipper = null;
      for (let one = parent; one && one !== document.documentElement; one = one.parentElement) {
        const style = styleOf(one);
        if (style.clipPath !== "none") floats = true;
        titled ||= one.title !== "" || one.ariaLabel === node.textContent.trim();
        floats ||= ["sticky", "fixed"].includes(style.position);
        if (scrolls(style)) rolled.push(one);
        else if (rolled.length === 0 && !clipper && clip(style)) clipper = one;
      }
      if (floats) continue;
      const within = clipper?.getBoundingClientRect();
      if (within && !titled && rects.some((one) => one.right > within.right + 1.5 || one.bottom > within.bottom + 4 || one.left < within.left - 1.5 || one.top < within.top - 4)) unread.push(`cut off: “${cut(node.textContent)}”`);
      if (rolled.length === 0 && !clipper && rects.some((one) => one.right > innerWidth + 1 || one.left < -1)) unread.push(`past the edge: “${cut(node.textContent)}”`);
      const seen = rolled.map((one) => one.getBoundingClientRect());
      for (const { left, top, right, bottom } of rects) {
        const air = (bottom - top) * 0.2;
        if (seen.every((box) => top >= box.top && bottom <= box.bottom && left >= box.left && right <= box.right)) boxes.push({ left, top: top + air, right, bottom: bottom - air, one: parent, says: cut(node.textContent) });
      }
    }
    for (const one of document.querySelectorAll("select")) {
      if (!one.checkVisibility() || one.selectedIndex < 0) continue;
      const style = styleOf(one);
      const pen = document.createElement("canvas").getContext("2d");
      pen.font = style.font;
      const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      if (pen.measureText(one.selectedOptions[0].textContent.trim()).width > room + 2 && one.title === "") unread.push(`cut off, of a choice: “${cut(one.selectedOptions[0].textContent)}”`);
    }
    for (const svg of document.querySelectorAll("svg.lanes, svg.plan:not(.loupe, .sketch)")) {
      if (!svg.checkVisibility()) continue;
      const sheet = svg.getBoundingClientRect();
      const own = [...svg.querySelectorAll("text:not(.d-mark, .d-mark-light)")].filter((one) => one.checkVisibility() && one.textContent.trim() !== "").map((one) => {
        const { left, top, right, bottom } = one.getBoundingClientRect();
        const air = (bottom - top) * 0.22;
        return { left, top: top + air, right, bottom: bottom - air, one, says: cut(one.textContent) };
      });
      unread.push(...own.filter((box) => box.left < sheet.left - 1 || box.right > sheet.right + 1 || box.top < sheet.top - 1 || box.bottom > sheet.bottom + 1).map((box) => `outside its drawing: “${box.says}”`));
      const rolled = [];
      for (let one = svg; one; one = one.parentElement) if (scrolls(styleOf(one))) rolled.push(one.getBoundingClientRect());
      boxes.push(...own.filter((box) => rolled.every((seen) => box.top >= seen.top && box.bottom <= seen.bottom)));
    }
    boxes.sort((a, b) => a.top - b.top);
    boxes.forEach((box, i) => {
      for (let k = i + 1; k < boxes.length && boxes[k].top < box.bottom - 1; k += 1) {
        const other = boxes[k];
        const over = Math.min(box.right, other.right) - Math.max(box.left, other.left) > 2 && Math.min(box.bottom, other.bottom) - other.top > 1;
        if (over && box.one !== other.one) unread.push(`“${box.says}” lies over “${other.says}”`);
      }
    });
    return { count: boxes.length, unread: [...new Set(unread)] };
  });
}
