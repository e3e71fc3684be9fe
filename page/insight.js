// An explicit press may move the view: a story that was asked for is brought into sight, its title and the first of its lanes, and
// no further than that. What was pressed in a list stays in sight; a clause of the sentence leads away from it where there is no room.

const CLEAR = 8; // px to the edge of the window

// By how much the page scrolls: down to the lane's lower edge; up where the title is above; never past what is to be kept. Pure.
export function scrollTo({ title, lane, height, kept = Infinity }) {
  const down = lane + CLEAR - height;
  if (title < CLEAR) return title - CLEAR;
  return Math.max(0, Math.min(down, title - CLEAR, kept - CLEAR));
}

// ribbon: its section; pressed: what has the focus.
export function bringIntoSight(ribbon, pressed) {
  const title = ribbon.querySelector("h2");
  const lane = [...ribbon.querySelectorAll(".lanes .lane, .story li")].find((one) => one.getClientRects().length > 0); // on a phone it is a list
  if (ribbon.hidden || !lane) return;
  const by = scrollTo({ title: title.getBoundingClientRect().top, lane: lane.getBoundingClientRect().bottom + CLEAR, height: window.innerHeight, kept: pressed?.closest("main") ? pressed.getBoundingClientRect().top : Infinity });
  if (by !== 0) window.scrollBy({ top: by, behavior: "instant" });
}

// On a phone the part in which a finding stands takes the sheet: its row comes to the top, unless all that is told of it is in sight.
// foot: the bar that lies over the lower edge.
export function bringRowIntoSight(section, foot) {
  const rows = [...section.querySelectorAll(".selected")].filter((one) => one.getClientRects().length > 0);
  if (rows.length === 0) return;
  const [top, bottom] = [rows[0].getBoundingClientRect().top, rows.at(-1).getBoundingClientRect().bottom];
  if (top < CLEAR || bottom > foot.getBoundingClientRect().top) window.scrollBy({ top: top - CLEAR, behavior: "instant" });
}
