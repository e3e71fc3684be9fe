// While a finger or a button of the mouse is down on something that can be pressed, nothing is shown anew: what is pressed would
// be taken away and made again under the finger, and the press be lost with it. What came meanwhile is shown once it is let go.

const PRESSED = "button, a, summary, [role=radio]";
const LET_GO_MS = 100; // a finger's click comes a moment after the finger has left
const LONGEST_MS = 3000; // whoever rests a hand on the glass still gets the news

// where: whose events are heard (the window). Gives later(run): false where it can be done at once, else it is done, once, after
// all that waits already.
export function makeHeld(where) {
  const waiting = [];
  let held = false;
  let timer = null;

  function run() {
    for (const one of waiting.splice(0)) one();
  }
  function letGo() {
    clearTimeout(timer);
    held = false;
    setTimeout(run, 0); // after whatever the press does: it was meant for what is shown
  }
  function after(ms) {
    clearTimeout(timer);
    timer = setTimeout(letGo, ms);
  }

  where.addEventListener("pointerdown", (event) => {
    if (!event.target.closest?.(PRESSED)) return;
    held = true;
    after(LONGEST_MS);
  }, true);
  for (const kind of ["pointerup", "pointercancel"]) where.addEventListener(kind, () => { if (held) after(LET_GO_MS); }, true);
  where.addEventListener("click", () => { if (held) letGo(); }, true);

  return (one) => {
    if (!held && waiting.length === 0) return false;
    if (!waiting.includes(one)) waiting.push(one);
    return true;
  };
}
