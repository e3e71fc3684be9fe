// Plays a story: keeps the second at which it stands and moves it on while it runs. A quiet gap is passed over in a breath;
// where the reader wants less motion, and event by event, it goes from one event to the next.
import { nextInstant, spanOf, stretches } from "./story.js";

const BREATH_MS = 700;
const READ_MS = 1600; // to read a line, event by event

// show(): something of it changed as a whole; move(): the second alone.
export function makePlayer(show, move) {
  const less = matchMedia("(prefers-reduced-motion: reduce)");
  const player = { finding: null, second: 0, playing: false, speed: less.matches ? "next" : "1" };
  let last = 0;
  let rest = 0;

  function tick(now) {
    if (!player.playing || !player.finding) return;
    const passed = Math.min(100, now - last);
    last = now;
    rest -= passed;
    if (rest <= 0) advance(passed);
    if (player.second >= spanOf(player.finding).end) {
      player.playing = false;
      show();
    } else requestAnimationFrame(tick);
  }

  function advance(passed) {
    const { end } = spanOf(player.finding);
    if (player.speed === "next" || less.matches) {
      const next = nextInstant(player.finding, player.second);
      player.second = next > player.second ? next : end;
      rest = READ_MS;
    } else {
      const inside = stretches(player.finding).find((one) => player.second <= one.to);
      player.second += passed / 1000 * Number(player.speed);
      const after = stretches(player.finding).find((one) => one.from > player.second);
      if (inside && player.second > inside.to && after) {
        player.second = after.from;
        rest = BREATH_MS;
      }
    }
    player.second = Math.min(player.second, end);
    move();
  }

  // Another story begins at its end, where what is wrong is seen; Play starts it over.
  player.load = (finding) => {
    if (finding === player.finding) return;
    player.finding = finding;
    player.playing = false;
    player.second = finding && (finding.story ?? []).length > 0 ? spanOf(finding).last : 0;
  };
  player.seek = (second) => {
    player.second = second;
    move();
  };
  player.play = () => {
    player.playing = !player.playing;
    if (player.playing) {
      if (player.second >= spanOf(player.finding).last) player.second = spanOf(player.finding).first;
      last = performance.now();
      rest = player.speed === "next" || less.matches ? READ_MS : 0;
      requestAnimationFrame(tick);
    }
    show();
  };
  player.setSpeed = (speed) => { player.speed = speed; };
  return player;
}
