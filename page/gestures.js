// Wheel and fingers on the drawing: a wheel or two fingers draw it nearer, one finger or the mouse on what does not move shifts the
// part in sight. Whatever the editor has taken stays the editor's.

const SLIP_PX = 6;

function pointAt(plan, x, y) {
  const at = new DOMPoint(x, y).matrixTransform(plan.getScreenCTM().inverse());
  return [at.x, at.y];
}

// body: stays while the drawing is made anew. editor: busy() and letGo().
export function attachGestures(body, lens, editor) {
  const fingers = new Map();
  let pinch = null; // {apart, zoom}
  let pan = null; // {pointer, from: where on the screen, at: of the lens, moved}
  let panned = false;
  const plan = () => body.querySelector(".plan");

  function spread() {
    const [a, b] = [...fingers.values()];
    return { apart: Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1), middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] };
  }

  function onDown(event) {
    panned = false;
    if (!event.target.closest(".plan") || event.button !== 0) return;
    if (event.pointerType === "touch") fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (fingers.size === 2) {
      editor.letGo();
      pan = null;
      const { apart, middle } = spread();
      pinch = { apart, zoom: lens.zoom, at: pointAt(plan(), ...middle) };
    } else if (fingers.size < 2 && lens.zoom > 1 && !editor.busy()) {
      pan = { pointer: event.pointerId, from: [event.clientX, event.clientY], at: [lens.box[0] + lens.box[2] / 2, lens.box[1] + lens.box[3] / 2], scale: plan().getScreenCTM().a, moved: false };
    }
  }

  function onMove(event) {
    if (fingers.has(event.pointerId)) fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (pinch && fingers.size === 2) {
      const { apart, middle } = spread();
      lens.zoomTo(pinch.zoom * apart / pinch.apart, pinch.at);
      const now = pointAt(plan(), ...middle);
      if (lens.zoom > 1) lens.moveTo([0, 1].map((axis) => lens.box[axis] + lens.box[2 + axis] / 2 + pinch.at[axis] - now[axis]));
    } else if (pan && event.pointerId === pan.pointer) {
      const by = [event.clientX - pan.from[0], event.clientY - pan.from[1]];
      if (!pan.moved && Math.hypot(...by) < SLIP_PX) return;
      if (!pan.moved) body.setPointerCapture(event.pointerId);
      pan.moved = true;
      panned = true;
      lens.moveTo([0, 1].map((axis) => pan.at[axis] - by[axis] / pan.scale));
    }
  }

  function onUp(event) {
    fingers.delete(event.pointerId);
    if (pinch) panned = true;
    if (fingers.size < 2) pinch = null;
    pan = null;
  }

  body.addEventListener("pointerdown", onDown);
  body.addEventListener("pointermove", onMove);
  body.addEventListener("pointerup", onUp);
  body.addEventListener("pointercancel", onUp);
  body.addEventListener("click", (event) => { if (panned) { event.stopPropagation(); panned = false; } }, true);
  /* Two fingers, or one on a part of the sheet, do not move the page. */
  body.addEventListener("touchstart", (event) => { if (event.target.closest(".plan") && (event.touches.length > 1 || lens.zoom > 1)) event.preventDefault(); }, { passive: false });
  body.addEventListener("wheel", (event) => {
    if (!event.target.closest(".plan")) return;
    if (lens.wheel(event, pointAt(plan(), event.clientX, event.clientY), plan().contains(document.activeElement))) event.preventDefault();
  }, { passive: false });
}
