// The acceptance as the bench tells it, and what was noted here while the bench could not be reached: which test is shown,
// what is said of it, whether the site may be called accepted. Pure.

const two = (value) => String(value).padStart(2, "0");

export function clock(ms, seconds = true) {
  const at = new Date(ms);
  return `${two(at.getHours())}:${two(at.getMinutes())}${seconds ? `:${two(at.getSeconds())}` : ""}`;
}

export const isDone = (test) => test.state === "done" || test.state === "by hand";

// What is added to a name where the tick was noted without a connection: the record says so.
const NOTED = ", noted without a connection";

// An act as it is kept until the bench answers again, with the time at which it was done.
export function noted(act, at_ms) {
  return { ...act, by: act.by ? `${act.by}${NOTED}` : "", at_ms };
}

// The list as it will be when what was noted here has arrived: ticks by hand, taken back, put off.
export function withNoted(list, queue) {
  let tests = list.tests.map((test) => ({ ...test }));
  for (const act of queue) {
    const test = tests.find((one) => one.name === act.test);
    if (!test) continue;
    if (act.act === "hand" && !isDone(test)) Object.assign(test, { state: "by hand", by: act.by, done_ms: act.at_ms, kept: true });
    if (act.act === "no" && !isDone(test)) Object.assign(test, { state: "said no", by: act.by, done_ms: act.at_ms, kept: true });
    if (act.act === "back" && (test.state === "by hand" || test.state === "said no")) Object.assign(test, { state: "open", by: "", done_ms: 0 });
    if (act.act === "later") tests = putOff(tests, test);
  }
  const next = tests.find((test) => test.required && !isDone(test) && test.state !== "waits" && test.state !== "said no");
  for (const test of tests) if (test.state === "next" || test.state === "open") test.state = test === next ? "next" : "open";
  return { ...list, tests, open: tests.filter((test) => test.required && !isDone(test)).length };
}

function putOff(tests, test) {
  const ends = tests.findIndex((one) => one.name === "station");
  if (test.name === "on test" || tests.indexOf(test) >= ends) return tests;
  const rest = tests.filter((one) => one !== test);
  rest.splice(ends - 1, 0, test);
  return rest;
}

export function nextOf(list) {
  return list.tests.find((test) => test.state === "next") ?? null;
}

// How many of the tests that must be are ticked off.
export function counted(list) {
  const all = list.tests.filter((test) => test.required);
  return { seen: all.filter(isDone).length, all: all.length };
}

// How many of the signals that must come have been seen, of the panel's or by whoever ticked them off; and how many came under another
// zone's number where their own is still awaited.
export function signalsOf(list) {
  const tests = list.tests.filter((test) => test.required && test.signals.length > 0);
  const open = new Set(tests.filter((test) => !isDone(test)).map((test) => test.name));
  const seen = (test) => (isDone(test) ? test.signals.length : test.signals.filter((signal) => signal.received_ms).length);
  const sum = (of) => tests.reduce((count, test) => count + of(test), 0);
  return { seen: sum(seen), all: sum((test) => test.signals.length), wrong: new Set(list.explained_about.filter((about) => about.wrong_zone && open.has(about.next)).map((about) => about.id)).size };
}

// Until when the account is on test, as whoever put it there was told; null: nobody said.
export function onTestUntil(list) {
  const test = list.tests.find((one) => one.name === "on test");
  return (test && isDone(test) && / until (\d\d:\d\d)/.exec(test.by)?.[1]) || null;
}

// The line that is always to be seen: what the account is, and how far it is; or that this is not live.
export function standing(list, link, queue) {
  const { seen, all } = counted(list);
  const kept = queue.length === 0 ? "" : ` ${queue.length === 1 ? "One thing is" : `${queue.length} things are`} noted here and not sent yet.`;
  if (!link.live) return `${link.since === null ? "Not connected yet." : `Not connected since ${clock(link.since, false)}. Keep walking: signals are kept, this list catches up.`}${kept}`;
  const off = list.tests.find((one) => one.name === "off test");
  const on = list.tests.find((one) => one.name === "on test");
  const until = onTestUntil(list);
  const account = off && isDone(off) ? "Account off test" : on && isDone(on) ? `Account on test${until ? ` until ${until}` : ""}` : "Account not on test yet";
  return `${account} · ${seen} of ${all} seen${kept}`;
}

// Whether the site may be called accepted, and if not why.
export function verdict(list, queue) {
  const off = list.tests.find((one) => one.name === "off test");
  const on = list.tests.find((one) => one.name === "on test");
  const open = list.tests.filter((test) => test.required && !isDone(test) && test !== off);
  if (queue.length > 0) return { accepted: false, says: "Not accepted: what was noted here has not been sent yet." };
  if (list.accepted) return { accepted: true, says: "Accepted: every required test is ticked off, and the account is off test." };
  if (open.length > 0) {
    const many = open.length === 1 ? `one required test is open (${open[0].name})` : `${open.length} required tests are open`;
    return { accepted: false, says: `Not accepted: ${many}${on && isDone(on) && off && !isDone(off) ? ", and the account is still on test" : ""}.` };
  }
  return { accepted: false, says: "Not accepted: the account is still on test." };
}

// What came instead while this test was next, newest last; of two that are exchanged it stands with both.
export function instead(list, test) {
  return list.explained.flatMap((says, i) => {
    const about = list.explained_about[i];
    return about.next === test?.name || (about.exchanged && about.test === test?.name) || (about.next === null && about.test === test?.name) ? [{ says, ...about }] : [];
  });
}

// What a person answered to a question: "heard", "not heard".
export function answerOf(test) {
  return test.answers?.[test.state === "said no" ? 1 : 0];
}

// What a tick says: "14:31:07, intrusion and its end, as expected".
export function tickWords(test) {
  if (test.state === "by hand" || test.state === "said no") return `${answerOf(test) ?? "by hand"} ${clock(test.done_ms)}, ${test.by}`;
  if (test.state === "done") return `${clock(test.done_ms)}${test.zone ? `, zone ${test.zone}` : ""}, as expected`;
  return "";
}

const span = (seconds) => (seconds < 600 ? `${seconds} s` : seconds < 7200 ? `${Math.round(seconds / 60)} min` : `${(seconds / 3600).toFixed(1)} h`);
const fromTo = (low, high) => (high < 600 ? `${low} to ${high} s` : `${span(low)} to ${span(high)}`);

// What it waits for, in words.
export function expects(test) {
  if (test.by_hand) return test.zone ? "reports nothing: look at the panel, tick it off by hand" : "a person says so";
  if (test.signals.length === 0) return "a test report";
  const parts = [];
  for (const signal of test.signals) {
    const end = signal.end && parts.some((part) => part.kind === signal.kind);
    if (end) parts.find((part) => part.kind === signal.kind).words += ", then its end";
    else parts.push({ kind: signal.kind, words: `${signal.kind}${signal.end ? ", its end" : ""}${test.zone && !signal.end ? ` of zone ${test.zone}` : ""}${signal.to_s > 30 && !signal.end ? `, after ${fromTo(signal.from_s, signal.to_s)}` : ""}` });
  }
  return parts.map((part) => part.words).join("; ");
}

// Cautions that stand above a test where it can hurt (safety words).
const LIFE = new Set(["fire", "gas", "carbon monoxide"]);
export function caution(test) {
  if (test.answers?.length > 0) return "A siren can hurt: nobody stands close to it, and who lives near is told before.";
  if (test.signals.some((signal) => LIFE.has(signal.kind))) return "Life-safety devices follow the adopted local code and licensed practice, and their makers' way of testing; this list only reminds.";
  if (test.signals.some((signal) => signal.kind === "mains lost")) return "Mains can hurt: switch it at the breaker, never at a terminal.";
  if (test.signals.some((signal) => signal.kind === "device battery low")) return "Only if a low battery is at hand: never short a cell to make it low.";
  return "";
}

// Which sound tells of what changed: "right", "wrong", or none. Both lists are of one acceptance.
export function heardBetween(former, list) {
  if (!former || former.begun !== list.begun) return "";
  const was = new Map(former.tests.map((test) => [test.name, test]));
  const ticked = list.tests.some((test) => test.state === "done" && was.get(test.name)?.state !== "done");
  const last = (of) => of.explained_about.at(-1)?.id ?? 0;
  if (last(list) > last(former)) return "wrong";
  return ticked ? "right" : "";
}

// What a station's list came to.
export function understoodWords({ lines, taken, added, stored }) {
  const of = `${taken} of ${lines.length === 1 ? "one line" : `${lines.length} lines`} understood`;
  return stored ? `${of}, ${added === 0 ? "none of them new" : `${added} of them new`}.` : taken === 0 ? `${of}: nothing can be taken.` : `${of}. Nothing is taken yet.`;
}
