// The verdict sentence for every combination of a few counts: it reads as English, begins with no figure, doubles nothing.
import { brief, clauses, number, text } from "../../page/sentence.js";
import { axisStep, span } from "../../page/ribbon.js";
import { concerns, delayOf, liveIn } from "../../page/schedule.js";
import { echoes, nameOf, stateOf, subjectOf, wordAbout, worstOf } from "../../page/subjects.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (got === wanted ? [] : [`got    ${got}`, `wanted ${wanted}`]);

function report(well, wrong, open, findings = [], promise = () => "the siren") {
  const routine = (verdict, i) => ({ name: `${verdict} ${i}`, verdict, promise: verdict === "goes wrong" ? promise(i) : null });
  const many = (verdict, howMany) => Array.from({ length: howMany }, (_, i) => routine(verdict, i));
  return { routines: [...many("goes well", well), ...many("goes wrong", wrong), ...many("not settled", open)], findings };
}
const said = (...parts) => text(clauses(report(...parts)));
const setting = (weight) => ({ weight, routine: null });

test("nothing to prove", same(said(0, 0, 0), "No routine is described yet."));
test("the only one", [...same(said(1, 0, 0), "The only routine is proven."), ...same(said(0, 1, 0), "The only routine causes a false alarm.")]);
test("both", [...same(said(2, 0, 0), "Both routines are proven."), ...same(said(0, 2, 0), "Both routines cause a false alarm.")]);
test("all five", same(said(5, 0, 0), "All five routines are proven."));
test("six of eight", same(said(6, 2, 0), "Six of eight routines are proven; two cause a false alarm."));
test("one of them", same(said(4, 1, 0), "Four of five routines are proven; one causes a false alarm."));
test("many, in figures", same(said(28, 3, 0), "Of 31 routines, 28 are proven; three cause a false alarm."));
test("undecided", same(said(4, 0, 1), "Four of five routines are proven; one is undecided."));
test("one well", same(said(1, 4, 0), "One of five routines is proven; four cause a false alarm."));
test("kinds mixed", same(said(3, 2, 0, [], (i) => ["the siren", "a refusal"][i]), "Three of five routines are proven; two fail."));
test("not ready", same(said(3, 1, 0, [], () => "a refusal"), "Three of four routines are proven; one finds the alarm not ready."));
test("settings", same(said(2, 0, 0, [setting("fault"), setting("risk"), setting("risk"), setting("note")]),
  "Both routines are proven. One setting has a fault. Two risks stand."));
test("begun: what is missing is no wrong setting", same(said(0, 0, 0, [{ ...setting("fault"), id: "site.no-zone" }, setting("risk")]), "No routine is described yet. Nothing is watched yet. One risk stands."));
const ways = (well, bad, open) => [...Array(well).fill("heard in time"), ...Array(bad).fill("unheard"), ...Array(open).fill("not settled")].map((verdict) => ({ verdict }));
const waysSaid = (well, bad, list, drawn = true) => text(clauses({ ...report(well, bad, 0), break_ins: list }, false, drawn));
test("ways in", [...same(waysSaid(6, 2, ways(2, 1, 0)), "Six of eight routines are proven; two cause a false alarm. Every way in is heard in time but one."),
  ...same(waysSaid(8, 0, ways(3, 0, 0)), "All eight routines are proven, and every way in is heard in time."),
  ...same(waysSaid(1, 0, ways(0, 2, 0)), "The only routine is proven. No way in is heard in time."),
  ...same(waysSaid(1, 0, ways(1, 0, 1)), "The only routine is proven. Every way in is heard in time but one is undecided."),
  ...same(waysSaid(1, 0, ways(1, 2, 1)), "The only routine is proven. Every way in is heard in time but two; one is undecided."),
  ...same(waysSaid(1, 0, [{ verdict: "no way there" }, ...ways(1, 0, 0)]), "The only routine is proven. Every way in is heard in time; to one none is drawn."),
  ...same(waysSaid(1, 0, [{ verdict: "no way there" }]), "The only routine is proven. No way in is drawn."),
  ...same(waysSaid(1, 0, [{ verdict: "heard in time", as_far_as_drawn: true }]), "The only routine is proven. Every way in is heard in time, as far as the drawing goes."),
  ...same(waysSaid(0, 0, [], false), "No routine is described yet. Ways in are not computed: there is no drawing.")]);
// What carries the site: links, standby, signals, as the check tells of them.
const linked = (...verdicts) => verdicts.map((verdict) => ({ device: "a", verdict }));
const ALL = { L: "does not reach", W: "weak", H: "holds", N: "not computed" };
const found = (id) => ({ id, weight: "risk", routine: null });
const carried = (more, past = false, signals = null) => text(clauses({ ...report(8, 0, 0), break_ins: [{ verdict: "heard in time" }], ...more }, past, true, signals));
const START = "All eight routines are proven, and every way in is heard in time.";
const linksSaid = (letters, ids = [], past = false) => carried({ links: linked(...letters.split("").map((one) => ALL[one])), findings: ids.map(found) }, past).replace(`${START} `, "");
test("links", [...same(linksSaid(""), START), ...same(linksSaid("HHHHH"), "All eight routines are proven, every way in is heard in time, and every link holds."),
  ...same(linksSaid("HHHHH", [], true), "All eight routines were proven, every way in was heard in time, and every link held."),
  ...same(linksSaid("HHWHH", ["radio.little-reserve", "radio.way-back"]), "One link is weak."), ...same(linksSaid("HWWLH", ["radio.out-of-reach"]), "Two links are weak, one does not reach."),
  ...same(linksSaid("HHHHL", ["radio.out-of-reach"]), "One link does not reach."), ...same(linksSaid("HHHLL", ["radio.out-of-reach"]), "Two links do not reach."), ...same(linksSaid("LLLLL", ["radio.out-of-reach"]), "No link holds."),
  ...same(linksSaid("W", ["radio.way-back"]), "The only link is weak."), ...same(linksSaid("L", ["radio.out-of-reach"]), "The only link does not reach."), ...same(linksSaid("WW", ["radio.way-back"]), "Both links are weak."),
  ...same(linksSaid("NNN"), "Links are not computed."), ...same(linksSaid("HHN"), "Two of three links hold, one is not computed."), ...same(linksSaid("HWNN", ["radio.way-back"]), "One link is weak, two are not computed."),
  ...same(linksSaid(`${"W".repeat(13)}H`, ["radio.way-back"]), "Of the links, 13 are weak."), ...same(linksSaid("HW", ["radio.way-back"], true).replace(/.*\. (?=O)/, ""), "One link was weak.")]);
test("a finding about a link is told of once", same(carried({ links: linked("weak", "holds"), findings: [found("radio.may-not-reach"), found("radio.false-trouble")] }), `${START} One risk stands. One link is weak.`));
const standby = (lasts_h, wanted_h, uncounted = 0) => ({ standby: { rule: "house", wanted_h, lasts_h, uncounted } });
const short_ = { findings: [found("power.standby-short")] };
test("standby", [...same(carried(standby(26.3, 24)), "All eight routines are proven, every way in is heard in time, and standby lasts 26.3 h where 24 h are asked."),
  ...same(carried(standby(24, 24)), "All eight routines are proven, every way in is heard in time, and standby lasts 24 h where 24 h are asked."),
  ...same(carried({ ...standby(21.9, 24), ...short_ }), `${START} Standby falls 2.1 h short of 24 h.`), ...same(carried({ ...standby(21.9, 24, 1), ...short_ }), `${START} Standby falls at least 2.1 h short of 24 h.`),
  ...same(carried({ ...standby(21.9, 24), ...short_ }, true), "All eight routines were proven, and every way in was heard in time. Standby fell 2.1 h short of 24 h."),
  ...same(carried(standby(61.4, 4, 2)), "All eight routines are proven, every way in is heard in time, and standby lasts 61.4 h where 4 h are asked, two devices not counted."),
  ...same(carried({ standby: null, standby_not_computed: "no battery is written down" }), `${START} Standby is not computed: no battery is written down.`), ...same(carried({ standby: null, standby_not_computed: null }), START)]);
const signalsSaid = (seen, all, wrong = 0, past = false) => carried({}, past, { seen, all, wrong }).replace(`${START} `, "");
test("signals", [...same(carried({}), START), ...same(signalsSaid(0, 31), "Nothing has been seen at the station yet."), ...same(signalsSaid(14, 31), "Of 31 signals, 14 have been seen."), ...same(signalsSaid(6, 8), "Six of eight signals have been seen."),
  ...same(signalsSaid(1, 8), "One of eight signals has been seen."), ...same(signalsSaid(31, 31), "All eight routines are proven, every way in is heard in time, and all 31 signals have been seen."), ...same(signalsSaid(0, 31, 1), "One signal came under the wrong zone."),
  ...same(signalsSaid(14, 31, 2), "Of 31 signals, 14 have been seen; two came under the wrong zone."), ...same(signalsSaid(0, 31, 0, true).replace(/.*\. (?=N)/, ""), "Nothing was seen at the station yet.")]);
const golden = { links: linked("holds"), ...standby(26.3, 24) };
test("the golden sentences", [...same(carried(golden, false, { seen: 31, all: 31, wrong: 0 }), "All eight routines are proven, every way in is heard in time, every link holds, standby lasts 26.3 h where 24 h are asked, and all 31 signals have been seen."),
  ...same(text(clauses({ ...report(6, 2, 0), break_ins: [{ verdict: "heard in time" }, { verdict: "unheard" }], ...golden, links: linked("weak", "weak", "holds"), findings: [found("radio.way-back")] }, false, true, { seen: 0, all: 31, wrong: 0 })),
    "Six of eight routines are proven; two cause a false alarm. Every way in is heard in time but one. Two links are weak. Standby lasts 26.3 h where 24 h are asked. Nothing has been seen at the station yet.")]);
const waivedSaid = (faults, risks, past = false) => text(clauses({ ...report(1, 0, 0), waived: [...Array(faults).fill({ weight: "fault" }), ...Array(risks).fill({ weight: "risk" }), { weight: "note" }] }, past));
test("what is waived is said last, and apart", [...same(waivedSaid(0, 0), "The only routine is proven."), ...same(waivedSaid(0, 1), "The only routine is proven. One risk is waived."),
  ...same(waivedSaid(1, 2), "The only routine is proven. One fault and two risks are waived."), ...same(waivedSaid(0, 2, true), "The only routine was proven. Two risks were waived."),
  ...same(waivedSaid(13, 1), "The only routine is proven. There are 13 faults and one risk waived.")]);
// On a phone: what is not good, and that the rest holds.
const short = (of, folded = false, past = false) => text(brief(clauses(of, past), past, folded));
const list = (faults, risks) => [...Array(faults).fill({ id: "x", weight: "fault", routine: null }), ...Array(risks).fill({ id: "y", weight: "risk", routine: null })];
const house = (routines, inWays, faults = 0, risks = 0, waived = 0) => ({ ...report(...routines, list(faults, risks)), break_ins: inWays, waived: Array(waived).fill({ weight: "risk" }) });
test("on a phone the rest holds", [...same(short(house([6, 2, 0], ways(2, 1, 0))), "Two of eight routines cause a false alarm; one way in is not heard in time; the rest holds."),
  ...same(short(house([6, 2, 0], ways(3, 0, 0))), "Two of eight routines cause a false alarm; the rest holds."),
  ...same(short(house([5, 0, 0], ways(2, 1, 0))), "One way in is not heard in time; the rest holds."),
  ...same(short(house([28, 3, 0], ways(2, 1, 1))), "Of 31 routines, three cause a false alarm; one way in is not heard in time, one is undecided; the rest holds."),
  ...same(short(house([4, 0, 1], ways(1, 0, 0))), "One of five routines is undecided; the rest holds."),
  ...same(short(house([4, 1, 1], ways(1, 0, 2))), "One of six routines causes a false alarm, one is undecided; two ways in are undecided; the rest holds."),
  ...same(short(house([5, 0, 0], ways(1, 0, 0), 13, 1)), "There are 13 faults in the settings; one risk stands; the rest holds."),
  ...same(short(house([4, 1, 0], ways(1, 0, 0), 13, 0, 1)), "One of five routines causes a false alarm; 13 settings have faults; one risk is waived; the rest holds.")]);
test("on a phone nothing is left out of what is good as a whole, nor of what is bad as a whole", [...same(short(house([8, 0, 0], ways(3, 0, 0), 0, 0, 2)), "All eight routines are proven, and every way in is heard in time. Two risks are waived."),
  ...same(short(house([0, 2, 0], ways(0, 2, 0))), "Both routines cause a false alarm; no way in is heard in time."), ...same(short(report(0, 0, 0)), "No routine is described yet.")]);
test("on a phone a link that is weak, and what is not known of links and standby, is said", [
  ...same(short({ ...house([4, 1, 0], ways(1, 0, 0)), links: linked("weak", "holds"), findings: [found("radio.way-back")], ...standby(26.3, 24) }), "One of five routines causes a false alarm; one link is weak; the rest holds."),
  ...same(short({ ...house([4, 1, 0], ways(1, 0, 0)), links: linked("not computed", "holds"), standby: null, standby_not_computed: "no battery is written down" }), "One of five routines causes a false alarm; one link is not computed; standby is not computed; the rest holds."),
  ...same(short({ ...house([4, 1, 0], ways(1, 0, 0)), ...standby(26.3, 24) }), "One of five routines causes a false alarm; the rest holds.")]);
test("on a phone what was not computed is no rest that holds", [...same(short({ ...report(4, 1, 0), break_ins: [] }), "One of five routines causes a false alarm; ways in are not computed: nothing is named as worth protecting; the rest holds."),
  ...same(short({ ...report(0, 0, 0, list(1, 0)), break_ins: [] }), "No routine is described yet; ways in are not computed: nothing is named as worth protecting; one setting has a fault."),
  ...same(short(house([4, 1, 0], [{ verdict: "heard in time", as_far_as_drawn: true }, ...ways(0, 1, 0)])), "One of five routines causes a false alarm; one way in is not heard in time, as far as the drawing goes; the rest holds.")]);
test("on a phone more than three subjects fold where they are too long", [...same(short(house([6, 40, 0], ways(2, 1, 0), 10, 15, 1), true), "Of 46 routines, 40 cause a false alarm; one way in is not heard in time; ten settings have faults, and two more; the rest holds."),
  ...same(short(house([4, 1, 1], ways(2, 1, 0), 1), true), "One of six routines causes a false alarm, one is undecided; one way in is not heard in time; one setting has a fault; the rest holds."),
  ...same(short(house([0, 2, 0], ways(0, 2, 0), 1, 1), true), "Both routines cause a false alarm; no way in is heard in time; one setting has a fault, and one more.")]);
test("on a phone, of an older edit", same(short(house([6, 2, 0], ways(2, 1, 0)), false, true), "Two of eight routines caused a false alarm; one way in was not heard in time; the rest held."));
test("the past of an older edit", same(text(clauses(report(6, 2, 0), true)), "Six of eight routines were proven; two caused a false alarm."));
// Whatever it is made of, of an older edit nothing is said as if it were so now.
const NOW = / (is|are|has|have|stands?|causes?|sends?|finds?|fails?|goes) /;
test("no clause of an older edit is in the present tense", (() => {
  const wrong = [];
  const kinds = [[], [{ verdict: "heard in time" }], [{ verdict: "heard in time" }, { verdict: "unheard" }], [{ verdict: "unheard" }], [{ verdict: "not settled" }], [{ verdict: "heard in time" }, { verdict: "not settled" }],
    [{ verdict: "no way there" }], [{ verdict: "heard in time", as_far_as_drawn: true }, { verdict: "no way there" }]];
  const findings = (faults, risks) => [...Array(faults).fill({ id: "x", weight: "fault", routine: null }), ...Array(risks).fill({ id: "y", weight: "risk", routine: null })];
  for (const [well, bad, open] of [[0, 0, 0], [1, 0, 0], [2, 0, 0], [13, 0, 0], [0, 1, 0], [0, 3, 0], [6, 2, 0], [6, 1, 2], [0, 2, 1], [20, 3, 4]]) {
    for (const ways of kinds) for (const [faults, risks] of [[0, 0], [1, 1], [3, 2], [14, 15]]) {
      const all = { ...report(well, bad, open), break_ins: ways, findings: findings(faults, risks) };
      const past = text(clauses(all, true));
      if (NOW.test(` ${past.replaceAll(/[.,;]/g, " ")} `.replace(/: .*?(?=  |$)/g, ""))) wrong.push(past);
      if (past.length === 0 || past === text(clauses(all, false))) wrong.push(`the same as now: ${past}`);
    }
  }
  return wrong;
})());

const wrong = [];
for (const well of [0, 1, 2, 3, 12, 13]) for (const bad of [0, 1, 2, 3, 12, 13]) for (const open of [0, 1, 2, 13]) for (const faults of [0, 1, 13]) {
  const list = clauses(report(well, bad, open, Array.from({ length: faults }, () => setting("fault"))));
  const sentence = text(list);
  const covered = new Set(list.flatMap((clause) => (clause.routines ?? []).map((routine) => routine.name)));
  if (/^\d|\. \d|undefined|, ,|; ;|\.\.|one (are|cause) |\b(two|three|twelve|13) (is|causes) /.test(sentence)) wrong.push(sentence);
  for (const one of [text(brief(list)), text(brief(list, false, true))]) if (/^\d|undefined|, ,|; ;|\.\.|[a-z] [A-Z](?!I)|one (are|cause) |\b(two|three|twelve|13) (is|causes) /.test(one) || (bad > 0 && well > 0 && !/the rest holds\.$/.test(one))) wrong.push(one);
  if (covered.size !== well + bad + open) wrong.push(`${covered.size} of ${well + bad + open} routines are spoken of: ${sentence}`);
}
test("no combination reads badly, each routine is in a clause", wrong);
test("numbers", [...same(number(12), "twelve"), ...same(number(13), "13")]);
test("an axis has at most ten marks", [1, 9, 10, 59, 100, 3600, 86400, 500000].filter((seconds) => seconds / axisStep(seconds) > 9));
test("spans are read with units", [...same(span(45), "45 s"), ...same(span(185), "3 min 5 s"), ...same(span(7260), "2 h 1 min"), ...same(span(900), "15 min"), ...same(span(28800), "8 h")]);
const marked = { routines: [], findings: [{ weight: "risk", place: { path: "zones[1].chime" } }, { weight: "fault", place: { path: "zones[11]" } }, { weight: "note", place: null }] };
test("a zone's ring is the worst about it and about no other", [...same(stateOf(marked.findings, "zones[1]"), "risk"), ...same(stateOf(marked.findings, "zones[11]"), "fault"),
  ...same(stateOf(marked.findings, "zones[0]"), "holds"), ...same(String(concerns(null, 0)), "false")]);
const lived = (path, until) => ({ weight: "risk", place: { path }, waiver: { until } });
const word = (today, ...waived) => wordAbout({ today, findings: [], waived }, "zones[0]");
test("what somebody answers for says until when, the first day of several, with its year where that is not the next twelve months", [
  ...same(word("2027-01-31", lived("zones[0].chime", "2027-03-12")), "waived until 12 March"), ...same(word("2027-03-12", lived("zones[0]", "2027-03-12")), "waived until 12 March"),
  ...same(word("2027-03-12", lived("zones[0]", "2028-03-11")), "waived until 11 March"), ...same(word("2027-03-12", lived("zones[0]", "2028-03-12")), "waived until 12 March 2028"),
  ...same(word(undefined, lived("zones[0]", "2028-03-12")), "waived until 12 March 2028"), ...same(word("2027-01-31", lived("zones[0]", "2027-05-01"), lived("zones[0]", "2027-04-30"), lived("zones[1]", "2027-02-01")), "waived until 30 April"),
  ...same(word("2027-01-31"), "holds"), ...same(wordAbout({ findings: [], waived: [{ weight: "fault", place: { path: "zones[0]" } }] }, "zones[0]"), "waived"),
  ...same(worstOf({ today: "2027-01-31", findings: [], waived: [{ ...lived("zones[0]", "2027-03-12"), headline: "x" }] }, ["zones[0]"]).word, "waived until 12 March")]);
const at = (id, weight, path) => ({ id, weight, place: { path } });
test("what nobody knows is a question, what somebody answers for is struck, and what is worse shows before either", [
  ...same(stateOf([at("routine.not-settled", "risk", "zones[0]")], "zones[0]"), "unsettled"), ...same(stateOf([at("routine.not-settled", "risk", "zones[0]"), at("x", "risk", "zones[0]")], "zones[0]"), "risk"),
  ...same(stateOf([], "zones[0]", [at("x", "fault", "zones[0].chime")]), "waived fault"), ...same(stateOf([at("x", "risk", "zones[0]")], "zones[0]", [at("x", "fault", "zones[0]")]), "risk"),
  ...same(stateOf([], "zones[1]", [at("x", "fault", "zones[0]")]), "holds"), ...same(stateOf([], "zones[0]", [at("x", "note", "zones[0]")]), "holds")]);
test("a delay by mode", [...same(delayOf({ delay: { full: "a", part: "a" } }), "a"), ...same(delayOf({ delay: { full: "a", part: "b" } }), "various"), ...same(delayOf({ delay: "a" }), "a")]);
test("live in the modes in which it is watched", [...same(liveIn({ in: { full: "entry", part: "off", night: "perimeter" } }), "full + night"), ...same(liveIn({}), "always")]);
test("a path is about one thing, or none", [...same(subjectOf("zones[5].in.night"), "zones[5]"), ...same(subjectOf("building.rooms[2].size"), "building.rooms[2]"),
  ...same(subjectOf("panel.abort-window"), null), ...same(subjectOf(undefined), null), ...same(subjectOf("break-ins.protect[0]"), "break-ins.protect[0]")]);
const cottage = {
  zones: [{ number: 1, says: ["yard", "door"], device: "contact" }, { number: 2, says: "hall", device: "motion" }], doors: [{ name: "yard door" }],
  devices: [{ name: "contact", on: "yard door" }, { name: "motion" }], ways: [{ name: "way", door: "yard door", keypad: "pad" }],
  building: { openings: [{ door: "yard door", is: "door", room: "hall" }, { is: "window", room: "hall" }], places: [{ device: "motion" }, { keypad: "pad" }, { protects: "till" }] },
  "break-ins": { protect: [{ name: "till" }] },
};
const echoed = (subject) => [...echoes(cottage, subject)].sort().join(" ");
test("a zone, its device and its opening are one matter", [...same(echoed("zones[0]"), "building.openings[0] zones[0]"), ...same(echoed("building.openings[0]"), "building.openings[0] zones[0]"),
  ...same(echoed("zones[1]"), "building.places[0] zones[1]"), ...same(echoed("building.openings[1]"), "building.openings[1]"),
  ...same(echoed("ways[0]"), "building.openings[0] building.places[1] ways[0] zones[0]"), ...same(echoed("break-ins.protect[0]"), "break-ins.protect[0] building.places[2]"), ...same(echoed(null), "")]);
test("things are named as one says them", [...same(nameOf(cottage, "zones[0]"), "zone 1, yard door"), ...same(nameOf(cottage, "building.openings[1]"), "window of the hall"), ...same(nameOf(cottage, "building.places[2]"), "till, worth protecting")]);
console.log(`1..${count}`);
