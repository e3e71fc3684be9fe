// One test of the acceptance as a course of seconds, in the ribbon's own words: what was done, what the panel model awaits
// from when to when, and each signal on the second at which it came. Pure.
import { clock } from "./ticking.js";

const own = (test) => test.signals.filter((signal) => signal.received_ms);

// The instant from which seconds count: when somebody said that it was done; else so that the first signal came as soon as it may.
// Null: nothing is known yet.
export function beganAt(test) {
  const first = own(test).reduce((a, b) => (a && a.received_ms <= b.received_ms ? a : b), null);
  if (test.began_ms > 0 && (!first || test.began_ms <= first.received_ms)) return { at_ms: test.began_ms, said: true };
  return first ? { at_ms: first.received_ms - first.from_s * 1000, said: false } : null;
}

// The signals that belong to it: its own, what came between them, and what was explained in its turn.
function cameFor(list, test) {
  const ids = own(test).map((signal) => signal.id);
  const bad = new Map(list.explained_about.flatMap((about, i) => (about.next === test.name ? [[about.id, list.explained[i]]] : [])));
  const running = test.state === "next" || test.state === "waits";
  const last = running && ids.length > 0 ? Infinity : Math.max(...ids);
  return [...list.came].reverse().filter((one) => bad.has(one.id) || (one.id >= Math.min(...ids) && one.id <= last))
    .map((one) => ({ ...one, because: bad.get(one.id) ?? (ids.includes(one.id) ? "as expected" : "comes along"), bad: bad.has(one.id) }));
}

// {headline, story, bars} as a finding has them; null where neither anything came nor is anything awaited at a second.
export function courseOf(list, test) {
  if (!test || test.signals.length === 0) return null;
  const came = cameFor(list, test);
  const began = beganAt(test) ?? (came.length > 0 ? { at_ms: came[0].received_ms, said: false } : { at_ms: null, said: false });
  const second = (at_ms) => Math.round((at_ms - began.at_ms) / 1000);
  const told = (at_s) => (began.at_ms === null ? `${at_s} s` : clock(began.at_ms + at_s * 1000));
  const bars = [{ lane: "person", of: "you", from_s: 0, to_s: 0, state: "acts", says: test.says, bad: false }];
  for (const signal of test.signals) {
    const words = `${signal.kind}${signal.end ? ", its end" : ""}`;
    bars.push({ lane: "awaited", of: words, from_s: signal.from_s, to_s: signal.to_s, state: "awaited", says: `awaited after ${signal.from_s} to ${signal.to_s} s`, bad: false });
  }
  for (const one of came) bars.push({ lane: "station", of: "came", from_s: second(one.received_ms), to_s: null, state: "signal", says: one.says, bad: one.bad });
  const story = [{ at_s: 0, clock: told(0), what: test.says, because: began.at_ms === null ? "nothing came yet" : began.said ? "" : "when was not said: seconds count back from the first signal", bad: false },
    ...came.map((one) => ({ at_s: second(one.received_ms), clock: clock(one.received_ms), what: one.says, because: one.because, bad: one.bad }))];
  return { headline: `${test.name}${test.device ? `, ${test.device}` : ""}: what came, beside what is expected`, story: story.sort((a, b) => a.at_s - b.at_s), bars };
}
