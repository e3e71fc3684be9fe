// What can be measured of how the page looks, on what is rendered: contrast of text and of marks, in every palette; that people and
// what sounds, and the rings of every state, differ by more than lightness where there is no colour; that no words of the drawing lie
// over each other. Sources: WCAG 2.2, 1.4.3 (text 4.5:1), 1.4.11 (marks 3:1), 1.4.1 (not by colour alone); its definitions of
// relative luminance and contrast ratio.
import { between, instead, paint, PALETTES, STATES, waivedText } from "./looks.mjs";
import { cases, inBrowser, lintel, open, serve, violations } from "./served.mjs";

const SHARP = 2; // device pixels: strokes of 1 px then have a core of their own colour
const TEXT = "#sentence .clause, #state, .top button, .layers button, #schedule td, #schedule th, .headline, .detail p, .lanes text, .story span, .story button, .plan text, .legend li";
const MARKS = "#schedule .ring svg, .plan .d-ring, .plan .d-sign, .plan .d-wall, .bar.person rect, .bar.siren rect, .bar.door rect, .lanes .now, .plan .d-person path, .plan .d-chosen";

const NO_TEXT = "* { color: transparent !important; text-decoration-color: transparent !important; } svg text { fill: transparent !important; }";
const NO_MARKS = "#schedule .ring svg, .plan .d-ring, .plan .d-sign, .plan .d-sign-dark, .plan .d-wall, .plan .d-mark, .bar, .lanes .now, .plan .d-person, .plan .d-trail, .plan .d-chosen, .lanes .breaks { visibility: hidden !important; }";

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const palette of ["light", "dark", "print", "grey", "dark grey"]) await contrasts(chromium, palette);
  for (const palette of ["light", "dark"]) await read(chromium, palette);
  for (const palette of ["grey", "dark grey"]) await withoutColour(chromium, palette);
  await ringsApart(chromium);
  for (const demo of ["quayside", "quayside-as-found", "ropewalk", "ropewalk-as-found", "surgery", "surgery-as-found"]) await labels(chromium, demo);
});

async function pageOf(chromium, bench, palette, width = 1280) {
  const context = await chromium.newContext({ viewport: { width, height: 900 }, reducedMotion: "reduce", deviceScaleFactor: SHARP, ...PALETTES[palette] });
  await between(context);
  const { page } = await open(context, bench);
  return { page, context };
}

// Two pictures of the page, with and without some things, and what a page of its own sees in them: for each box the colour that is
// most frequent behind it, and how far the things stand out from it: WCAG's ratio, of the darkest or lightest in a hundred of the
// pixels that the thing covers.
async function ratios(page, selector, without) {
  const boxes = await page.evaluate((wanted) => [...document.querySelectorAll(wanted)].flatMap((one) => {
    const { left, top, width, height } = one.getBoundingClientRect();
    const seen = one.checkVisibility?.({ visibilityProperty: true }) !== false && width > 3 && height > 3 && (one.matches("svg *, svg") || one.textContent.trim() !== "");
    const off = one.closest("button:disabled, .read, .skip, [hidden]") !== null;
    const at = document.elementFromPoint(left + width / 2, top + height / 2);
    const under = !one.matches("svg *") && at !== null && !one.contains(at) && !at.contains(one);
    return seen && !off && !under && left >= 0 && top >= 0 ? [{ name: `${one.tagName} ${one.getAttribute("class") ?? ""} “${one.textContent.trim().slice(0, 30)}”`, box: [left, top, width, height] }] : [];
  }), selector);
  const shot = async () => (await page.screenshot({ animations: "disabled", caret: "hide" })).toString("base64");
  const has = await shot();
  await page.evaluate((css) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets = [sheet]; }, without);
  const hasNot = await shot();
  await page.evaluate(() => { document.adoptedStyleSheets = []; });
  const eye = await page.context().newPage();
  const found = await eye.evaluate(async ([one, other, list, sharp]) => {
    const read = async (data) => {
      const picture = new Image();
      picture.src = `data:image/png;base64,${data}`;
      await picture.decode();
      const canvas = Object.assign(document.createElement("canvas"), { width: picture.width, height: picture.height });
      const ink = canvas.getContext("2d", { willReadFrequently: true });
      ink.drawImage(picture, 0, 0);
      return (x, y, w, h) => ink.getImageData(x, y, w, h).data;
    };
    const [withIt, withoutIt] = [await read(one), await read(other)];
    const linear = (value) => (value <= 0.04045 * 255 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4);
    const luminance = (data, i) => 0.2126 * linear(data[i]) + 0.7152 * linear(data[i + 1]) + 0.0722 * linear(data[i + 2]);
    const ratio = (a, b) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    return list.map(({ name, box }) => {
      const [x, y, w, h] = box.map((value) => Math.round(value * sharp));
      const [now, then] = [withIt(x, y, w, h), withoutIt(x, y, w, h)];
      const often = new Map();
      const changed = [];
      for (let i = 0; i < then.length; i += 4) {
        const differs = Math.abs(now[i] - then[i]) + Math.abs(now[i + 1] - then[i + 1]) + Math.abs(now[i + 2] - then[i + 2]) > 12;
        if (!differs) continue;
        const key = (then[i] << 16) | (then[i + 1] << 8) | then[i + 2];
        often.set(key, (often.get(key) ?? 0) + 1);
        changed.push(i);
      }
      if (changed.length < 12) return { name, ratio: null };
      const [ground] = [...often].sort((a, b) => b[1] - a[1])[0];
      const behind = luminance([ground >> 16, (ground >> 8) & 255, ground & 255], 0);
      const out = changed.map((i) => ratio(luminance(now, i), behind)).sort((a, b) => b - a);
      return { name, ratio: out[Math.floor(out.length / 100)] };
    });
  }, [has, hasNot, boxes, SHARP]);
  await eye.close();
  return found.filter((one) => one.ratio !== null);
}

async function contrasts(chromium, palette) {
  const bench = await serve("surgery-as-found");
  const { page, context } = await pageOf(chromium, bench, palette);
  await STATES["siren sounding"](page);
  await paint(page, palette);
  await page.setViewportSize({ width: 1280, height: 1900 });
  await page.evaluate(() => scrollTo(0, 0));
  const low = (list, least) => list.filter((one) => one.ratio < least - 0.02).map((one) => `${one.ratio.toFixed(2)}: ${one.name}`);
  const enough = (list, least) => (list.length >= least ? [] : [`only ${list.length} are seen`]);
  await test.case(`${palette}: every text stands out by 4.5:1`, async () => {
    const found = await ratios(page, TEXT, NO_TEXT);
    return [...low(found, 4.5), ...enough(found, 80)];
  });
  await test.case(`${palette}: every mark stands out by 3:1`, async () => {
    const found = await ratios(page, MARKS, NO_MARKS);
    return [...low(found, 3), ...enough(found, palette === "print" ? 20 : 30)];
  });
  await test.case(`${palette}: of an older edit, text and rings stand out as much`, async () => {
    if (palette === "print") return [];
    await page.evaluate(() => { window.hold = true; });
    await page.locator("#schedule .yes").first().click();
    await page.waitForFunction(() => document.body.classList.contains("stale"));
    await page.evaluate(() => { document.activeElement.blur(); scrollTo(0, 0); });
    const clauses = await ratios(page, "#sentence .clause, #schedule .ring .word", NO_TEXT);
    const rings = await ratios(page, "#schedule .ring svg", NO_MARKS);
    return [...low(clauses, 4.5), ...low(rings, 3), ...enough(clauses, 4), ...enough(rings, 4)];
  });
  await context.close();
  await bench.end();
}

// With the grid, the plan and the ribbon in each of their states, one after the other on one page.
async function read(chromium, palette) {
  const bench = await serve("ropewalk-as-found", waivedText("ropewalk-as-found", (one) => one.weight === "risk"));
  const { page, context } = await pageOf(chromium, bench, palette);
  for (const state of ["fault selected", "opening selected", "room selected", "sight", "ways", "radio", "devices", "in words", "finding selected", "stale"]) {
    await test.case(`${palette}, ${state}: nothing is violated, and every name is a sentence`, async () => {
      if (state === "stale") {
        await page.locator("#leaves button", { hasText: "Zones" }).click();
        await page.locator(".columns button", { hasText: "settings" }).click();
      }
      await STATES[state](page);
      return [...await violations(page), ...await unnamed(page)];
    });
  }
  await context.close();
  await bench.end();
}

// Things of the drawing whose name says no more than their sign, or a path of the file; controls without any.
function unnamed(page) {
  return page.evaluate(() => {
    const things = [...document.querySelectorAll(".plan [role=button]")].map((one) => one.getAttribute("aria-label") ?? "");
    const controls = [...document.querySelectorAll("button, select, input, a, summary")].filter((one) => one.offsetParent !== null)
      .map((one) => [one, one.getAttribute("aria-label") || one.textContent.trim() || one.labels?.[0]?.textContent.trim() || one.getAttribute("title") || ""]);
    return [...things.filter((name) => name.length < 4 || /\[\d+\]|undefined|null/.test(name)).map((name) => `a thing is called “${name}”`),
      ...controls.filter(([, name]) => name === "" || /undefined|\[object/.test(name)).map(([one]) => `no name: ${one.outerHTML.slice(0, 80)}`), ...(things.length > 5 ? [] : [`only ${things.length} things`])];
  });
}

// The grey levels along the middle of a bar, clear of its words; and whether its corner is filled.
async function barLooks(page, selector) {
  let box = null;
  /* The ribbon is made anew for another window: what was there a moment ago has no box. */
  for (let i = 0; i < 50 && box === null; i += 1) {
    box = await page.locator(selector).first().boundingBox();
    if (box === null) await page.waitForTimeout(100);
  }
  const shot = (await page.screenshot({ animations: "disabled" })).toString("base64");
  const eye = await page.context().newPage();
  const seen = await eye.evaluate(async ([data, [x, y, w, h], sharp]) => {
    const picture = new Image();
    picture.src = `data:image/png;base64,${data}`;
    await picture.decode();
    const canvas = Object.assign(document.createElement("canvas"), { width: picture.width, height: picture.height });
    const ink = canvas.getContext("2d");
    ink.drawImage(picture, 0, 0);
    const grey = (px, py) => ink.getImageData(Math.round(px * sharp), Math.round(py * sharp), 1, 1).data[0];
    const row = Array.from({ length: Math.floor(Math.min(w - 8, 200) * sharp) }, (_, i) => grey(x + w - 4 - i / sharp, y + h / 2));
    const turns = row.filter((value, i) => i > 0 && Math.abs(value - row[i - 1]) > 24).length;
    const inside = grey(x + w - 3, y + h / 2);
    return { turns, wide: row.length / sharp, square: Math.abs(grey(x + w - 0.6, y + 0.6) - grey(x + w - 0.6, y + h / 2)) < 24, grey: inside };
  }, [shot, [box.x, box.y, box.width, box.height], SHARP]);
  await eye.close();
  return seen;
}

// Somebody's bar and the siren's, as a copier has them.
async function withoutColour(chromium, palette) {
  const bench = await serve("surgery-as-found");
  const { page, context } = await pageOf(chromium, bench, palette);
  await STATES["siren sounding"](page);
  await paint(page, palette);
  await page.setViewportSize({ width: 1280, height: 1900 });
  await test.case(`${palette}: people and what sounds differ by form: plain and rounded, square and with upright strokes`, async () => {
    const somebody = await barLooks(page, ".bar.person rect[width]:not([width^='5']) >> nth=0");
    const siren = await barLooks(page, ".bar.siren rect");
    return [...(somebody.turns <= 2 ? [] : [`somebody's bar has ${somebody.turns} edges in it`]), ...(siren.turns > siren.wide / 10 ? [] : [`the siren's has ${siren.turns} on ${siren.wide} px`]),
      ...(somebody.square ? ["somebody's bar has square corners"] : []), ...(siren.square ? [] : ["the siren's has none"])];
  });
  await test.case(`${palette}: on the drawing the sounding siren is a filled sign with strokes outside, somebody a drop`, () => page.evaluate(() => {
    const horn = document.querySelector(".plan.sounds .horn");
    const strokes = [...horn?.querySelectorAll(".d-leaf") ?? []].map((one) => parseFloat(getComputedStyle(one).strokeWidth));
    const drop = document.querySelector(".plan .d-person path")?.getBBox();
    return [...(strokes.length >= 3 && strokes.every((width) => width >= 3) ? [] : [`strokes of the siren: ${strokes}`]), ...(drop && drop.width / drop.height > 1.2 ? [] : ["nobody is drawn as a drop"])];
  }));
  await context.close();
  await bench.end();
}

// Every ring as it is rendered, without colour, laid over every other: at least a fifth of what either covers is not in the other.
async function ringsApart(chromium) {
  const found = await serve("surgery-as-found");
  const { page, context } = await pageOf(chromium, found, "grey", 1280);
  await paint(page, "grey");
  const shapes = {};
  const keep = async (of, name, selector) => { shapes[name] = (await of.locator(selector).first().screenshot({ animations: "disabled" })).toString("base64"); };
  for (const state of ["holds", "risk", "fault"]) await keep(page, state, `#schedule .ring.${state} > :first-child`);
  await context.close();
  await found.end();
  const waived = await serve("ropewalk-as-found", waivedText("ropewalk-as-found", (one) => one.weight !== "note" && /^(zone|device)/.test(one.about)));
  const second = await pageOf(chromium, waived, "grey");
  for (const state of ["fault", "risk"]) await keep(second.page, `waived ${state}`, `#schedule .ring.waived.${state} > :first-child`);
  await second.context.close();
  await waived.end();
  const proven = await serve("quayside");
  const third = await pageOf(chromium, proven, "grey");
  await instead(third.page, JSON.parse(lintel("check", proven.file, "--json", "--classes", "300").stdout));
  await third.page.locator("#leaves button", { hasText: "Findings" }).click();
  await keep(third.page, "undecided", "#findings .ring.unsettled > :first-child");
  const eye = await third.context.newPage();
  await test.case("every ring has a shape of its own, without any colour", () => eye.evaluate(async (all) => {
    const SIZE = 48;
    const covered = {};
    for (const [name, data] of Object.entries(all)) {
      const picture = new Image();
      picture.src = `data:image/png;base64,${data}`;
      await picture.decode();
      const canvas = Object.assign(document.createElement("canvas"), { width: SIZE, height: SIZE });
      const ink = canvas.getContext("2d");
      ink.drawImage(picture, 0, 0, SIZE, SIZE);
      const { data: pixels } = ink.getImageData(0, 0, SIZE, SIZE);
      const paper = pixels[0];
      covered[name] = Array.from({ length: SIZE * SIZE }, (_, i) => Math.abs(pixels[4 * i] - paper) > 60);
    }
    const names = Object.keys(covered);
    return names.flatMap((a, i) => names.slice(i + 1).flatMap((b) => {
      const both = covered[a].filter((is, k) => is && covered[b][k]).length;
      const either = covered[a].filter((is, k) => is || covered[b][k]).length;
      return either > 20 && both / either < 0.8 ? [] : [`${a} and ${b}: ${either === 0 ? "nothing is drawn" : `${Math.round(100 * both / either)} % alike`}`];
    }));
  }, shapes).catch((error) => [error.message]));
  await third.context.close();
  await proven.end();
}

// No word of the drawing lies over another, over a sign that is not its own, or past the sheet's edge; on every storey and layer.
async function labels(chromium, demo) {
  const bench = await serve(demo);
  const context = await chromium.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const { page } = await open(context, bench);
  const storeys = await page.locator(".section button").count();
  await test.case(`${demo}: no word of the drawing lies over another or over a sign`, async () => {
    const wrong = [];
    for (const layer of await page.locator(".layers button").allInnerTexts()) {
      await page.locator(".layers button", { hasText: layer }).click();
      for (let storey = 0; storey < Math.max(1, storeys); storey += 1) {
        if (storeys > 0) await page.locator(`[data-key="storey-${storey}"]`).click();
        const found = await page.evaluate(() => {
          const sheet = document.querySelector(".plan").getBoundingClientRect();
          /* Of the letters themselves: without the light line round them, nor the air above and below. */
          const box = (one) => {
            const { x, y, width, height } = one.getBBox();
            const air = one.matches("text") ? height * 0.2 : 0;
            const { a, d, e, f } = one.getScreenCTM();
            return { left: x * a + e, top: (y + air) * d + f, right: (x + width) * a + e, bottom: (y + height - air) * d + f };
          };
          const words = [...document.querySelectorAll(".plan text")].map((one) => ({ one, says: one.textContent, mark: one.matches(".d-mark, .d-mark-light"), box: box(one) }));
          const signs = [...document.querySelectorAll(".plan .d-sign, .plan .d-sign-dark")].map((one) => ({ one, says: `the sign ${one.parentElement.textContent}`, box: box(one) }));
          const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1;
          const free = words.filter((word) => !word.mark);
          return [...free.flatMap((word, i) => free.slice(i + 1).filter((other) => meet(word.box, other.box)).map((other) => `“${word.says}” over “${other.says}”`)),
            ...free.flatMap((word) => signs.filter((sign) => !sign.one.parentElement.contains(word.one) && meet(word.box, sign.box)).map((sign) => `“${word.says}” over ${sign.says}`)),
            ...words.filter(({ box: one }) => one.left < sheet.left - 1 || one.right > sheet.right + 1 || one.top < sheet.top - 1 || one.bottom > sheet.bottom + 1).map((word) => `“${word.says}” past the edge of the sheet`)];
        });
        wrong.push(...found.map((one) => `${layer}, storey ${storey}: ${one}`));
      }
    }
    return [...wrong];
  });
  await context.close();
  await bench.end();
}
