// The bench: one state, shown whole after each change of it. What the server sends is about a numbered edit; what is about
// an older one is shown in the past tense.
import { makeAcceptance } from "./acceptance.js";
import { keepAwake, whenSeen } from "./awake.js";
import { onSheet } from "./blank.js";
import { bring, problemList } from "./bring.js";
import { h, put } from "./dom.js";
import { saidOf } from "./said.js";
import { brief, clauses, number, text } from "./sentence.js";
import { showFindings } from "./findings.js";
import { attachFind } from "./find.js";
import { attachHere } from "./here.js";
import { setStep, showGuide, standing, stepOf } from "./guide.js";
import { makeHeld } from "./held.js";
import { bringIntoSight, bringRowIntoSight } from "./insight.js";
import { showKeying } from "./keying.js";
import { after, attachKeys } from "./keys.js";
import { placeFrom, placeOf } from "./place.js";
import { makePlayer } from "./player.js";
import { showProgress, showWaysOn } from "./progress.js";
import { isNarrow, narrow, partOf, partWith, showParts, shownOf } from "./parts.js";
import { act as actOn, roughly, routineOf, showRehearsal, toldAs } from "./rehearse.js";
import { moveTime, showRibbon } from "./ribbon.js";
import { makeRevisions } from "./revisions.js";
import { showRoutines } from "./routines.js";
import { showSchedule } from "./schedule.js";
import { added } from "./several.js";
import { paperOf, showDrawing, sketchOf, thingsOf } from "./drawing.js";
import { makeEditor } from "./editor.js";
import { attachGestures } from "./gestures.js";
import { makeLens } from "./lens.js";
import { printAll } from "./print.js";
import { share } from "./share.js";
import { countSlid } from "./slid.js";
import { makeSound } from "./sound.js";
import { lanesOf, lineAt, nextInstant, spanOf } from "./story.js";
import { echoes, nameOf, stateOf, subjectOf, wordAbout, worstOf } from "./subjects.js";
import { makeUnderlay } from "./underlay.js";
import { faceOf, firstDifference, pageWord, reveal } from "./undone.js";
import { waiverOf } from "./waive.js";
import { mapOf, positionAt, showSecond, wayOf } from "./walkers.js";

// awaited: the number that the news have at least once an edit was made. selected: the number of the chosen finding, or -1; sought: one
// that was chosen and may come again; subject: the chosen thing, as a path; leaf: what the right half shows
// where a drawing takes the left one; stepped: what was just taken back or made again; turned: {before, byKey} until the bench tells the file after it. wanted: the
// place that the address names, as long as it was not come back to.
const state = {
  news: null, awaited: 0, connected: false, sending: 0, selected: -1, sought: null, subject: null, refused: null, former: null, changes: "", stepped: "", turned: null, leaf: "zones", storey: 0, layer: 0, words: false, conflict: null, sheet: false,
  unfolded: false, part: stepOf(location.search) ? "drawing" : "verdict", keyed: {}, keyedProblem: "", awake: "", rehearsal: { starts: {}, acts: [] }, told: null, who: null, rehearsalProblem: "", rehearsalName: "", toldLine: null, toldRoutine: null, goesOn: null, wanted: null,
};
const at = (id) => document.getElementById(id);
state.several = []; // those chosen at once, two or more: no one of them is the subject then
const WORD = pageWord();
const later = makeHeld(window);

function report() {
  return state.news?.report?.check ?? null;
}

// Also until the bench has told what became of an edit that it made.
function stale() {
  return state.news !== null && (state.news.report === null || state.news.report.number !== state.news.number || state.news.number < state.awaited);
}

// The verdicts come first; then remedies, and what hangs on a single device.
function whole() {
  return state.news?.report?.whole ?? false;
}

// What is shown is told as of before: it is about an older edit, or nobody knows what became of the file since.
function past() {
  return stale() || (state.news !== null && !state.connected);
}

// A finding is known by these two, whatever number it has in the list.
function known(finding) {
  return `${finding.id} ${finding.about}`;
}

// The site as it is drawn on: with an empty sheet where no room is drawn and somebody asked for one.
function plotted() {
  const site = state.news?.site ?? null;
  return site && (site.drawing || state.sheet) ? onSheet(site) : site;
}

function drawing() {
  return plotted()?.drawing ?? null;
}

// The storey on which a thing of these paths is drawn; the present one where it has one of them, or none has.
function showStoreyOf(paths) {
  const has = (storey) => thingsOf(storey).some((group) => paths.has(group.about));
  if (!drawing() || has(drawing().storeys[state.storey])) return;
  const found = drawing().storeys.findIndex(has);
  if (found >= 0) state.storey = found;
}

// A finding is chosen: with it the thing that it is about. asked: by a press elsewhere than in the list of findings, so that
// the leaf may turn to where it stands. pressed: by somebody, so that the page may move to its story.
function chooseFinding(index, asked = true, pressed = true) {
  state.wanted = null;
  const finding = report()?.findings[index] ?? null;
  state.selected = finding ? index : -1;
  state.several = [];
  state.subject = subjectOf(finding?.place?.path);
  if (finding && asked) state.leaf = /^zones\[/.test(state.subject ?? "") ? "zones" : "findings";
  if (finding && asked && state.part !== "story") state.part = state.leaf === "zones" ? "zones" : "verdict";
  showStoreyOf(echoes(state.news.site?.file, state.subject));
  show();
  revealChosen();
  if (finding?.story.length > 0 && pressed) bringIntoSight(at("ribbon"), document.activeElement);
  if (finding && asked && pressed && isNarrow()) bringRowIntoSight(at(state.part === "zones" ? "schedule" : "findings"), at("parts"));
}

// The list that scrolls by itself shows the row of what was chosen, with all that is told of it; the page stays where it is.
function revealChosen() {
  for (const id of ["schedule", "findings"]) {
    const list = at(id).querySelector(".body");
    const rows = [...list.querySelectorAll(".selected")];
    if (rows.length === 0 || list.scrollHeight <= list.clientHeight) continue;
    const box = list.getBoundingClientRect();
    const top = rows[0].getBoundingClientRect().top - box.top - (list.querySelector("thead")?.offsetHeight ?? 0);
    const below = rows[rows.length - 1].getBoundingClientRect().bottom - box.bottom;
    list.scrollTop += top < 0 ? top : Math.max(0, Math.min(top, below));
  }
}

// What is chosen, one thing or several: their paths, and with what each is one matter.
function chosenThings() {
  return state.several.length > 0 ? state.several : state.subject ? [state.subject] : [];
}

function chosenPaths() {
  return new Set(chosenThings().flatMap((subject) => [...echoes(state.news?.site?.file, subject)]));
}

// Several things at once: what is told of a single one is then told of none.
function chooseSeveral(list) {
  if (list.length < 2) return choose(list[0] ?? null);
  Object.assign(state, { several: list, subject: null, selected: -1, leaf: "zones", wanted: null });
  return show();
}

// A thing is chosen: with it the worst finding about it, unless the chosen one is about it already.
function choose(subject, adds = false) {
  if (adds && subject) return chooseSeveral(added(chosenThings(), subject));
  state.several = [];
  const all = report()?.findings ?? [];
  const about = echoes(state.news?.site?.file, subject);
  Object.assign(state, { subject, wanted: null });
  if (!about.has(subjectOf(all[state.selected]?.place?.path))) state.selected = all.findIndex((finding) => about.has(subjectOf(finding.place?.path)));
  if (subject) state.leaf = "zones";
  showStoreyOf(about);
  show();
  return revealChosen();
}

// Signals are spoken of once something was keyed in.
function signals() {
  return acceptance.begun() || Object.keys(state.keyed).length > 0 ? acceptance.signals() : null;
}

// Nobody waits for the check any longer: what is not proven yet is undecided. Or it is made after all.
async function stop() {
  await ask("/stop", { number: state.news.number });
}

async function goOn() {
  state.goesOn = state.news.report;
  show();
  await ask("/go-on", {});
}

// How far a check is that takes its time; after a check that was stopped, the ways on from it.
function progress(before) {
  const told = state.news?.progress;
  return told && state.connected ? showProgress(before, told, stop) : null;
}

function waysOn(checked) {
  if (!state.news.report?.given_up || stale() || state.news.progress || state.goesOn === state.news.report) return null;
  return showWaysOn(goOn, () => chooseFinding(checked.findings.findIndex((finding) => finding.id === "check.stopped")));
}

const LINES = 4; // of the sentence on a phone

function showSentence() {
  const checked = report();
  if (!checked) return put(at("sentence"), state.news?.problems.length ? "The site file cannot be read." : ["Checking for the first time", progress(", "), "."]);
  const list = clauses(checked, past(), Boolean(state.news.site?.file.building ?? state.news.site?.file["break-ins"]), signals());
  document.title = `${text(list)} ${state.news.site?.file.site?.name ?? ""}`.trim();
  if (!isNarrow() || state.unfolded) return putClauses(checked, list, narrow.matches && brief(list) !== list);
  putClauses(checked, brief(list, past()));
  if (at("sentence").offsetHeight > LINES * parseFloat(getComputedStyle(at("sentence")).lineHeight) + 4) putClauses(checked, brief(list, past(), true));
}

// folds: a word after them makes it short again.
function putClauses(checked, list, folds = false) {
  const fold = (unfolded) => { state.unfolded = unfolded; showSentence(); at("sentence").querySelector(unfolded ? "a:last-child" : "a").focus(); };
  // Pressed again, it goes on to the next finding that it speaks of.
  const pressed = (clause) => {
    const names = new Set((clause.routines ?? []).map((routine) => routine.name));
    const speaks = (finding) => clause.findings?.includes(finding) || (!clause.good && (names.has(finding.routine) || finding.also.some((name) => names.has(name))));
    const list = checked.findings.flatMap((finding, index) => (speaks(finding) ? [index] : []));
    if (clause.unfolds) return fold(true);
    if (clause.waived) {
      Object.assign(state, { leaf: "findings", part: "verdict" });
      show();
      return document.getElementById("waived").scrollIntoView({ block: "start" });
    }
    /* What it speaks of is seen on its own layer. */
    const layer = drawing()?.layers.findIndex((one) => one.name === clause.layer) ?? -1;
    if (layer >= 0) state.layer = layer;
    return chooseFinding(list[(list.indexOf(state.selected) + 1) % list.length] ?? -1);
  };
  const follow = (clause) => {
    if (clause.signals) return go("acceptance");
    if (!clause.unfolds) go("bench");
    return pressed(clause);
  };
  const link = (key, words, act, how = "") => h("a", { href: "#bench", class: `clause${how}`, "data-key": key, onclick: (event) => { event.preventDefault(); act(); } }, words);
  const told = Math.max(0, list.findLastIndex((clause) => clause.routines)); // where it is said how far they are
  return put(at("sentence"), list.map((clause, i) => [
    i === 0 ? "" : clause.sentence ? ". " : clause.before ?? ", ",
    link(`clause-${i}`, clause.text, () => follow(clause), clause.good ? "" : clause.open ? " open" : " wrong"), i === told ? progress("; checking, ") : null]), ".", waysOn(checked), folds ? [" ", link("fold", "In short", () => fold(false))] : null);
}

function stateWords() {
  if (!state.connected) return "The bench does not answer. What is shown is from before.";
  if (state.sending > 0) return "writing";
  if (state.news === null) return "reading";
  if (state.news.problems.length > 0) return "The file cannot be read as it is; what is shown is from before.";
  if (stale() || state.news.progress) return "checking";
  return whole() ? `${state.news.file} · checked` : `${state.news.file} · proven; remedies are being looked for`;
}

function showProblems() {
  const problems = state.news?.problems ?? [];
  const section = at("problems");
  section.hidden = problems.length === 0;
  put(section, h("h2", {}, "The site file cannot be read as it is"), problemList(problems));
}

// The faces of the page, by the word in its address: what is shown of <main>, and what has to be fetched for it.
const FACES = [
  { name: "bench", words: "Bench", sections: ["drawing", "findings", "schedule", "ribbon"] },
  { name: "routines", words: "Routines", sections: ["drawing", "routines", "ribbon"] },
  { name: "rehearse", words: "Rehearse", sections: ["drawing", "acting", "ribbon"] },
  { name: "keying", words: "Keying in", sections: ["keying"], enter: () => note(null) },
  { name: "revisions", words: "Revisions", sections: ["revisions"], enter: () => revisions.load() },
  { name: "acceptance", words: "Acceptance", sections: ["acceptance", "ribbon"] },
];

// "#keying/zone 6 side door": a face, and where in it one stands.
function address() {
  const [name, ...rest] = decodeURIComponent(location.hash.slice(1)).split("/");
  return { face: FACES.find((one) => one.name === name) ?? FACES[0], at: rest.join("/") || null };
}

function turnTo(part) {
  state.part = part;
  show();
}

function go(face, at) {
  const turns = address().face.name !== face;
  history.replaceState(null, "", `#${face}${at ? `/${encodeURIComponent(at)}` : ""}`);
  show();
  if (!turns) return;
  address().face.enter?.();
  /* What led here may be hidden now. */
  if (document.activeElement === document.body || document.activeElement.closest("[hidden]")) shownParts()[2].focus();
}

// What is chosen, and the second of its story, stand in the address; a reload comes back to them.
function notePlace() {
  if (state.wanted || !state.news || address().face.name !== "bench") return;
  const finding = report()?.findings[state.selected];
  const second = finding && player.finding === finding && finding.story.length > 0 ? Math.round(player.second) : null;
  const at = placeOf({ subject: state.subject, second, finding: finding ? known(finding) : state.sought });
  const hash = at ? `#bench/${at}` : location.hash.startsWith("#bench/") ? "#bench" : location.hash;
  if (hash !== location.hash) history.replaceState(null, "", hash);
}

// Once a report has the finding, or is whole and has it not, or once something else is chosen.
function comeBack() {
  const { wanted } = state;
  if (!wanted || !state.news?.site || !report()) return;
  const index = report().findings.findIndex((finding) => known(finding) === wanted.finding);
  if (index < 0 && wanted.finding && !whole()) return;
  state.wanted = null;
  if (index >= 0) {
    chooseFinding(index, true, false);
    if (wanted.second !== null && report().findings[index].story.length > 0) player.seek(Math.min(wanted.second, spanOf(player.finding).end));
  } else if (wanted.subject && valueAt(wanted.subject) !== undefined) choose(wanted.subject);
}

// While the line of time is drawn along the address is left alone: browsers refuse what comes too often.
let noting = null;
function noteSoon() {
  clearTimeout(noting);
  noting = setTimeout(notePlace, 300);
}

function placeInAddress() {
  const { face, at } = address();
  state.wanted = face.name === "bench" ? placeFrom(at) : null;
}

// The parts that are shown, in the order in which one goes through them.
function shownParts() {
  return [at("top"), at("sentence"), ...document.querySelectorAll("main > section:not([hidden]), #guide:not([hidden])"), at("parts")];
}

function showFaces(face) {
  put(document.querySelector(".faces"), FACES.map((one) => h("button", {
    type: "button", "data-key": `face-${one.name}`, "aria-current": one === face ? "page" : null, onclick: () => go(one.name),
  }, one.words)));
  const turned = drawing() !== null ? { findings: state.leaf !== "findings", schedule: state.leaf !== "zones" } : { drawing: face.name !== "bench" };
  const shown = shownOf(face.sections.filter((id) => turned[id] !== true), face.name, state.part);
  for (const id of FACES.flatMap((one) => one.sections)) at(id).hidden = !shown.includes(id);
  at("leaves").hidden = face.name !== "bench" || drawing() === null || narrow.matches;
  document.body.dataset.part = state.part;
  showParts(at("parts"), at("guide"), face.name, state.part, turnTo);
}

// What was acted so far, told by the bench; the line of time stands where it was acted.
async function retell(rehearsal, now) {
  const runs = player.playing;
  const answer = rehearsal.acts.length === 0 ? { story: [], bars: [] } : await post("/rehearse", toldAs(rehearsal));
  state.rehearsalProblem = answer.result ? answer.what : "";
  if (!answer.result) {
    state.rehearsal = rehearsal;
    state.told = rehearsal.acts.length === 0 ? null : { ...answer, headline: "Rehearsal" };
    player.finding = state.told;
    player.playing = runs && state.told !== null;
    player.second = now;
  }
  show();
}

// A routine of the file, told at middling times; played from its beginning.
async function tellRoutine(index) {
  const routine = state.news.site.file.routines[index];
  const answer = await post("/rehearse", { ...routine, name: "what is told here" });
  state.rehearsalProblem = answer.result ? answer.what : "";
  state.toldRoutine = answer.result ? null : { ...answer, headline: `“${routine.name}”, one course of many: everybody middling quick` };
  show();
  if (state.toldRoutine) player.play();
}

function describe(site, checked) {
  showRoutines(at("routines").querySelector(".body"), {
    site, report: checked, stale: stale(), refused: state.refused, problem: state.rehearsalProblem, edit, tell: tellRoutine, again: show, write: (edits) => post("/edit", { number: state.news.number, edits }),
    why: (name) => { go("bench"); chooseFinding(checked.findings.findIndex((finding) => finding.routine === name || finding.also.includes(name))); },
  });
}

function rehearse(site) {
  const now = () => Math.floor(player.second);
  const set = (change) => { Object.assign(state, change); show(); };
  showRehearsal(at("acting").querySelector(".body"), {
    site, subject: state.subject, rehearsal: state.rehearsal, who: state.who, told: state.told, now: player.second, problem: state.rehearsalProblem, name: state.rehearsalName,
    choose, setWho: (who) => set({ who }),
    perform: (steps) => retell(actOn(state.rehearsal, state.who, steps, now()), now() + steps[steps.length - 1][0]),
    clock: player.playing ? player.speed : "hold",
    run: (speed) => { if (speed !== "hold") player.setSpeed(speed); if ((speed !== "hold") !== player.playing) player.play(); else show(); },
    pass: (seconds) => { player.second = seconds === "next" ? nextInstant(state.told, player.second) : now() + seconds; show(); },
    begin: (area, mode) => set({ rehearsal: { ...state.rehearsal, starts: { ...state.rehearsal.starts, [area]: mode } } }),
    back: () => { const acts = state.rehearsal.acts.slice(0, -1); retell({ ...state.rehearsal, acts }, acts[acts.length - 1]?.at_s ?? 0); },
    anew: () => retell({ ...state.rehearsal, acts: [] }, 0),
    setName: (name) => { state.rehearsalName = name; },
    keep: async () => {
      const path = `routines[${site.file.routines?.length ?? 0}]`;
      const routine = routineOf(state.rehearsal, state.rehearsalName.trim(), roughly, { says: "Kept from a rehearsal." });
      const answer = await post("/edit", { number: state.news.number, edits: [{ path, value: JSON.stringify(routine) }] });
      if (answer.result === "done") set({ rehearsalProblem: "", rehearsalName: "", changes: `kept: the routine "${routine.name}"` });
      else set({ rehearsalProblem: `It was not kept: ${answer.what}` });
    },
  });
}

function zoneOf(site, test) {
  return site?.schedule?.findIndex((zone) => zone.number === test.zone) ?? -1;
}

// In which room a zone's device hangs, or at whose opening; undefined where nobody wrote that down.
function roomOf(file, zone) {
  const device = file.zones[zone]?.device;
  const door = file.devices?.find((one) => one.name === device)?.on;
  const { places = [], openings = [] } = file.building ?? {};
  return places.find((one) => one.device === device)?.room ?? (door && openings.find((one) => one.door === door)?.room);
}

// Where a test's device is, in words: its room, its storey, and the area it belongs to.
function whereIs(site, test) {
  const index = zoneOf(site, test);
  const storey = site?.drawing?.storeys.find((one) => thingsOf(one).some((group) => group.about === `zones[${index}]`));
  return index < 0 ? "" : [...new Set([roomOf(site.file, index), storey && site.drawing.storeys.length > 1 ? storey.name : "", site.schedule[index].area])].filter(Boolean).join(", ");
}

// The ribbon of the acceptance: signals as they come, beside what is expected. The same course is the same object, so that the line
// of time stays where it was put.
let course = null;
function showCourse() {
  const next = acceptance.course();
  if (JSON.stringify(next) !== JSON.stringify(course)) course = next;
  stage = { finding: null };
  player.load(course);
  showRibbon(at("ribbon-title"), at("ribbon").querySelector(".body"), { ...player, nothing: "Signals show here on the second at which they come.", number: 0, count: 0, turn: () => {} });
}

// Tells the bench what was keyed in (null: only asks), and shows all of it.
async function note(changes) {
  const answer = await (changes ? post("/keyed", changes) : fetch("./keyed").then((got) => got.json()).catch(() => ({ result: "refused", what: "The bench does not answer." })));
  state.keyedProblem = answer.result === "refused" ? answer.what : "";
  if (answer.result !== "refused") state.keyed = answer;
  show();
}

// Once, where there are signals to be spoken of.
let keyedAsked = false;
function askKeyed() {
  if (keyedAsked || acceptance.begun() === null || !state.news) return;
  keyedAsked = true;
  note(null);
}

// Where a drawing takes the left half, zones and findings take turns on the right; else they stand side by side.
function showLeaves(checked) {
  const turns = drawing() !== null;
  const count = checked?.findings.length ?? 0;
  document.body.dataset.drawn = turns ? "yes" : "no";
  put(at("leaves"), [["zones", "Zones"], ["findings", count === 0 ? "Findings" : `Findings, ${count}`]].map(([name, words]) => h("button", {
    type: "button", "data-key": `leaf-${name}`, "aria-pressed": String(state.leaf === name), onclick: () => { state.leaf = name; show(); },
  }, words)));
}

// When the file was written, by the clock of whoever looks.
function savedAt() {
  const at = state.news.saved_s;
  return at > 0 ? `saved ${new Date(at * 1000).toTimeString().slice(0, 5)}` : null;
}

function planOf(site, checked, chosen) {
  const list = drawing()?.layers ?? [];
  editor.on = address().face.name === "bench";
  const tried = site ? editor.drawing(site) : null;
  const layer = list[state.layer % list.length]?.name;
  const near = lens.plan(site, layer);
  return {
    site: near.site, subject: state.subject, lens, editor: editor.on ? editor : null, drawing: tried ?? near.drawing, file: near.site?.file, storey: state.storey, layer, echoes: chosen, wordsOpen: state.words,
    stateOf: (path) => stateOf(checked?.findings ?? [], path, checked?.waived), wordOf: (path) => wordAbout(checked, path), select: choose,
    worst: (paths) => worstOf(checked, paths, past()),
    several: chosenThings(),
    flawed: (checked?.findings ?? []).map((finding, index) => ({ finding, index })).filter(({ finding }) => finding.weight === "fault" && finding.id.startsWith("drawing.")), chooseFinding,
    setStorey: (index) => { state.storey = index; show(); },
    setLayer: (layer) => { state.layer = typeof layer === "number" ? state.layer + layer : list.findIndex((one) => one.name === layer); show(); },
    setWords: (open) => { state.words = open; drawPlan(); },
    stands: state.news?.site?.drawing ? [site.file.site?.name, ...revisions.stands(), savedAt()].filter(Boolean) : null,
    more: editor.on ? () => openHere(document.querySelector(`.plan [data-about="${state.subject}"]`) ?? document.querySelector(".plan")) : null,
    begin: () => { state.sheet = true; show(); editor.tools.room(); },
    leave: state.news?.site?.drawing ? null : () => { state.sheet = false; editor.cancel(); show(); },
  };
}

function showPlan(site, checked, chosen) {
  state.storey = Math.min(state.storey, Math.max(0, (drawing()?.storeys.length ?? 1) - 1));
  const view = planOf(site && plotted(), checked, chosen);
  state.drawn = view.drawing;
  showDrawing(at("drawing-title"), at("drawing").querySelector(".body"), view);
  lens.fitTo(small.matches || !at("guide").hidden ? document.querySelector(".sheet .plan") : null, plotted()?.drawing?.scale);
}

function papers() {
  const others = (drawing()?.storeys ?? []).map((_, storey) => storey).filter((storey) => storey !== state.storey);
  return others.map((storey) => paperOf(planOf(plotted(), report(), new Set()), storey));
}

// What this page can take back and make again.
function ownSteps() {
  return state.news?.steps.find((one) => one.page === WORD) ?? { undo: 0, redo: 0 };
}

function stepSays(which) {
  return ownSteps()[`${which}_says`] || "a change of the file";
}

function showStep(which, word) {
  const any = ownSteps()[which] > 0;
  const left = !any && document.activeElement === at(which);
  at(which).disabled = !any;
  if (left) document.querySelector(".tools button:not(:disabled)").focus();
  put(at(which), word, any ? [h("span", { class: "read" }, ": "), h("span", { class: "step" }, stepSays(which))] : null);
}

function show() {
  if (later(show)) return;
  const checked = report();
  const site = state.news?.site ?? null;
  const rehearsing = address().face.name === "rehearse";
  const describing = address().face.name === "routines";
  const finding = rehearsing ? state.told : describing ? state.toldRoutine : checked?.findings[state.selected] ?? null;
  at("name").textContent = site?.file.site?.name ?? "Lintel";
  at("state").textContent = stateWords();
  at("state").classList.toggle("loud", !state.connected && state.news !== null);
  const changed = [state.stepped, state.changes].filter(Boolean).join(" · ");
  put(at("changes"), showConflict() ?? (changed ? h("span", {}, changed) : null));
  showStep("undo", "Undo");
  showStep("redo", "Redo");
  document.body.classList.toggle("stale", past());
  document.body.dataset.state = checked === null || stale() || state.sending > 0 ? "checking" : whole() ? "checked" : "proven";
  showSentence();
  showProblems();
  const chosen = chosenPaths();
  const act = { ready: state.connected && state.sending === 0 && !stale(), whole: whole(), today: checked?.today, apply, waive, unwaive, file: site?.file };
  const { face, at: where } = address();
  document.body.dataset.face = face.name;
  showLeaves(checked);
  showFaces(face);
  guide(site, checked, face);
  keepAwake(face.name === "keying" || face.name === "acceptance", (words) => { if (words !== state.awake) { state.awake = words; show(); } });
  if (face.name !== "acceptance") acceptance.leave(Object.keys(state.keyed).length > 0);
  if (face.name === "keying") {
    showKeying(at("keying").querySelector(".body"), { lines: site?.lines ?? [], keyed: state.keyed, problem: state.keyedProblem, awake: state.awake, group: where, note, go: (id) => go("keying", id) });
    return;
  }
  if (face.name === "revisions") {
    revisions.showIn(at("revisions").querySelector(".body"), act.ready);
    return;
  }
  if (face.name === "acceptance") {
    acceptance.enter();
    acceptance.show(at("acceptance").querySelector(".body"), { awake: state.awake, where: (test) => whereIs(site, test), sketch: (test) => sketchOf(site?.drawing, `zones[${zoneOf(site, test)}]`) });
    showCourse();
    return;
  }
  showPlan(site, checked, chosen);
  showFindings(at("findings").querySelector(".body"), checked, state.selected, (index) => chooseFinding(index, false), act);
  showSchedule(at("schedule").querySelector(".body"), {
    site, report: checked, selected: state.selected, echoes: chosen, stale: stale(), refused: state.refused, edit, editAll, choose, chooseFinding, act, several: chosenThings(), chooseSeveral,
  });
  if (rehearsing && site) rehearse(site);
  if (describing && site) describe(site, checked);
  player.load(finding);
  followStory();
  const stories = rehearsing || describing ? [] : checked?.findings.flatMap((one, index) => (one.story.length > 0 ? [index] : [])) ?? [];
  showRibbon(at("ribbon-title"), at("ribbon").querySelector(".body"), {
    ...player, sound, turnSound: () => { sound.turn(); sound.at(player.finding, player.second, player.playing); show(); }, nothing: rehearsing ? "What is acted shows here as it happens." : describing ? "Tell a routine to see it here." : undefined, number: stories.indexOf(state.selected) + 1, count: stories.length,
    turn: (by) => chooseFinding(stories[(stories.indexOf(state.selected) + by + stories.length) % stories.length]),
  });
  stageStory();
  moveStory();
  notePlace();
}

// What is played is seen on the drawing: when it begins, the page goes there, and the ribbon stays under it until another is told.
let played = null;
function followStory() {
  const begins = player.playing && played !== player.finding;
  if (begins || player.finding !== played) played = begins ? player.finding : null;
  document.body.dataset.story = played ? "played" : "told";
  if (begins && drawing() && matchMedia("(min-width: 64.01em)").matches) at("drawing").scrollIntoView({ block: "start" });
}

// People and doors of the chosen story, for the drawing.
let stage = { finding: null };
function stageStory() {
  const site = state.news?.site;
  const finding = player.finding;
  if (!site?.drawing || !finding || finding.bars.length === 0) {
    stage = { finding: null };
    return;
  }
  if (stage.finding === finding && stage.site === site) return;
  const map = mapOf(site.drawing, site.file);
  stage = { finding, site, map, cast: lanesOf(finding).filter((lane) => lane.lane === "person").map((lane) => ({ name: lane.of, way: wayOf(map, lane.bars) })) };
}

// The second moved: the line of time, the words, and who is where.
function moveStory() {
  sound.at(player.finding, player.second, player.playing);
  if (!player.finding) return;
  const line = lineAt(player.finding, player.second);
  if (player.finding === state.told && line !== state.toldLine) {
    state.toldLine = line;
    show();
    return;
  }
  moveTime(at("ribbon").querySelector(".body"), player.finding, player.second);
  const plan = document.querySelector(".plan");
  if (!stage.finding || !plan) return;
  // While it plays, the drawing turns to the storey where the latest act is.
  const storey = player.playing ? busyStorey() : state.storey;
  if (storey !== state.storey) {
    state.storey = storey;
    show();
    return;
  }
  showSecond(plan, state.drawn, state.storey, stage.map, stage.cast, stage.finding.bars, player.second);
}

function busyStorey() {
  const acts = stage.finding.bars.filter((bar) => bar.lane === "person" && bar.from_s <= player.second);
  const latest = acts.reduce((a, b) => (a && a.to_s > b.to_s ? a : b), null);
  const one = stage.cast.find((member) => member.name === latest?.of);
  return (one && positionAt(one.way, player.second)?.storey) ?? state.storey;
}

// signal: stops it, and the bench with it. What a change of the file overtook is asked again, of the file as it then is.
async function ask(path, body, signal) {
  try {
    let answer;
    do answer = await fetch(`.${path}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal }).then((got) => got.json());
    while (answer.result === "overtaken");
    return answer;
  } catch {
    return { result: "refused", what: "The bench does not answer; nothing was written." };
  }
}

// What makes a step goes with this page's word, by which undo knows whose it is; anything else is sent as it is.
const STEPS = new Set(["/edit", "/import", "/undo", "/redo"]);

function withWord(path, body) {
  const says = path === "/edit" ? { says: saidOf(state.news.site?.file ?? {}, body.edits) } : {};
  return STEPS.has(path) ? { ...says, ...body, page: WORD } : body;
}

async function post(path, body) {
  const { number: before } = state.news;
  state.sending += 1;
  show();
  try {
    const answer = await ask(path, withWord(path, body));
    if (answer.result === "done") Object.assign(state, { awaited: before + 1, stepped: "" });
    return answer;
  } finally {
    state.sending -= 1;
  }
}

async function edit(path, value) {
  const answer = await post("/edit", { number: state.news.number, edits: [{ path, value }] });
  state.conflict = answer.result === "conflict" ? { path, value } : null;
  state.refused = answer.result === "done" || state.conflict ? null : { path, what: answer.what };
  show();
}

// What the file says at a path: "zones[2].behaviour".
function valueAt(path) {
  return path.split(/[.[\]]+/).filter(Boolean).reduce((one, key) => one?.[key], state.news.site?.file);
}

// Somebody else wrote first: nothing closes until one of the two is taken, and the rest of the page stays of use.
function showConflict() {
  const { conflict } = state;
  if (!conflict) return null;
  const now = valueAt(conflict.path);
  const end = (then) => { state.conflict = null; then?.(); show(); };
  const subject = subjectOf(conflict.path);
  const of = subject ? `${nameOf(state.news.site?.file ?? {}, subject)}, ${conflict.path.slice(subject.length + 1)}` : conflict.path;
  return h("span", { role: "alert" }, `The file was changed elsewhere meanwhile. ${of}: there ${now === undefined ? "nothing" : String(now)}, yours ${conflict.value ?? "nothing"}. `,
    h("button", { type: "button", class: "act", "data-key": "keep-mine", onclick: () => end(() => edit(conflict.path, conflict.value)) }, "Keep mine"), " ",
    h("button", { type: "button", class: "act", "data-key": "take-theirs", onclick: () => end() }, "Take theirs"));
}

function guide(site, checked, face) {
  showGuide(at("guide"), { file: face.name === "bench" ? site?.file : null, offers: site?.offers, report: checked, stale: stale(), number: () => state.news.number, again: show, go, drawn: drawing() !== null, editor, inHand: editor.held?.what ?? null, edits: (list) => post("/edit", { number: state.news.number, edits: list }) });
}

// All of them or none; gives why not, or null.
async function editAll(edits) {
  const answer = await post("/edit", { number: state.news.number, edits });
  return answer.result === "done" ? null : answer.what;
}

// Makes the edits of a remedy, all or none: one step of undo.
async function apply(edits) {
  const answer = await post("/edit", { number: state.news.number, edits });
  state.changes = answer.result === "done" ? "" : `Nothing was written: ${answer.what}`;
  show();
}

// Somebody answers for a finding, or no longer: one line of the file, and what became of it has the focus. Gives why not, or "".
async function answerFor(finding, path, value, does) {
  const before = state.news.site.file;
  const answer = await post("/edit", { number: state.news.number, edits: [{ path, value }], says: `${does}: ${finding.headline}`.slice(0, 130) });
  const done = answer.result === "done";
  if (done) state.turned = { before, byKey: false };
  return done ? "" : `Nothing was written: ${answer.what}`;
}

function waive(finding, line) {
  return answerFor(finding, `waived[${state.news.site.file.waived?.length ?? 0}]`, line, "lived with");
}

async function unwaive(path, finding) {
  state.changes = await answerFor(finding, path, null, "no longer lived with");
  show();
}

// What became of a finding whose waiver came or went, once it was checked again.
function showWaiver(path, before) {
  const { file } = state.news.site;
  const gone = { waived: [before.waived?.[Number(/\d+/.exec(path))] ?? {}] };
  const index = report().findings.findIndex((finding) => waiverOf(gone, finding) === 0);
  if (index >= 0) chooseFinding(index, true, false);
  if (reveal(file, index < 0 ? path : report().findings[index].place?.path ?? "")) return;
  Object.assign(state, { leaf: "findings", part: "verdict" });
  show();
  reveal(file, index < 0 ? path : `finding-${index}`);
}

async function step(which, byKey) {
  const says = stepSays(which);
  const before = state.news.site?.file;
  const answer = await post(`/${which}`, {});
  const done = answer.result === "done";
  state.changes = done ? "" : answer.what;
  if (done) Object.assign(state, { stepped: `${which === "undo" ? "taken back" : "made again"}: ${says}`, turned: { before, byKey } });
  show();
  showTurned();
}

// Brings into view what a step has changed, once the file after it is told. Where revisions are brought back it is everything.
function showTurned() {
  const { turned, news } = state;
  if (!turned || news.site?.number !== news.number || news.number < state.awaited) return;
  const path = turned.before && firstDifference(turned.before, news.site.file);
  const waiver = /^waived\b/.test(path ?? "");
  if (waiver && stale()) return;
  state.turned = null;
  if (!path || address().face.name === "revisions") return;
  if (address().face.name !== faceOf(path)) go(faceOf(path));
  if (waiver) return showWaiver(/\d/.test(path) ? path : "waived[0]", turned.before);
  state.part = partOf(path) ?? state.part;
  show();
  const subject = subjectOf(path);
  if (subject && !/^(links|cables)\[/.test(subject)) choose(subject); // these are chosen nowhere: what is chosen stays
  reveal(news.site.file, path, turned.byKey);
}

// The site is sent where it is another than before; what is the same as before stays the same objects, so that what was made of them
// can stay as well.
function joined(news) {
  const { site = state.news?.site ?? null, report, ...rest } = news;
  return { ...rest, site: share(state.news?.site, site), report: report === null ? state.news?.report ?? null : share(state.news?.report, report) };
}

// What an edit made come and go, once its verdicts are there.
function compare(former, checked) {
  const before = new Set(former.findings.map(known));
  const now = new Set(checked.findings.map(known));
  const gone = [...before].filter((one) => !now.has(one)).length;
  const come = [...now].filter((one) => !before.has(one)).length;
  const words = (count) => (count === 1 ? "one finding" : `${number(count)} findings`);
  if (gone + come === 0) return "since the last edit: the same findings";
  return `since the last edit: ${[gone > 0 ? `${words(gone)} gone` : "", come > 0 ? `${gone > 0 ? number(come) : words(come)} new` : ""].filter(Boolean).join(", ")}`;
}

// The storey with the most to choose on it: where one begins.
function busiestStorey(drawn) {
  const counts = drawn.storeys.map((storey) => new Set(thingsOf(storey).map((group) => group.about).filter((about) => about.startsWith("zones"))).size);
  return counts.indexOf(Math.max(...counts));
}

// What was chosen stays so; it may be among what only the whole report tells.
function chooseAgain() {
  if (state.sought === null) return;
  state.selected = report().findings.findIndex((finding) => known(finding) === state.sought);
  if (whole() || state.selected >= 0) state.sought = null;
}

function take(told) {
  const news = joined(told);
  if (!state.news?.site?.drawing && news.site?.drawing) state.storey = busiestStorey(news.site.drawing);
  const chosen = report()?.findings[state.selected];
  if (chosen) state.sought = known(chosen);
  if (state.news?.number !== news.number) revisions.load(); // the first change keeps one by itself
  /* Where zones come or go, the paths of the others are new. */
  if (state.news?.site?.file.zones?.length !== news.site?.file.zones?.length) state.several = [];
  state.news = news;
  if (!stale() && whole()) {
    if (state.former && state.former.number !== news.number) {
      const all = ({ findings }) => findings.map(known).sort().join();
      state.changes = compare(state.former.check, news.report.check);
      editor.judged(all(state.former.check) === all(news.report.check) ? "Verdict unchanged." : `Verdict changed, ${state.changes}.`);
    }
    state.former = { number: news.number, check: news.report.check };
  } else editor.judged("");
  chooseAgain();
  show();
  comeBack();
  showTurned();
}

function listen() {
  const source = new EventSource("./news");
  source.onopen = () => { Object.assign(state, { connected: true, awaited: 0 }); show(); };
  source.onmessage = (event) => {
    const told = () => { state.connected = true; take(JSON.parse(event.data)); };
    if (!later(told)) told();
  };
  source.onerror = () => { state.connected = false; show(); };
}

// What the file was, and the way back to it.
const revisions = makeRevisions({
  ask, again: () => show(),
  bring: async (text) => {
    const answer = await post("/import", { number: state.news.number, text });
    return answer.result === "done" ? null : answer.what;
  },
});

/* Where letters of the drawing may come out too small: on phones and tablets, and where the guide takes room of it. */
const small = matchMedia("(max-width: 64em)");
const layerName = () => drawing()?.layers[state.layer % drawing().layers.length]?.name;

// What the drawing would be with some edits, as closely as one looks at it, with the layer in sight.
function tryOut(edits, signal) {
  return ask("/try", { number: state.news.number, edits, zoom: lens.drawnAs(), layer: layerName() }, signal);
}

const lens = makeLens({ ask: tryOut, site: plotted, layer: layerName, draw: () => (state.news ? drawPlan() : null) });

function drawPlan() {
  showPlan(state.news.site, report(), chosenPaths());
  moveStory();
}

// What is moved on the drawing. While something is in the hand the drawing alone is shown anew.
const editor = makeEditor({
  site: plotted, storey: () => state.storey, isChosen: (path) => chosenPaths().has(path),
  choose: (subject) => { if (subject !== state.subject) choose(subject); },
  ask: (path, body, signal) => (path === "/try" ? tryOut(body.edits, signal) : post(path, body)),
  building: () => layerName() === "building",
  show, draw: drawPlan,
});
editor.attach(at("drawing").querySelector(".body"));
attachGestures(at("drawing").querySelector(".body"), lens, editor);
editor.underlay = makeUnderlay({ site: plotted, storey: () => state.storey, draw: () => editor.redraw() }, () => `${location.pathname} ${state.news.file}`);
editor.underlay.attach(editor);

printAll(at("drawing"), papers, (paper) => {
  lens.paper = paper;
  document.body.toggleAttribute("data-paper", paper);
  put(at("printed"), `${at("state").textContent} · printed ${new Date().toLocaleString("sv").slice(0, 16)}`);
  if (state.news) show();
});

const sound = makeSound();
const acceptance = makeAcceptance({ place: () => `${location.pathname} ${state.news?.file}`, again: () => { askKeyed(); if (state.news) show(); } });
countSlid(at("acceptance").querySelector(".body"));
const player = makePlayer(show, () => { moveStory(); if (!player.playing) noteSoon(); });
window.addEventListener("resize", () => { if (state.news) show(); });
at("undo").addEventListener("click", (event) => step("undo", event.detail === 0));
at("redo").addEventListener("click", (event) => step("redo", event.detail === 0));
document.addEventListener("keydown", (event) => {
  const letter = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || !["z", "y"].includes(letter)) return;
  if (event.target.matches("input[type=text], textarea") && event.target.value !== event.target.defaultValue) return; // the browser takes typing back
  event.preventDefault();
  step(event.shiftKey || letter === "y" ? "redo" : "undo", true);
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "s") return;
  event.preventDefault(); // what is written is saved already: it is given a name
  go("revisions");
  at("revisions").querySelector("input")?.focus();
});
window.addEventListener("hashchange", () => { placeInAddress(); if (state.news) show(); comeBack(); });
placeInAddress();
bring({
  button: at("import"), place: at("brought"), send: (name, text) => post("/import", { number: state.news.number, text, says: `${name} brought in` }),
  done: (answer, name) => { state.changes = `brought in: ${name}; Undo brings back what was here`; show(); },
});
attachFind({
  place: at("finding"), button: at("find"), file: () => state.news?.site?.file ?? {},
  pick: (path) => {
    if (address().face.name !== faceOf(path)) go(faceOf(path));
    state.part = partOf(path) ?? state.part;
    choose(path);
    reveal(state.news.site.file, path, true);
  },
});
const openHere = attachHere(() => ({ editor, subject: state.subject, storeys: drawing()?.storeys.length ?? 0, zoom: lens.zoom, playing: player.playing }));
whenSeen(() => { if (state.news) show(); });
for (const link of document.querySelectorAll(".skip")) link.addEventListener("click", () => { if (narrow.matches) turnTo(partWith(link.hash.slice(1))); });
at("help").addEventListener("click", () => { state.part = "drawing"; setStep(stepOf(location.search) ? null : standing(state.news?.site?.file ?? {})); go("bench"); show(); at("guide").focus(); });
attachKeys({
  parts: shownParts, sentence: () => at("sentence"), chosen: () => chosenThings().length > 0 || state.selected >= 0, letGo: () => choose(null),
  turn: (by) => { const count = report()?.findings.length ?? 0; if (count > 0) chooseFinding(after(count, state.selected, by)); },
});
at("all").hidden = location.pathname === "/";
address().face.enter?.();
listen();
