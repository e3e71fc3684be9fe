// While a story plays it stays in sight, and so does whatever gets the focus by keys: in the drawing's controls, in the zones, among the
// findings it stands above the ribbon. Source: WCAG 2.2, 2.4.11 (focus not obscured).
import { cases, inBrowser, open, rested, serve } from "./served.mjs";

const LISTS = { zones: "#schedule tr[data-zone] .number", findings: "#findings .finding", drawing: "#drawing .body :is(button, input, select, summary)" };

const test = cases();
await inBrowser(test, async (chromium) => {
  for (const viewport of [{ width: 1280, height: 800 }, { width: 1440, height: 900 }]) {
    const bench = await serve("surgery-as-found");
    const context = await chromium.newContext({ viewport, reducedMotion: "reduce" });
    const { page, wrong } = await open(context, bench);
    await page.locator(".clause.wrong").first().click();
    await rested(page);
    for (const [name, selector] of Object.entries(LISTS)) {
      await test.case(`${viewport.width} x ${viewport.height}: what has the focus among the ${name} is not under the ribbon`, async () => {
        if (name !== "drawing") await page.locator(`[data-key="leaf-${name}"]`).click();
        await page.locator("#ribbon button", { hasText: /^Play/ }).first().click();
        await page.waitForFunction(() => document.body.dataset.story === "played");
        const { count, covered } = await page.evaluate(async ([list]) => {
          const all = [...document.querySelectorAll(list)].filter((one) => one.checkVisibility() && !one.disabled);
          const covered = [];
          scrollTo(0, 0);
          for (const one of all) {
            one.focus();
            await new Promise((next) => { requestAnimationFrame(next); });
            const { top, bottom } = one.getBoundingClientRect();
            const over = document.getElementById("ribbon").getBoundingClientRect().top;
            if (bottom > over + 1 || top < 0) covered.push(`${one.textContent.trim().slice(0, 30)}: ${Math.round(top)} to ${Math.round(bottom)} px, the ribbon begins at ${Math.round(over)}`);
          }
          return { count: all.length, covered };
        }, [selector]);
        const stop = page.locator("#ribbon button", { hasText: /^Stop/ });
        if (await stop.count() > 0) await stop.first().click();
        return [...covered, ...(count > 3 ? [] : [`only ${count} of them`])];
      });
    }
    await test.case(`${viewport.width} x ${viewport.height}: no complaint`, async () => wrong);
    await context.close();
    await bench.end();
  }
});
