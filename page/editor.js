// Moving things on the drawing: by dragging, by keys, by two presses (pick up, put down). Each ends in the same edits; until it is
// let go the bench is asked what the drawing would be, and nothing is written.
import { linkWords } from "./carried.js";
import { strokeAcross } from "./divide.js";
import { gripAt } from "./grips.js";
import { hideLoupe, refreshLoupe, showLoupe } from "./loupe.js";
import { middleOf, movedBy, moveTo, sortOf, turnBy } from "./moves.js";
import { nowAt, whereIs } from "./spoken.js";
import { newFurniture, newOpening, newPlace, newRoom, newStairs, without } from "./tools.js";

const SLIP_PX = { mouse: 4, pen: 6, touch: 10 };
const STEP_MM = { plain: 50, shift: 500, alt: 10 };
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const LATE_MS = 50;

// Across a room it is a wall, else a room.
function newRoomOrWall(site, storey, at, free, from) {
  return (from && strokeAcross(site, storey, from, at, free)) ?? newRoom(site, storey, from, at, free);
}

// bench: site(), storey(), isChosen(path), choose(path), ask(path, body, signal), draw() the drawing alone, show() all. What is held: one thing in the hand.
export function makeEditor(bench) {
  const editor = { held: null, tried: null, words: "", links: "", problem: "", drafts: new Map(), tool: null, walls: "back right", moved: null, verdict: "" };
  let down = null; // a press that may become a drag
  let finger = null; // that points where something is put down: lifted, it is there
  let dropped = false; // the click that ends a drag chooses nothing
  let wanted = null;
  let asking = null;

  const moveOf = (subject) => movedBy(bench.site(), subject);

  // Nobody waits for what is being tried any more: the bench need not go on with it.
  function leaveTry() {
    wanted = null;
    asking?.stop.abort();
  }

  function clear() {
    const left = editor.held?.left;
    if (left) queueMicrotask(left);
    Object.assign(editor, { held: null, tried: null, words: "", links: "", verdict: "" });
    hideLoupe();
    leaveTry();
  }

  // The newest wish wins: one question at a time, what was overtaken is never asked.
  async function preview(edits) {
    wanted = edits;
    if (asking) return;
    while (wanted && editor.held) {
      const now = wanted;
      wanted = null;
      /* Nothing would change: it is shown as it is, as closely as one looks. */
      if (now.length === 0) {
        Object.assign(editor, { tried: null, problem: "", links: "" });
        bench.draw();
        continue;
      }
      const stop = new AbortController();
      asking = { edits: now, since: performance.now(), stop };
      const answer = await bench.ask("/try", { number: editor.held.site.number, edits: now }, stop.signal);
      asking = null;
      if (!editor.held || stop.signal.aborted) continue;
      const { low_mm, high_mm } = editor.held.site.drawing;
      if (answer.drawing) editor.tried = { ...answer.drawing, low_mm, high_mm };
      editor.problem = answer.drawing ? "" : answer.what;
      editor.links = answer.carried ? linkWords(editor.held.site.file, editor.held.subject, answer.carried) : "";
      bench.draw();
      refreshLoupe(document.querySelector(".plan"));
    }
  }

  editor.late = () => asking !== null && performance.now() - asking.since > LATE_MS;

  function take(subject, moved, at, offset, by) {
    Object.assign(editor, { problem: "", moved: null, verdict: "" });
    editor.held = { subject, moved, at, offset, by, site: bench.site(), storey: bench.storey(), result: null };
  }

  function carry(at, free) {
    const { held } = editor;
    if (held.two && !held.from) return;
    const result = held.place ? held.place(at, free, held.from) : moveTo(held.site, held.storey, held.moved, at, free);
    held.at = at;
    held.result = result;
    editor.words = result ? result.words : "no place for it here";
    if (result && !result.done) preview(result.trial ?? result.edits);
    bench.draw();
  }

  // From no point yet, of what goes from one to another.
  function beginAnew() {
    Object.assign(editor.held, { from: undefined, result: null });
    bench.draw();
  }

  async function drop() {
    const { held } = editor;
    if (!held) return;
    const edits = held.result?.edits ?? [];
    if (held.result?.done) { clear(); held.result.done(); return; }
    /* What was to be made and has no place there stays in the hand. */
    if (edits.length === 0 && held.by === "tool" && held.result?.words) { beginAnew(); return; }
    if (edits.length === 0) { clear(); bench.draw(); return; }
    const { origin, words } = held.result;
    editor.moved = held.subject && { subject: held.subject, from: whereIs(held.site, held.site.drawing.house, held.subject) };
    if (await editor.write(edits, words) && origin) editor.underlay?.moved(origin, [0, 0]);
  }

  // Writes edits as one step of undo. What was tried stays in sight until the bench has said what now is.
  editor.write = async (edits, words = "", field = null) => {
    leaveTry();
    const { held } = editor;
    if (held) held.sent = true; // what it leads to may be told before it is answered, and something else be in the hand by then
    const answer = await bench.ask("/edit", { number: bench.site().number, edits });
    if (answer.result === "done") {
      editor.problem = "";
      editor.words = words;
      if (field) editor.drafts.delete(field);
      if (held) held.done = true;
      if (editor.moved?.says) editor.judged(editor.moved.says);
    } else {
      clear();
      editor.problem = `Nothing was written: ${answer.what}`;
    }
    bench.show();
    return answer.result === "done";
  };

  // The verdict on the file as it is now is there; what was put down last hears it, once. "": it is being worked out. It may be there
  // before the answer that it was put down.
  editor.judged = (says) => {
    if (editor.moved && says && editor.held && !editor.held.done) editor.moved.says = says;
    const first = editor.moved && !editor.moved.judged && (!editor.held || editor.held.done);
    editor.verdict = first ? says : "";
    if (first && says) editor.moved.judged = true;
  };

  editor.redraw = () => bench.draw();

  // Two fingers were put down: what one of them had taken is left as it was.
  editor.busy = () => down !== null || (editor.held !== null && !editor.held.done);
  editor.letGo = () => {
    if (editor.held?.by === "drag") editor.cancel();
    if (editor.held?.drawn) beginAnew();
    hideLoupe();
    down = finger = null;
  };

  editor.cancel = () => { clear(); down = null; bench.draw(); };

  // The drawing to be shown: what was tried, until the bench tells what came of it.
  editor.drawing = (site) => {
    if (editor.held?.done && site !== editor.held.site) {
      const { words, held, moved, verdict } = editor;
      clear();
      editor.verdict = verdict;
      editor.words = moved ? `${nowAt(moved.from, whereIs(site, site.drawing.house, moved.subject))}.` : words;
      if (held.then || held.again) queueMicrotask(() => { if (held.then) bench.choose(held.then(held.site)); held.again?.(); });
    }
    /* What is to be made goes into the file as it is now, whoever changed it meanwhile. */
    if (editor.held?.by === "tool" && !editor.held.sent) Object.assign(editor.held, { site, storey: bench.storey() });
    return editor.tried;
  };

  editor.pickUp = (subject) => {
    const moved = moveOf(subject);
    const at = moved && middleOf(bench.site(), moved);
    if (!at) return false;
    take(subject, moved, at, [0, 0], "keys");
    editor.words = "picked up: arrows move it, Enter or a press puts it down, Esc leaves it";
    bench.draw();
    return true;
  };

  // Something new in the hand: place(at, free, from) gives its edits for a point. two: it goes from one point to another; then(site
  // as it was): what is chosen once it is there; again: what is taken next; what: what it is called; left: it is no longer in the hand.
  editor.hold = (place, words, more = {}) => {
    clear();
    take(null, null, null, [0, 0], "tool");
    Object.assign(editor.held, { place, ...more });
    editor.words = words;
    bench.draw();
  };

  // Of a list of the building the one that came after what was there before.
  const next = (list) => (before) => `building.${list}[${before.file.building[list]?.length ?? 0}]`;
  // make(site, storey, at, free, from): in the hand until it is put down, again and again.
  editor.tool = (make) => (at, free, from) => make(editor.held.site, editor.held.storey, at, free, from);
  const { tool } = editor;
  editor.tools = {
    room: (more = { then: next("rooms") }) => editor.hold(tool(newRoomOrWall), "drag a room from corner to corner, or press both; from wall to wall, to divide", { two: true, ...more }),
    door: () => editor.hold(tool((site, storey, at, free) => newOpening(site, storey, "door", at, free)), "press on walls; Esc puts the door down", { then: next("openings"), again: () => editor.tools.door() }),
    window: () => editor.hold(tool((site, storey, at, free) => newOpening(site, storey, "window", at, free)), "press on walls; Esc puts the window down", { then: next("openings"), again: () => editor.tools.window() }),
    stairs: () => editor.hold(tool(newStairs), "press where they begin", { then: next("stairs") }),
    furniture: () => editor.hold(tool(newFurniture), "press where it stands", { then: next("furniture") }),
    place: (what) => editor.hold(tool((site, storey, at, free) => newPlace(site, storey, what, at, free)), "press where it hangs", { then: next("places") }),
  };

  editor.remove = async (subject) => {
    const moved = moveOf(subject);
    if (!moved || moved.list === "contact") return;
    if (await editor.write(without(bench.site(), moved), "taken off the drawing")) bench.choose(null);
  };

  const isMotion = (moved) => moved?.list === "places" && sortOf(bench.site(), bench.site().file.building.places[moved.index]) === "motion";
  // What can be done with a thing, and by which key.
  editor.verbs = (subject) => {
    const moved = moveOf(subject);
    return [moved && middleOf(bench.site(), moved) && ["move it by arrows", "m"], ...(isMotion(moved) ? [["turn it by 5°", "["], ["turn it back by 5°", "]"]] : []), moved && moved.list !== "contact" && ["take it off the drawing", "Delete"]].filter(Boolean);
  };
  const LETTERS = { r: "room", d: "door", w: "window", s: "stairs" };

  // Keys that need nothing in the hand.
  function plainKey(event, subject) {
    const letter = event.key.toLowerCase();
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    if (letter === "m" && subject) { bench.choose(subject); return editor.pickUp(subject); }
    if (LETTERS[letter] && bench.building()) editor.tools[LETTERS[letter]]();
    else if (letter === "p" && bench.building()) document.querySelector('[data-key="tool-place"]')?.focus();
    else if (event.key === "Delete" && subject) editor.remove(subject);
    else if ((event.key === "[" || event.key === "]") && isMotion(subject && moveOf(subject))) editor.write(turnBy(bench.site(), moveOf(subject).index, event.key === "[" ? 5 : -5), "turned by 5°");
    else return false;
    return true;
  }

  // True: the key was ours.
  editor.key = (event, subject) => {
    const { held } = editor;
    if (!held) return plainKey(event, subject);
    if (event.key === "Escape") editor.cancel();
    else if (event.key === "Enter") drop();
    else if (ARROWS[event.key] && held.at) {
      const step = STEP_MM[event.shiftKey ? "shift" : event.altKey ? "alt" : "plain"];
      carry(held.at.map((value, i) => value + ARROWS[event.key][i] * step), true);
    } else return false;
    return true;
  };

  // Where on the building a press is.
  function pointOf(event) {
    const plan = document.querySelector(".plan");
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(plan.getScreenCTM().inverse());
    return [x, bench.site().drawing.high_mm[1] - y];
  }

  function onDown(event) {
    dropped = false;
    if (!editor.on || event.button !== 0 || !event.isPrimary || !event.target.closest(".plan")) return;
    if (editor.held && !editor.held.done) {
      if (editor.held.by === "drag") return;
      event.preventDefault();
      if (editor.held.two && !editor.held.from) {
        Object.assign(editor.held, { from: pointOf(event), begun: [event.clientX, event.clientY], drawn: true });
        event.currentTarget.setPointerCapture(event.pointerId);
        dropped = true;
        return;
      }
      dropped = true;
      if (event.pointerType === "touch") {
        /* Drawn anew before the touch is told of, the drawing would hear nothing of it. */
        finger = event.pointerId;
        event.currentTarget.setPointerCapture(finger);
        return;
      }
      carry(pointOf(event), event.altKey);
      drop();
      return;
    }
    const grip = event.target.closest("[data-grip]")?.dataset.grip;
    const subject = event.target.closest("[data-about]")?.dataset.about;
    const moved = grip ? gripAt(bench.site(), grip) : subject && moveOf(subject);
    if (!moved || (moved.list === "rooms" && !bench.isChosen(subject))) return;
    if (event.pointerType === "touch" && !grip && !bench.isChosen(subject)) return;
    down = { subject, moved, pointer: event.pointerId, kind: event.pointerType, x: event.clientX, y: event.clientY, at: pointOf(event) };
  }

  function onMove(event) {
    follow(event);
    const { held } = editor;
    if (event.pointerType === "touch" && held?.at && !held.done) {
      const [x, y] = held.result?.at ?? held.at;
      showLoupe(document.querySelector(".plan"), { x: event.clientX, y: event.clientY }, [x, bench.site().drawing.high_mm[1] - y]);
    }
  }

  function follow(event) {
    if (finger !== null && event.pointerId === finger) return carry(pointOf(event), event.altKey);
    if (editor.held?.by === "tool" && !editor.held.done && (editor.held.from || event.target.closest?.(".plan"))) return carry(pointOf(event), event.altKey);
    if (!down || event.pointerId !== down.pointer) return undefined;
    if (!editor.held) {
      if (Math.hypot(event.clientX - down.x, event.clientY - down.y) < (SLIP_PX[down.kind] ?? 4)) return undefined;
      const middle = down.moved.at ?? middleOf(bench.site(), down.moved);
      if (!middle) { down = null; return undefined; }
      event.currentTarget.setPointerCapture(event.pointerId);
      if (!bench.isChosen(down.subject) && down.subject) bench.choose(down.subject);
      /* A sign hangs beside its place: it goes where one points. */
      take(down.subject, down.moved, middle, down.moved.list === "places" ? [0, 0] : [0, 1].map((i) => middle[i] - down.at[i]), "drag");
      editor.held.place = down.moved.place;
    }
    if (editor.held.by === "drag") {
      const at = pointOf(event);
      carry([0, 1].map((i) => at[i] + editor.held.offset[i]), event.altKey);
    }
    return undefined;
  }

  function onUp(event) {
    hideLoupe();
    const { held } = editor;
    if (held) held.drawn = false;
    if (finger !== null && event.pointerId === finger) {
      finger = null;
      carry(pointOf(event), event.altKey);
      drop();
      return;
    }
    if (held?.from && !held.done && Math.hypot(event.clientX - held.begun[0], event.clientY - held.begun[1]) > 12) {
      carry(pointOf(event), event.altKey);
      if (held.result?.edits.length > 0 || held.result?.done) drop();
      else beginAnew();
      return;
    }
    if (!down || event.pointerId !== down.pointer) return;
    down = null;
    if (editor.held?.by === "drag" && !editor.held.done) { dropped = true; drop(); }
  }

  // Listens on what stays while the drawing is made anew. on: whether it may be edited where one stands.
  editor.attach = (body) => {
    body.addEventListener("pointerdown", onDown);
    body.addEventListener("pointermove", onMove);
    body.addEventListener("pointerup", onUp);
    /* A finger on what moves does not scroll the page. */
    body.addEventListener("touchstart", (event) => { if (down || editor.held) event.preventDefault(); }, { passive: false });
    document.addEventListener("keydown", (event) => { if (event.key === "Escape" && editor.held && !editor.held.done) { editor.cancel(); event.preventDefault(); } });
    body.addEventListener("pointercancel", () => { editor.letGo(); });
    body.addEventListener("click", (event) => { if (dropped && event.detail > 0) { event.stopPropagation(); dropped = false; } }, true); /* Enter drops nothing */
  };

  return editor;
}
