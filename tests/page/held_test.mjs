// What waits while something is pressed, in which order it comes, and that nothing waits for ever.
import { makeHeld } from "../../page/held.js";

const pause = (ms) => new Promise((ended) => setTimeout(ended, ms));
let count = 0;
function same(name, got, wanted) {
  count += 1;
  console.log(`${got === wanted ? "ok" : "not ok"} ${count} - ${name}`);
  if (got === wanted) return;
  console.log(`# got ${got}, wanted ${wanted}`);
  process.exitCode = 1;
}

// A window of its own; what is in the drawing is no button.
const where = new EventTarget();
const tell = (kind, onButton = true) => {
  const event = new Event(kind);
  Object.defineProperty(event, "target", { value: { closest: () => (onButton ? {} : null) } });
  where.dispatchEvent(event);
};
const later = makeHeld(where);
const done = [];
const show = () => done.push("shown");
const news = (name) => () => done.push(name);

same("nothing is pressed: at once", later(show), false);
tell("pointerdown", false);
same("the drawing is pressed: at once, it is dragged live", later(show), false);
tell("pointerdown");
same("a button is pressed: it waits", [later(show), later(news("one")), later(show), later(news("two"))].join(), "true,true,true,true");
await pause(150);
same("as long as it is pressed", done.join(), "");
tell("pointerup");
tell("click");
same("what the press does comes first", done.join(), "");
same("and what comes at that instant stays behind what waits", later(news("three")), true);
await pause(10);
same("then all of it, each once, in its order", done.join(), "shown,one,two,three");
same("and again at once", later(show), false);
tell("pointerdown");
later(news("four"));
tell("pointercancel");
await pause(150);
same("a press that became a scroll lets go too", done.at(-1), "four");
tell("pointerdown");
later(news("five"));
await pause(3100);
same("a hand that rests on the glass holds up nothing for long", done.at(-1), "five");
console.log(`1..${count}`);
