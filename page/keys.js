// Keys that act on the whole page: from part to part, from finding to finding, the first remedy of what is chosen, and Esc, which
// goes back one step: what is typed, what is chosen, the sentence. Letters belong to the part that has the focus.

const FIELDS = "input[type=text], input[type=search], textarea";

// From one part to the next, round and round; from outside of all of them to the first, or the last.
export function after(count, here, by) {
  return here < 0 ? (by > 0 ? 0 : count - 1) : (here + by + count) % count;
}

function isShown(element) {
  return element.offsetParent !== null;
}

// What one typed and did not write yet is as it was; true where there was something.
function takenBack(field) {
  if (!field.matches(FIELDS) || field.value === field.defaultValue) return false;
  field.value = field.defaultValue;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  return true;
}

// page: parts() of it in their order, turn(by) to another finding, chosen() whether anything is, letGo() of it, sentence().
export function attachKeys(page) {
  const go = (by) => {
    const parts = page.parts().filter(isShown);
    const here = parts.findLastIndex((part) => part.contains(document.activeElement));
    parts[after(parts.length, here, by)]?.focus();
  };
  const remedy = () => [...document.querySelectorAll(".remedy .act")].find(isShown)?.click();
  const back = (event) => {
    if (document.querySelector(":popover-open")) return; // the note closes by itself
    event.preventDefault();
    if (takenBack(event.target)) return;
    if (page.chosen()) page.letGo();
    else page.sentence().focus();
  };
  const ACTS = { F6: (event) => go(event.shiftKey ? -1 : 1), F8: (event) => page.turn(event.shiftKey ? -1 : 1), Enter: remedy, Escape: back };
  document.addEventListener("keydown", (event) => {
    const act = ACTS[event.key];
    if (!act || event.defaultPrevented || event.altKey || event.metaKey || event.ctrlKey !== (event.key === "Enter")) return;
    if (event.key !== "Escape") event.preventDefault();
    act(event);
  });
}
