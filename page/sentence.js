// The verdict as a sentence of plain clauses. Pure: a report in, clauses out; each clause knows what it speaks of.

const WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

export function number(count) {
  return count < WORDS.length ? WORDS[count] : String(count);
}

function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

// What goes wrong with routines, by the promise that broke: [one of them, several, past].
const VERBS = {
  "the siren": ["causes a false alarm", "cause a false alarm", "caused a false alarm"],
  "an alarm signal": ["sends a false alarm", "send a false alarm", "sent a false alarm"],
  "a refusal": ["finds the alarm not ready", "find the alarm not ready", "found the alarm not ready"],
};

function verb(routines, past) {
  const kinds = new Set(routines.map((routine) => routine.promise));
  const words = kinds.size === 1 ? VERBS[[...kinds][0]] : undefined;
  return (words ?? ["fails", "fail", "failed"])[past ? 2 : routines.length === 1 ? 0 : 1];
}

// "all five routines": as the whole of what there is.
function whole(count, one = "routine") {
  if (count === 1) return `the only ${one}`;
  if (count === 2) return `both ${one}s`;
  return `all ${number(count)} ${one}s`;
}

// "six of eight routines", "of 31 routines, 28": no sentence begins with a figure.
function some(count, all, one) {
  return all < WORDS.length ? `${number(count)} of ${number(all)} ${one}s` : `of ${all} ${one}s, ${number(count)}`;
}

function be(count, past) {
  return past ? (count === 1 ? "was" : "were") : count === 1 ? "is" : "are";
}

function routineClauses(report, past) {
  const all = report.routines;
  const well = all.filter((routine) => routine.verdict === "goes well");
  const wrong = all.filter((routine) => routine.verdict === "goes wrong");
  const open = all.filter((routine) => routine.verdict === "not settled");
  const proven = (count) => `${be(count, past)} proven`;
  if (all.length === 0) return [{ text: `No routine ${be(1, past)} described yet`, good: true, kept: true, routines: [] }];
  if (well.length === all.length) {
    return [{ text: capital(`${whole(all.length)} ${proven(all.length)}`), good: true, routines: well }];
  }
  if (wrong.length === all.length) {
    return [{ text: capital(`${whole(all.length)} ${verb(wrong, past)}`), good: false, routines: wrong }];
  }
  const clauses = [];
  const of = ({ length }, does) => `${some(length, all.length, "routine")} ${does}`;
  clauses.push({ text: capital(well.length > 0 ? of(well, proven(well.length)) : of(wrong, verb(wrong, past))), good: well.length > 0, routines: well.length > 0 ? well : wrong });
  if (well.length > 0 && wrong.length > 0) {
    clauses.push({ text: `${number(wrong.length)} ${verb(wrong, past)}`, brief: of(wrong, verb(wrong, past)), good: false, routines: wrong, before: "; " });
  }
  if (open.length > 0) {
    const undecided = `${be(open.length, past)} undecided`;
    clauses.push({ text: `${number(open.length)} ${undecided}`, brief: wrong.length > 0 ? undefined : of(open, undecided), good: false, open: true, routines: open, before: wrong.length > 0 ? ", " : "; " });
  }
  return clauses;
}

function every(past) {
  return `Every way in ${be(1, past)} heard in time`;
}

// Ways in: for each thing worth protecting, whether somebody who comes for it is heard in time.
function wayClauses(report, drawn, past) {
  const all = report.break_ins;
  if (!all) return []; // not asked for
  const findings = report.findings.filter((finding) => /^break-in\./.test(finding.id ?? "") && finding.weight !== "note");
  if (all.length === 0) {
    const why = report.break_ins_not_computed?.split(";")[0] ?? (drawn ? "nothing is named as worth protecting" : "there is no drawing");
    return [{ text: `Ways in ${be(2, past)} not computed: ${why}`, good: true, kept: true, findings, sentence: true }];
  }
  const open = all.filter((one) => one.verdict === "not settled").length;
  const nowhere = all.filter((one) => one.verdict === "no way there").length;
  const good = all.filter((one) => one.verdict === "heard in time").length;
  const bad = all.length - good - open - nowhere;
  if (nowhere === all.length) return [{ text: `No way in ${be(1, past)} drawn`, good: false, findings, sentence: true }];
  const but = [bad > 0 && good > 0 ? ` but ${number(bad)}` : "", open > 0 && good > 0 ? `${bad > 0 ? ";" : " but"} ${number(open)} ${be(open, past)} undecided` : ""].join("");
  const lead = good > 0 ? every(past) : `No way in ${be(1, past)} ${bad > 0 ? "heard in time" : "decided"}`;
  const far = all.some((one) => one.as_far_as_drawn) ? `, as far as the drawing ${past ? "went" : "goes"}` : "";
  const limits = [far, nowhere > 0 ? `; to ${number(nowhere)} none ${be(1, past)} drawn` : ""].join("");
  return [{ text: `${lead}${but}${limits}`, brief: good > 0 ? waysShort(bad, open, nowhere, past) + far || undefined : undefined, good: good === all.length && limits === "", findings, sentence: true }];
}

// The same without those that are heard in time.
function waysShort(bad, open, nowhere, past) {
  const ways = (count) => `${number(count)} way${count === 1 ? "" : "s"} in`;
  return [bad > 0 && `${ways(bad)} ${be(bad, past)} not heard in time`, open > 0 && `${bad > 0 ? number(open) : ways(open)} ${be(open, past)} undecided`,
    nowhere > 0 && `to ${number(nowhere)} no way in ${be(1, past)} drawn`].filter(Boolean).join(", ");
}

// Radio links: a weak one may not be heard on a bad day, or keeps less in reserve than is wanted.
const LINKS = new Set(["radio.not-computed", "radio.out-of-reach", "radio.may-not-reach", "radio.way-back", "radio.little-reserve"]);

function linkClauses(report, past) {
  const list = report.links ?? [];
  const findings = report.findings.filter((finding) => LINKS.has(finding.id));
  const [weak, lost, open] = ["weak", "does not reach", "not computed"].map((verdict) => list.filter((link) => link.verdict === verdict).length);
  const links = (count) => `${number(count)} link${count === 1 ? "" : "s"}`;
  const clause = (text, more) => [{ text, good: findings.length === 0, kept: true, findings, sentence: true, layer: "radio", ...more }];
  if (list.length === 0) return [];
  if (open === list.length) return clause(`Links ${be(2, past)} not computed`);
  const holds = past ? "held" : "holds";
  const missing = `${be(open, past)} not computed`;
  const held = list.length - open;
  const hold = past ? "held" : held === 1 ? "holds" : "hold";
  if (weak + lost === 0) return open === 0 ? clause(`Every link ${holds}`, { kept: false }) : clause(capital(`${some(held, list.length, "link")} ${hold}, ${number(open)} ${missing}`), { brief: `${links(open)} ${missing}` });
  const reach = past ? "did not reach" : lost === 1 ? "does not reach" : "do not reach";
  if (lost === list.length) return clause(lost === 1 ? `The only link ${reach}` : `No link ${holds}`);
  if (weak === list.length) return clause(capital(`${whole(weak, "link")} ${be(weak, past)} weak`));
  const parts = [[weak, `${be(weak, past)} weak`], [lost, reach], [open, missing]].filter(([count]) => count > 0);
  const text = parts.map(([count, does], i) => `${i === 0 ? links(count) : number(count)} ${does}`).join(", ");
  return clause(/^\d/.test(text) ? `Of the links, ${text.replace(" links", "")}` : capital(text), { brief: text });
}

// How long the panel lasts without mains, and how long it is asked to.
const STANDBY = new Set(["power.standby-short", "power.standby-not-computed"]);
const hours = (value) => `${Number(value.toFixed(1))} h`;

function standbyClauses(report, past) {
  const { standby: it, standby_not_computed: why } = report;
  const findings = report.findings.filter((finding) => STANDBY.has(finding.id));
  const clause = (text, more) => [{ text, good: findings.length === 0, kept: true, findings, sentence: true, ...more }];
  if (why) return clause(`Standby ${be(1, past)} not computed: ${why}`, { brief: `standby ${be(1, past)} not computed` });
  if (!it) return []; // no rule set asks for any
  const bare = it.uncounted > 0;
  if (it.lasts_h < it.wanted_h) return clause(`Standby ${past ? "fell" : "falls"} ${bare ? "at least " : ""}${hours(it.wanted_h - it.lasts_h)} short of ${hours(it.wanted_h)}`);
  const but = bare ? `, ${number(it.uncounted)} device${it.uncounted === 1 ? "" : "s"} not counted` : "";
  return clause(`Standby ${past ? "lasted" : "lasts"} ${hours(it.lasts_h)} where ${hours(it.wanted_h)} ${be(2, past)} asked${but}`, { kept: false });
}

// What came of the signals that the acceptance awaits. signals: {seen, all, wrong}, or null: nothing is keyed in yet.
function signalClauses(signals, past) {
  if (!signals || signals.all === 0) return [];
  const { seen, all, wrong } = signals;
  const were = (count) => (past ? be(count, true) : count === 1 ? "has been" : "have been");
  const clause = (text, more) => [{ text, good: wrong === 0, kept: true, findings: [], signals: true, sentence: true, ...more }];
  const came = wrong > 0 ? `${seen === 0 ? `${number(wrong)} signal${wrong === 1 ? "" : "s"}` : number(wrong)} came under the wrong zone` : "";
  if (seen === 0) return clause(wrong > 0 ? (wrong < WORDS.length ? capital(came) : `Of the signals, ${wrong} came under the wrong zone`) : `Nothing ${were(1)} seen at the station yet`, wrong > 0 ? { brief: came } : {});
  if (seen === all && wrong === 0) return clause(capital(`${whole(all, "signal")} ${were(all)} seen`), { kept: false });
  const text = `${some(seen, all, "signal")} ${were(seen)} seen`;
  return clause(capital(came ? `${text}; ${came}` : text));
}

// Findings that no routine tells of. A site without a zone was but begun: that is missing, and no wrong setting.
function findingClauses(report, past) {
  const bare = report.findings.filter((finding) => finding.id === "site.no-zone");
  const clauses = bare.map(() => ({ text: `Nothing ${be(1, past)} watched yet`, good: true, kept: true, findings: bare, sentence: true }));
  const others = report.findings.filter((finding) => finding.routine === null && !/^break-in\./.test(finding.id) && !LINKS.has(finding.id) && !STANDBY.has(finding.id) && !bare.includes(finding));
  for (const [weight, one, several] of past
    ? [["fault", "One setting had a fault", "settings had faults"], ["risk", "One risk stood", "risks stood"]]
    : [["fault", "One setting has a fault", "settings have faults"], ["risk", "One risk stands", "risks stand"]]) {
    const list = others.filter((finding) => finding.weight === weight);
    if (list.length === 0) continue;
    const text = list.length === 1 ? one : capital(`${number(list.length)} ${several}`);
    clauses.push({ text: /^\d/.test(text) ? `There ${be(2, past)} ${list.length} ${weight}s in the settings` : text, brief: text, good: false, findings: list, sentence: true });
  }
  return clauses;
}

// What somebody answers for: said last, and no fault of the site's.
function waivedClause(report, past) {
  const waived = report.waived ?? [];
  const parts = ["fault", "risk"].map((weight) => [weight, waived.filter((finding) => finding.weight === weight).length]).filter(([, count]) => count > 0);
  if (parts.length === 0) return [];
  const counted = parts.map(([weight, count]) => `${number(count)} ${weight}${count === 1 ? "" : "s"}`).join(" and ");
  const many = parts.length > 1 || parts[0][1] > 1;
  const text = /^\d/.test(counted) ? `There ${be(2, past)} ${counted} waived` : `${capital(counted)} ${be(many ? 2 : 1, past)} waived`;
  return [{ text, brief: `${counted} ${be(many ? 2 : 1, past)} waived`, good: true, kept: true, findings: [], waived: true, sentence: true }];
}

// report: as `lintel check --json` has it. past: it is about an older edit.
// drawn: the building is drawn, or its rooms are written down, so that ways in could be walked. signals: {seen, all, wrong}, or null.
export function clauses(report, past = false, drawn = true, signals = null) {
  const subjects = [routineClauses(report, past), wayClauses(report, drawn, past), findingClauses(report, past), linkClauses(report, past), standbyClauses(report, past), signalClauses(signals, past)].filter((one) => one.length > 0);
  const wholly = (one) => one?.length === 1 && one[0].good && !one[0].kept;
  const joins = (i) => i > 0 && wholly(subjects[i]) && wholly(subjects[i - 1]);
  const joined = ([clause], last) => [{ ...clause, text: clause.text.charAt(0).toLowerCase() + clause.text.slice(1), sentence: false, before: last ? ", and " : ", " }];
  return [...subjects.flatMap((one, i) => (joins(i) ? joined(one, !joins(i + 1)) : one)), ...waivedClause(report, past)];
}

const FOLD = 3; // subjects, of a sentence that is too long for a phone

// For a narrow screen: only what is not good, and that the rest holds. folded: also no more than three subjects. What is left out
// is unfolded by its clause.
export function brief(list, past = false, folded = false) {
  if (list.every((clause) => clause.good)) return list;
  const kept = list.filter((clause) => !clause.good || clause.kept);
  const subjects = kept.filter((clause, i) => !(clause.routines && kept[i - 1]?.routines)); // of each its first clause
  const more = folded ? subjects.slice(FOLD) : [];
  const told = more.length > 0 ? kept.slice(0, kept.indexOf(more[0])) : kept;
  const said = told.map((clause, i) => {
    const short = clause.brief ?? clause.text;
    if (i > 0) return { ...clause, text: short.charAt(0).toLowerCase() + short.slice(1), sentence: false, before: clause.routines && clause.open ? ", " : "; " };
    return { ...clause, text: /^\d/.test(short) ? clause.text : capital(short) };
  });
  if (more.length > 0) said.push({ text: `and ${number(more.length)} more`, good: more.every((clause) => clause.good), before: ", ", unfolds: true });
  if (kept.length < list.length) said.push({ text: past ? "the rest held" : "the rest holds", good: true, before: "; ", unfolds: true });
  return said;
}

// The clauses as one text, for the tab, the clipboard and whoever only reads.
export function text(list) {
  return list.map((clause, i) => (i === 0 ? "" : clause.sentence ? ". " : clause.before ?? ", ") + clause.text).join("") + ".";
}
