// While a finger drags something, what lies under it stands above it, twice as large: a finger hides where it goes.
import { s } from "./dom.js";

const SIDE_PX = 132;
const ABOVE_PX = 56; // from the finger to its lower edge
const LARGER = 2;

let shown = null;

export function hideLoupe() {
  shown?.remove();
  shown = null;
}

// What it shows, as the drawing now is.
export function refreshLoupe(plan) {
  const inks = shown && plan?.querySelector("#plan-inks")?.cloneNode(true);
  if (!inks) return;
  inks.removeAttribute("id");
  shown.replaceChildren(inks);
}

// finger: {x, y} on the screen; at: the point of the picture that is to be seen.
export function showLoupe(plan, finger, at) {
  const side = SIDE_PX / (plan.getScreenCTM().a * LARGER);
  if (!shown) {
    shown = s("svg", { class: "plan loupe", "aria-hidden": "true" });
    document.body.append(shown);
  }
  refreshLoupe(plan);
  shown.setAttribute("viewBox", `${at[0] - side / 2} ${at[1] - side / 2} ${side} ${side}`);
  const above = finger.y - ABOVE_PX - SIDE_PX;
  const aside = above < 0 ? SIDE_PX / 2 + ABOVE_PX : 0;
  const left = finger.x - SIDE_PX / 2 + (finger.x + aside + SIDE_PX > window.innerWidth ? -aside : aside);
  shown.style.left = `${Math.min(Math.max(left, 4), window.innerWidth - SIDE_PX - 4)}px`;
  shown.style.top = `${Math.max(above, 4)}px`;
}
