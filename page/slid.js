// A thumb in a glove slides while it presses: what began on a large button counts, also where it ends a little beside it.

const FAR_PX = 24; // farther off, it was meant for nothing
const CLICK_MS = 60; // so soon the browser's own click has come, if it comes at all

// body: where the buttons stand, whichever they are by then.
export function countSlid(body) {
  let began = null;
  body.addEventListener("pointerdown", (event) => {
    const button = event.isPrimary ? event.target.closest?.("button.big") : null;
    began = button ? { button, x: event.clientX, y: event.clientY } : null;
  });
  body.addEventListener("click", (event) => { if (began?.button.contains(event.target)) began = null; }, true);
  window.addEventListener("pointerup", (event) => {
    const press = began;
    if (!press || Math.hypot(event.clientX - press.x, event.clientY - press.y) > FAR_PX) { began = null; return; }
    setTimeout(() => { if (began === press) press.button.click(); }, CLICK_MS);
  });
  window.addEventListener("pointercancel", () => { began = null; });
}
