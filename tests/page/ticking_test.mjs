// The acceptance on the page: what stands in its lines, what is noted without a connection, when it is refused.
import { caution, counted, expects, heardBetween, instead, noted, signalsOf, standing, tickWords, understoodWords, verdict, withNoted } from "../../page/ticking.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const signal = (kind, end = false, to_s = 20, from_s = 0) => ({ kind, end, from_s, to_s, id: 0 });
const row = (name, state, more = {}) => ({ name, says: `do ${name}`, required: true, by_hand: false, answers: [], state, by: "", began_ms: 0, done_ms: 0, signals: [signal("intrusion", false, 89, 53), signal("intrusion", true, 29)], ...more });
const hand = { by_hand: true, signals: [] };
const list = (...states) => ({
  begun: true, account: "4021", accepted: false, explained: [], explained_about: [],
  tests: ["on test", "zone 1", "zone 2", "station", "off test"].map((name, i) => row(name, states[i], /^zone/.test(name) ? { zone: Number(name[5]), device: "door" } : hand)),
});
const onTest = (...states) => { const one = list("by hand", ...states); one.tests[0].by = "N. Tester, on test until 17:00"; return one; };
const live = { live: true, since: null };
const at = new Date(2026, 10, 26, 14, 32, 7).getTime();

test("the account, until when, how far", same([standing(list("next", "open", "open", "open", "open"), live, []), standing(onTest("next", "open", "open", "open"), live, []), standing(onTest("done", "done", "by hand", "by hand"), live, [])],
  ["Account not on test yet · 0 of 5 seen", "Account on test until 17:00 · 1 of 5 seen", "Account off test · 5 of 5 seen"]));
test("not live is said before anything else, with what is kept here", same(standing(onTest("next", "open", "open", "open"), { live: false, since: at }, [{}]),
  "Not connected since 14:32. Keep walking: signals are kept, this list catches up. One thing is noted here and not sent yet."));
test("refused while something is open, and while on test", same([["next", "open", "open", "open"], ["done", "next", "by hand", "by hand"], ["done", "done", "by hand", "next"]].map((states) => verdict(onTest(...states), []).says),
  ["Not accepted: 3 required tests are open, and the account is still on test.", "Not accepted: one required test is open (zone 2).", "Not accepted: the account is still on test."]));
test("accepted only when the bench says so and nothing waits here", same([verdict({ ...onTest("done", "done", "by hand", "by hand"), accepted: true }, []).accepted, verdict({ ...onTest("done", "done", "by hand", "by hand"), accepted: true }, [{}]).accepted], [true, false]));

const act = (what, name, by = "") => noted({ act: what, test: name, by }, at);
const later = (...queue) => withNoted(onTest("next", "open", "open", "open"), queue).tests.map((one) => `${one.name} ${one.state}`);
test("what is noted shows as it will be: a tick, put off, taken back", same([later(act("hand", "zone 1", "N.")), later(act("later", "zone 1")), later(act("hand", "zone 1", "N."), act("back", "zone 1"))], [
  ["on test by hand", "zone 1 by hand", "zone 2 next", "station open", "off test open"], ["on test by hand", "zone 2 next", "zone 1 open", "station open", "off test open"],
  ["on test by hand", "zone 1 next", "zone 2 open", "station open", "off test open"]]));
test("the account on test and what ends the list are not put off", same([later(act("later", "station"))[3], withNoted(list("next", "open", "open", "open", "open"), [act("later", "on test")]).tests[0].name], ["station open", "on test"]));
test("a tick noted without a connection says so in the record", same(act("hand", "zone 1", "N. Tester"), { act: "hand", test: "zone 1", by: "N. Tester, noted without a connection", at_ms: at }));
test("a tick of what was ticked off by signals meanwhile changes nothing", same(counted(withNoted(onTest("done", "next", "open", "open"), [act("hand", "zone 1", "N.")])), { seen: 2, all: 5 }));
test("a list is not changed by what is noted", (() => { const one = onTest("next", "open", "open", "open"); withNoted(one, [act("hand", "zone 1", "N."), act("later", "zone 2")]); return same(one, onTest("next", "open", "open", "open")); })());

test("what is awaited, in words", same([expects(row("zone 1", "next", { zone: 1 })), expects(row("zone 8", "next", { zone: 8, by_hand: true, signals: [] })), expects(row("user", "next", { signals: [signal("unset"), signal("set")] })), expects(row("supervision 1", "if wanted", { zone: 1, signals: [signal("device lost", false, 47540, 38880)] }))],
  ["intrusion of zone 1, after 53 to 89 s, then its end", "reports nothing: look at the panel, tick it off by hand", "unset; set", "device lost of zone 1, after 10.8 h to 13.2 h"]));
test("a tick says when and how", same([tickWords(row("zone 1", "done", { zone: 1, done_ms: at })), tickWords(row("station", "by hand", { by: "N. Tester, read back by the operator", done_ms: at }))],
  ["14:32:07, zone 1, as expected", "by hand 14:32:07, N. Tester, read back by the operator"]));

const told = { ...onTest("next", "open", "open", "open"), explained: ["wrong zone", "a duress code"], explained_about: [{ test: "zone 2", next: "zone 1", id: 7, received_ms: at }, { test: "zone 1", next: "zone 2", id: 9, received_ms: at }] };
test("what came instead stands with the test that was next", same(instead(told, told.tests[1]).map((one) => one.says), ["wrong zone"]));
const asked = (state, more = {}) => row("heard in bedroom", state, { ...hand, answers: ["heard", "not heard"], says: "Is the siren heard in the bedroom?", ...more });
const withAsked = (state) => { const one = onTest("done", "done", "next", "open"); one.tests.splice(3, 0, asked(state)); if (state === "next") one.tests[4].state = "open"; return one; };
const answered = (...queue) => withNoted(withAsked("next"), queue).tests.slice(3).map((one) => `${one.name} ${one.state}`);
test("a question noted: yes is a tick by hand, no stays open and the next one comes, either is taken back", same([answered(act("hand", "heard in bedroom", "N.")), answered(act("no", "heard in bedroom", "N.")), answered(act("no", "heard in bedroom", "N."), act("back", "heard in bedroom")), answered(act("no", "heard in bedroom", "N."), act("hand", "heard in bedroom", "N."))], [
  ["heard in bedroom by hand", "station next", "off test open"], ["heard in bedroom said no", "station next", "off test open"], ["heard in bedroom next", "station open", "off test open"], ["heard in bedroom by hand", "station next", "off test open"]]));
test("what was answered, in words; refused while it is not heard", same([tickWords(asked("by hand", { by: "N. Tester", done_ms: at })), tickWords(asked("said no", { by: "N. Tester", done_ms: at })), verdict({ ...withAsked("said no"), tests: withAsked("said no").tests.map((one) => (one.state === "said no" ? one : { ...one, state: "by hand" })) }, []).says],
  ["heard 14:32:07, N. Tester", "not heard 14:32:07, N. Tester", "Not accepted: one required test is open (heard in bedroom)."]));
test("the caution stands with the question", same(/can hurt/.test(caution(asked("next"))), true));
const wrongly = { ...told, explained_about: told.explained_about.map((about) => ({ ...about, wrong_zone: true })) };
const half = onTest("next", "open", "open", "open");
half.tests[1].signals[0].received_ms = at;
test("signals are counted one by one, a tick by hand for all of its own, and what came under another number while its own is awaited", same([signalsOf(half), signalsOf(onTest("by hand", "done", "by hand", "open")), signalsOf(told).wrong, signalsOf(wrongly).wrong, signalsOf({ ...wrongly, tests: onTest("done", "next", "open", "open").tests }).wrong],
  [{ seen: 1, all: 4, wrong: 0 }, { seen: 4, all: 4, wrong: 0 }, 0, 2, 1]));
test("a sound for a tick by a signal, another for what came instead, none for a tick by hand or what was there", same([
  heardBetween(onTest("next", "open", "open", "open"), onTest("done", "next", "open", "open")), heardBetween(onTest("next", "open", "open", "open"), told), heardBetween(onTest("next", "open", "open", "open"), onTest("by hand", "next", "open", "open")), heardBetween(null, told)],
  ["right", "wrong", "", ""]));
test("what a list came to", same([{ lines: [1, 2, 3], taken: 2, added: 0, stored: false }, { lines: [1, 2, 3], taken: 2, added: 1, stored: true }, { lines: [1], taken: 1, added: 0, stored: true }, { lines: [1], taken: 0, added: 0, stored: false }].map(understoodWords),
  ["2 of 3 lines understood. Nothing is taken yet.", "2 of 3 lines understood, 1 of them new.", "1 of one line understood, none of them new.", "0 of one line understood: nothing can be taken."]));
console.log(`1..${count}`);
