// A scanned plan below the drawing, to be traced. It stays in this browser (for this address), is written into no file and sent
// nowhere: what is kept is drawn anew from its pixels, so that nothing that a camera wrote beside them is kept.
import { h, s } from "./dom.js";
import { lengthOf } from "./measures.js";
import { errorOf, laid, levelled, matrixOf, scaled, shifted } from "./trace.js";

const MOST_PX = 3000;
const PRESS_PX = 1.5; // to so many pixels of the screen one presses a point

function store(mode, act) {
  return new Promise((done) => {
    const opening = indexedDB.open("lintel-pictures", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("pictures");
    opening.onerror = () => done(null);
    opening.onsuccess = () => {
      const request = act(opening.result.transaction("pictures", mode).objectStore("pictures"));
      request.onsuccess = () => done(request.result ?? null);
      request.onerror = () => done(null);
    };
  });
}

// bench: as of the editor. key(): under which name it is kept.
export function makeUnderlay(bench, key) {
  const own = { canvas: null, placed: null, storey: 0, opacity: 0.5, points: null, typed: "", wrong: "", asked: false };

  function keep() {
    const { placed, storey, opacity } = own;
    own.canvas.toBlob((blob) => store("readwrite", (all) => all.put({ blob, placed, storey, opacity }, key())));
  }

  async function show(blob, known) {
    const bitmap = await createImageBitmap(blob);
    const less = Math.min(1, MOST_PX / Math.max(bitmap.width, bitmap.height));
    const canvas = h("canvas", { width: Math.round(bitmap.width * less), height: Math.round(bitmap.height * less), "aria-hidden": "true" });
    canvas.getContext("2d").drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    const { low_mm, high_mm } = bench.site().drawing;
    Object.assign(own, { canvas, storey: bench.storey(), placed: laid(canvas.width, canvas.height, low_mm, high_mm), points: null, wrong: "" }, known);
    bench.draw();
  }

  async function restore() {
    own.asked = true;
    const kept = await store("readonly", (all) => all.get(key()));
    if (kept) await show(kept.blob, { placed: kept.placed, storey: kept.storey, opacity: kept.opacity });
  }

  async function choose(file) {
    try {
      await show(file);
      keep();
    } catch {
      own.wrong = `${file.name} is no picture that this browser can read: PNG or JPEG`;
      bench.draw();
    }
  }

  function change(placed) {
    own.placed = placed;
    keep();
    bench.draw();
  }

  const editorOf = {};

  // Two presses on the drawing; what they mean is said by `use`.
  function twoPoints(words, use) {
    editorOf.editor.hold((at, free, from) => ({ edits: [], at, words, done: () => use(from, at) }), words, { two: true, near: true });
  }

  function measured() {
    const mm = lengthOf(own.typed);
    if (mm === null || mm === 0) own.wrong = "how far both points are apart: as 4.2, 420 cm, 13 ft 9 in";
    else { own.wrong = ""; const placed = scaled(own.placed, ...own.points, mm); own.points = null; own.typed = ""; change(placed); return; }
    bench.draw();
  }

  function pressed() {
    const scale = document.querySelector(".plan")?.getScreenCTM()?.a ?? 1;
    return errorOf(...own.points, PRESS_PX / scale).toFixed(1);
  }

  function asked() {
    return h("form", { class: "fields", "aria-label": "scale of the picture", onsubmit: (event) => { event.preventDefault(); measured(); } },
      h("label", {}, "Both points are apart by ", h("input", { type: "text", size: 9, value: own.typed, "data-key": "trace-distance", oninput: (event) => { own.typed = event.target.value; } })),
      h("button", { type: "submit", class: "act", "data-key": "trace-scale" }, "Scale the picture"), h("span", { class: "soft" }, `to ± ${pressed()} %`));
  }

  const word = (name, words, onclick) => h("button", { type: "button", "data-key": `trace-${name}`, onclick }, words);

  return {
    attach: (editor) => { editorOf.editor = editor; },

    // The building is measured from another point now: the picture goes with it.
    moved: (from, to) => { if (own.canvas) change(shifted(own.placed, from, to)); },

    // Below the walls of its storey; with the points that its scale is asked for.
    shape(drawing, storey) {
      if (!own.asked) restore();
      if (!own.canvas || own.storey !== storey) return null;
      const arm = drawing.scale * 2;
      const mark = ([x, y]) => s("path", { class: "d-rest", d: `M${x - arm} ${drawing.high_mm[1] - y} h${2 * arm} M${x} ${drawing.high_mm[1] - y - arm} v${2 * arm}` });
      return [s("g", { class: "d-traced", opacity: own.opacity, transform: `matrix(${matrixOf(own.placed, drawing.high_mm[1]).map((value) => Number(value.toFixed(6))).join(" ")})`, "aria-hidden": "true" },
        s("foreignObject", { width: own.canvas.width, height: own.canvas.height }, own.canvas)), (own.points ?? []).map(mark)];
    },

    bar() {
      const file = h("label", { class: "traced-file" }, own.canvas ? "Another picture" : "Trace a picture", h("input", { type: "file", accept: "image/png,image/jpeg", class: "read", "data-key": "trace-file", onchange: (event) => { if (event.target.files[0]) choose(event.target.files[0]); } }));
      const wrong = own.wrong ? h("p", { class: "refusal", role: "alert" }, own.wrong) : null;
      if (!own.canvas) return [h("div", { class: "tools-foot" }, file), wrong];
      return [h("div", { class: "tools-foot", role: "group", "aria-label": "picture to trace" }, file,
        word("points", "Scale by two points", () => twoPoints("press two points of the picture whose distance you know", (a, b) => { own.points = [a, b]; bench.draw(); })),
        word("level", "Level", () => twoPoints("press two points along a straight wall", (a, b) => change(levelled(own.placed, a, b)))),
        word("shift", "Shift", () => twoPoints("press a point of the picture, then where it belongs", (a, b) => change(shifted(own.placed, a, b)))),
        h("label", {}, "opacity ", h("input", { type: "range", min: 0, max: 100, value: Math.round(own.opacity * 100), "data-key": "trace-opacity", oninput: (event) => { own.opacity = event.target.value / 100; document.querySelector(".d-traced")?.setAttribute("opacity", own.opacity); }, onchange: keep })),
        word("away", "take the picture away", () => { store("readwrite", (all) => all.delete(key())); own.canvas = null; bench.draw(); })),
      own.points ? asked() : null, wrong,
      h("p", { class: "soft trace-note" }, "The picture stays in this browser, for this address. It is in no file, is not printed, and is sent nowhere.")];
    },
  };
}
