// Keeps the screen awake where somebody stands with the tablet beside the panel. Browsers permit it on this machine's own
// address, and not all of them; where it is not permitted, the page says so in one sentence.

const WORDS = "This screen may fall asleep: lengthen its time-out.";
let lock = null;
let kept = false;
let asked = false; // once for each time that it is wanted and the page is seen

// wanted: whether it is to stay awake. told(words): what is to be said of it; "" where nothing is.
export async function keepAwake(wanted, told) {
  kept = wanted;
  if (!wanted) {
    asked = false;
    await lock?.release();
    lock = null;
    return;
  }
  if (asked || document.hidden) return;
  asked = true;
  try {
    lock = await navigator.wakeLock.request("screen");
    if (!kept) await lock.release(); // one has gone on meanwhile
    told("");
  } catch {
    told(WORDS);
  }
}

// A page that was hidden has lost it, and asks again when it is seen.
export function whenSeen(again) {
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { asked = false; again(); } });
}
