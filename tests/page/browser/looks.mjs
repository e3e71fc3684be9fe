// Every face of the page, brought into every state that it can have, for whoever looks at it: the gallery of pictures and the
// tests of what can be measured in them. A state begins at the bench, checked, and ends at rest.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { lintel, rested, SOURCE, toFace } from "./served.mjs";

// How a face is looked at. grey: as a photocopier or an eye without any colour has it.
export const PALETTES = {
  light: { colorScheme: "light" },
  dark: { colorScheme: "dark" },
  night: { colorScheme: "dark" },
  print: { colorScheme: "light" },
  grey: { colorScheme: "light" },
  "dark grey": { colorScheme: "dark" },
};

// Wishes of a system of its own, beside the palettes of everybody.
export const WISHES = {
  forced: { forcedColors: "active", colorScheme: "light" },
  "forced dark": { forcedColors: "active", colorScheme: "dark" },
  contrast: { contrast: "more" },
  "contrast dark": { contrast: "more", colorScheme: "dark" },
};

// A window of 1,280 px looked at through a glass: so many CSS pixels are left of it.
export const ZOOMS = {
  "200 %": { viewport: { width: 640, height: 450 }, deviceScaleFactor: 2 },
  "400 %": { viewport: { width: 320, height: 225 }, deviceScaleFactor: 4 },
};

// What a palette needs beyond the wishes of its context, once the page is in its state.
export async function paint(page, palette) {
  if (palette === "night") await page.evaluate(() => document.body.classList.add("night"));
  if (palette === "print") await page.emulateMedia({ media: "print" });
  if (palette.endsWith("grey")) {
    const session = await page.context().newCDPSession(page);
    await session.send("Emulation.setEmulatedVisionDeficiency", { type: "achromatopsia" });
  }
  await page.waitForTimeout(120);
}

// The news as they come, but for what a test makes of them: window.hold keeps back the verdicts (what is shown is then of an older
// edit), window.other puts another report in place of the one that came.
export async function between(context) {
  await context.addInitScript(() => {
    Object.assign(window, { hold: false, other: null, news: null });
    const Source = window.EventSource;
    window.EventSource = class extends Source {
      set onmessage(show) {
        if (!/\/news$/.test(this.url)) { super.onmessage = show; return; } // of the acceptance
        window.showNews = show;
        super.onmessage = (event) => {
          const news = JSON.parse(event.data);
          if (window.hold) news.report = null;
          if (news.report && window.other) news.report.check = window.other;
          window.news = news;
          show({ data: JSON.stringify(news) });
        };
      }
    };
  });
}

// Shows a report in place of the one that came: what the program itself says of the same file under another bound.
export async function instead(page, report) {
  await page.evaluate((other) => {
    window.other = other;
    window.showNews({ data: JSON.stringify({ ...window.news, report: { number: window.news.number, whole: true, check: other } }) });
  }, report);
  await rested(page);
}

export const face = toFace;
export const layer = (page, words) => page.locator(".layers button", { hasText: words }).click();

const first = (page, selector) => page.locator(selector).first();

async function fault(page) {
  await first(page, ".clause.wrong").click();
  await rested(page);
}

// The story at a second at which the siren sounds, if it does.
async function sounding(page) {
  await fault(page);
  const lanes = page.locator(".lanes");
  if (await lanes.count() === 0) return;
  await lanes.focus();
  await page.keyboard.press("Home");
  for (let i = 0; i < 40 && await page.locator(".plan.sounds").count() === 0; i += 1) await page.keyboard.press("Shift+ArrowRight");
}

// States of the bench by name: how to come there.
export const STATES = {
  "at rest": async () => {},
  "zone selected": async (page) => { await first(page, "#schedule .number").click(); },
  "fault selected": fault,
  "siren sounding": sounding,
  "finding selected": async (page) => {
    await page.locator("#leaves button", { hasText: "Findings" }).click();
    await first(page, "#findings .finding").click();
  },
  "room selected": async (page) => { await first(page, ".plan .d-room").dispatchEvent("click"); },
  "opening selected": async (page) => { await first(page, '.plan [data-about^="building.openings"]').dispatchEvent("click"); },
  "clause focused": async (page) => { await fault(page); await first(page, "#sentence .clause").focus(); await page.keyboard.press("Tab"); },
  "thing focused": async (page) => { await page.locator(".plan").focus(); for (let i = 0; i < 6; i += 1) await page.keyboard.press("ArrowRight"); },
  "cell focused": async (page) => { await first(page, "#schedule .behaves select").focus(); await page.keyboard.press("ArrowRight"); },
  stale: async (page) => {
    await fault(page);
    await page.locator("#leaves button", { hasText: "Zones" }).click(); // what is wrong may stand in the other leaf
    await page.evaluate(() => { window.hold = true; });
    await first(page, "#schedule .yes").click();
    await page.waitForFunction(() => document.body.classList.contains("stale"));
  },
  sight: (page) => layer(page, "sight"),
  ways: (page) => layer(page, "ways"),
  radio: (page) => layer(page, "radio"),
  devices: async (page) => { await page.locator(".columns button", { hasText: "devices" }).click(); },
  "in words": async (page) => { await page.locator(".words summary").click(); },
};

// What is shown in the midst of something, on any demo.
export const ACTS = {
  "revisions compared": async (page) => {
    await first(page, "#schedule .behaves select").selectOption("interior");
    await rested(page);
    await first(page, "#schedule .yes").click();
    await rested(page);
    await face(page, "Revisions");
    await page.getByRole("textbox", { name: "name of the revision" }).fill("after the first walk round with the owner (invented)");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Compare with as found" }).click();
    await page.locator(".compared [role=status]").waitFor({ timeout: 60000 });
  },
  "rehearsal in mid-act": async (page) => {
    await face(page, "Rehearse");
    const states = page.locator('#acting select[aria-label^="how "]');
    for (let i = 0; i < await states.count(); i += 1) await states.nth(i).selectOption("full");
    await first(page, "#acting button[aria-pressed]").click();
    const door = await page.evaluate(async () => {
      const { site } = await (await fetch("./state")).json();
      const inner = site.file.building.openings.findIndex((one) => one.door && site.file.doors.some((door) => door.name === one.door && door.outside));
      return `building.openings[${inner}]`;
    });
    await page.locator(`.plan [data-about="${door}"]`).click();
    await page.getByRole("button", { name: "goes through, it falls shut", exact: true }).click();
    for (let i = 0; i < 2; i += 1) await page.getByRole("button", { name: "to the next thing that happens", exact: true }).click();
  },
  "refused import": async (page) => {
    const text = "site: {name: Half}\npanel: {profile: halyard-28}\nareas: [{name: x}]\nzones:\n  - {number: twelve}\n  - {nomber: 3}\n";
    await page.getByLabel("site file").setInputFiles({ name: "half of a house.yaml", mimeType: "application/yaml", buffer: Buffer.from(text) });
    await page.locator("#brought b").first().waitFor();
  },
};

export const FACES = ["Bench", "Routines", "Rehearse", "Keying in", "Revisions", "Acceptance"];

// The text of a demo in which somebody answers for some of its findings: the lines that the program prints for that.
export function waivedText(demo, about) {
  const file = join(SOURCE, "demo", `${demo}.yaml`);
  const { findings } = JSON.parse(lintel("check", file, "--json").stdout);
  const lines = findings.filter((one) => one.waiver && about(one)).map((one) => `  - ${one.waiver}`.replace('reason: ""', 'reason: "the owner has it replaced in spring"').replace('by: ""', "by: N. Tester (invented)").replace("YYYY-MM-DD", "2099-03-12"));
  return `${readFileSync(file, "utf8")}\nwaived:\n${lines.join("\n")}\n`;
}
