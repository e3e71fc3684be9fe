// gallery.mjs FOLDER [WORD]...: pictures of every face in every state and palette, and of every face of every demo at every
// width, as sheets of paper, through a glass, by a system's own wishes, into a folder, with sheets of many at once; for eyes. Only
// those whose name holds every WORD; =WORD: which is a part of the name as it stands.
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ACTS, between, face, FACES, instead, paint, PALETTES, STATES, waivedText, WISHES, ZOOMS } from "./looks.mjs";
import { browser, lacks, lintel, listener, open, rested, serve, serveFolder, SOURCE, WIDTHS } from "./served.mjs";

const [folder, ...words] = process.argv.slice(2);
const missing = lacks();
if (!folder || missing) {
  console.error(missing ?? "gallery.mjs: into which folder?");
  process.exit(1);
}
mkdirSync(folder, { recursive: true });
const wanted = (...name) => words.every((word) => (word.startsWith("=") ? name.map(String).includes(word.slice(1)) : name.join(" ").includes(word)));
const chromium = await browser();
const taken = [];

async function take(page, ...name) {
  const file = `${name.join(", ")}.png`;
  await page.screenshot({ path: join(folder, file), fullPage: true });
  taken.push(file);
  process.stdout.write(`${file}\n`);
}

async function fresh(bench, palette, size = { width: 1280, height: 900 }) {
  const context = await chromium.newContext({ viewport: size, reducedMotion: "reduce", ...PALETTES[palette], ...WISHES[palette], ...ZOOMS[palette] });
  await between(context);
  const { page } = await open(context, bench);
  return { page, end: () => context.close() };
}

async function states(demo) {
  const bench = await serve(demo);
  for (const palette of Object.keys(PALETTES).filter((one) => one !== "night")) {
    for (const [state, bring] of Object.entries(STATES)) {
      if (!wanted("states", demo, state, palette)) continue;
      const { page, end } = await fresh(bench, palette);
      await bring(page);
      await paint(page, palette);
      await take(page, "states", demo, state, palette);
      await end();
    }
  }
  await bench.end();
}

async function undecided(demo) {
  const bench = await serve(demo);
  const report = JSON.parse(lintel("check", bench.file, "--json", "--classes", "300").stdout);
  for (const palette of Object.keys(PALETTES).filter((one) => one !== "night")) {
    if (!wanted("states", demo, "undecided", palette)) continue;
    const { page, end } = await fresh(bench, palette);
    await instead(page, report);
    await page.locator(".clause.wrong").first().click();
    await paint(page, palette);
    await take(page, "states", demo, "undecided", palette);
    await end();
  }
  await bench.end();
}

// Somebody answers for what is wrong with the zones: the table and the list.
async function waived(demo) {
  const bench = await serve(demo, waivedText(demo, (one) => one.weight !== "note" && /^(zone|device)/.test(one.about)));
  for (const palette of Object.keys(PALETTES).filter((one) => one !== "night")) {
    if (!wanted("states", demo, "waived", palette)) continue;
    const { page, end } = await fresh(bench, palette);
    await take(page, "states", demo, "waived, zones", palette);
    await page.locator(".clause", { hasText: "waived" }).click();
    await paint(page, palette);
    await take(page, "states", demo, "waived", palette);
    await end();
  }
  await bench.end();
}

async function faces(demo) {
  const bench = await serve(demo);
  for (const palette of ["light", "dark", "print", ...Object.keys({ ...WISHES, ...ZOOMS })]) {
    const widths = WISHES[palette] ? [1280] : ZOOMS[palette] ? [ZOOMS[palette].viewport.width] : WIDTHS;
    for (const words of FACES) {
      if (!widths.some((width) => wanted("faces", demo, words, palette, width))) continue;
      const { page, end } = await fresh(bench, palette);
      if (words === "Bench" && await page.locator(".clause.wrong").count() > 0) await page.locator(".clause.wrong").first().click();
      await face(page, words);
      await rested(page);
      await page.waitForTimeout(200);
      await paint(page, palette);
      for (const width of widths) {
        if (!wanted("faces", demo, words, palette, width)) continue;
        if (!ZOOMS[palette]) await page.setViewportSize({ width, height: 900 });
        await page.waitForTimeout(100);
        await take(page, "faces", demo, words, palette, width);
      }
      await end();
    }
  }
  await bench.end();
}

// In the midst of something.
async function acts(demo) {
  for (const palette of ["light", "dark", "print", "grey"]) for (const [act, bring] of Object.entries(ACTS)) for (const width of [320, 768, 1280, 1920]) {
    if (!wanted("acts", demo, act, palette, width)) continue;
    const bench = await serve(demo);
    const { page, end } = await fresh(bench, palette);
    await bring(page);
    await page.setViewportSize(WIDE(width));
    await paint(page, palette);
    await take(page, "acts", demo, act, palette, width);
    await end();
    await bench.end();
  }
}

// As it leaves a printer: each sheet of A4 as a picture, by the tool that turns them into one, where that is here.
async function papers(demo) {
  const bench = await serve(demo);
  for (const words of FACES) {
    if (!wanted("papers", demo, words)) continue;
    const { page, end } = await fresh(bench, "light");
    if (words === "Bench" && await page.locator(".clause.wrong").count() > 0) await page.locator(".clause.wrong").first().click();
    await face(page, words);
    await rested(page);
    const file = join(folder, `papers, ${demo}, ${words}`);
    await page.pdf({ path: `${file}.pdf`, format: "A4", margin: { top: "12mm", bottom: "12mm", left: "12mm", right: "12mm" } });
    const drawn = spawnSync("pdftoppm", ["-r", "80", "-png", `${file}.pdf`, file]);
    process.stdout.write(`${file}.pdf${drawn.status === 0 ? "" : ": pdftoppm is not here"}\n`);
    await end();
  }
  await bench.end();
}

const WIDE = (width) => ({ width, height: width < 600 ? 780 : 900 });

// The blank page and the list of sites.
async function folders() {
  const demos = ["quayside", "quayside-as-found", "ropewalk-as-found", "surgery"];
  for (const [what, fill] of [["blank page", () => {}], ["list of sites", (into) => { for (const demo of demos) copyFileSync(join(SOURCE, "demo", `${demo}.yaml`), join(into, `${demo}.yaml`)); }]]) {
    const bench = await serveFolder(fill);
    for (const palette of ["light", "dark", "print", "grey"]) for (const width of WIDTHS) {
      if (!wanted("folders", what, palette, width)) continue;
      const { page, end } = await fresh(bench, palette, WIDE(width));
      await paint(page, palette);
      await take(page, "folders", what, palette, width);
      await end();
    }
    await bench.end();
  }
}

// First use, its six screens; a file that cannot be read, brought in.
async function firstUse() {
  for (const palette of ["light", "dark", "grey"]) for (const width of [360, 1280]) {
    if (!wanted("first use", palette, width)) continue;
    const bench = await serveFolder();
    const { page, end } = await fresh(bench, palette, WIDE(width));
    await page.getByLabel("to the right").fill("9");
    await page.getByLabel("to the back").fill("7");
    await page.getByRole("button", { name: "Start drawing" }).click();
    await page.waitForURL(/\/site\//);
    await rested(page);
    await paint(page, palette);
    for (let screen = 1; screen < 6; screen += 1) {
      await take(page, "first use", palette, width, screen);
      const next = page.locator("#guide button", { hasText: /^Next/ });
      if (await next.count() === 0) break;
      await next.click();
      await rested(page);
    }
    await end();
    await bench.end();
  }
}

// The face that is carried round the house, at each turn that a test takes.
async function acceptance(demo) {
  for (const palette of ["light", "dark", "night", "grey", "print"]) for (const width of [320, 390, 1280]) {
    if (!wanted("acceptance", demo, palette, width)) continue;
    const bench = await serve(demo, null, (into) => ["--archive", join(into, "signals.db")]);
    const heard = await listener(bench.folder, /account: "(\w+)"/.exec(readFileSync(bench.file, "utf8"))[1]);
    const { page, end } = await fresh(bench, palette, WIDE(width));
    await face(page, "Acceptance");
    await page.getByRole("button", { name: "Begin", exact: true }).click();
    await page.waitForTimeout(600);
    await paint(page, palette);
    if (palette === "night") await page.getByRole("button", { name: "night", exact: true }).click();
    await take(page, "acceptance", demo, palette, width, "on test");
    await page.emulateMedia({ media: "screen" });
    await page.getByLabel("Who at the station").fill("N. Tester (invented)");
    await page.getByRole("button", { name: "Tick off by hand", exact: true }).click();
    await page.waitForTimeout(2200);
    if (palette === "print") await page.emulateMedia({ media: "print" });
    await take(page, "acceptance", demo, palette, width, "a zone");
    lintel("rehearse", bench.file, "--to", heard.to, "--speed", "0", "--only", "zone 6");
    await page.waitForTimeout(2200);
    await take(page, "acceptance", demo, palette, width, "another came");
    await end();
    await heard.end();
    await bench.end();
  }
}

// Sheets of up to twelve pictures, each under its name.
async function sheets(across) {
  const context = await chromium.newContext({ viewport: { width: 1560, height: 800 } });
  const page = await context.newPage();
  for (let i = 0; i * across * 2 < taken.length; i += 1) {
    const some = taken.slice(i * across * 2, (i + 1) * across * 2);
    const html = `<style>body{display:grid;grid-template-columns:repeat(${across},1fr);gap:8px;font:12px sans-serif;align-items:start}img{width:100%;border:1px solid #888}</style>${some.map((name) => `<div>${name}<img src="${encodeURIComponent(name)}"></div>`).join("")}`;
    writeFileSync(join(folder, "sheet.html"), html);
    await page.goto(`file://${join(folder, "sheet.html")}`);
    await page.screenshot({ path: join(folder, `sheet-${i}.png`), fullPage: true });
  }
  await context.close();
}

try {
  await folders();
  await firstUse();
  await acceptance("quayside");
  for (const demo of ["quayside-as-found", "surgery-as-found", "ropewalk-as-found", "quayside", "surgery", "ropewalk", "harbour"]) {
    if (demo.endsWith("found")) await states(demo);
    if (demo === "ropewalk-as-found") await waived(demo);
    if (demo === "quayside") await undecided(demo);
    await faces(demo);
    if (demo !== "harbour") await acts(demo);
    await papers(demo);
  }
  await sheets(Number(process.env.ACROSS ?? 3));
} finally {
  await chromium.close();
}
