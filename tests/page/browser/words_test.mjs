// No word on the page is cut off, or lies over another, or leaves its drawing, where one cannot come to the rest of it by scrolling
// or by its title: every face of every demo, as a phone, a tablet and a laptop have it. Sources: WCAG 2.2, 1.4.10 (reflow), 1.4.4.
import { legible } from "./legible.mjs";
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
          const { count, unread } = await legible(page);
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
    return (await legible(page)).unread.length;
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
