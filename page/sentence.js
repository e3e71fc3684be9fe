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
function whole(count) {
  if (count === 1) return "the only routine";
  if (count === 2) return "both routines";
  return `all ${number(count)} routines`;
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
  const of = ({ length }, does) => (all.length < WORDS.length ? `${number(length)} of ${number(all.length)} routines ${does}` : `of ${all.length} routines, ${number(length)} ${does}`);
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

// Findings that no routine tells of. A site without a zone was but begun: that is missing, and no wrong setting.
function findingClauses(report, past) {
  const bare = report.findings.filter((finding) => finding.id === "site.no-zone");
  const clauses = bare.map(() => ({ text: `Nothing ${be(1, past)} watched yet`, good: true, kept: true, findings: bare, sentence: true }));
  const others = report.findings.filter((finding) => finding.routine === null && !/^break-in\./.test(finding.id) && !bare.includes(finding));
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
// drawn: the building is drawn, or its rooms are written down, so that ways in could be walked.
export function clauses(report, past = false, drawn = true) {
  const routines = routineClauses(report, past);
  const ways = wayClauses(report, drawn, past);
  if (routines.length === 1 && routines[0].good && routines[0].routines.length > 0 && ways[0]?.text === every(past)) {
    ways[0] = { ...ways[0], text: ways[0].text.charAt(0).toLowerCase() + ways[0].text.slice(1), sentence: false, before: ", and " };
  }
  return [...routines, ...ways, ...findingClauses(report, past), ...waivedClause(report, past)];
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
