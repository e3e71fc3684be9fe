// The bench: one state, shown whole after each change of it. What the server sends is about a numbered edit; what is about
// an older one is shown in the past tense.
import { h, put } from "./dom.js";
import { clauses, text } from "./sentence.js";
import { showFindings } from "./findings.js";
import { showRibbon } from "./ribbon.js";
import { showSchedule } from "./schedule.js";

const state = { news: null, connected: false, sending: 0, selected: -1, refused: null, former: null, changes: "" };
const at = (id) => document.getElementById(id);

function report() {
  return state.news?.report?.check ?? null;
}

function stale() {
  return state.news !== null && (state.news.report === null || state.news.report.number !== state.news.number);
}

// A finding is known by these two, whatever number it has in the list.
function known(finding) {
  return `${finding.id} ${finding.about}`;
}

function select(index) {
  state.selected = index;
  show();
}

function showSentence() {
  const checked = report();
  if (!checked) return put(at("sentence"), state.news?.problems.length ? "The site file cannot be read." : "Checking for the first time.");
  const list = clauses(checked, stale());
  const pressed = (clause) => {
    const names = new Set((clause.routines ?? []).map((routine) => routine.name));
    const index = checked.findings.findIndex((finding) => clause.findings?.includes(finding) ||
      (!clause.good && (names.has(finding.routine) || finding.also.some((name) => names.has(name)))));
    select(index);
  };
  document.title = `${text(list)} ${state.news.site?.file.site?.name ?? ""}`.trim();
  return put(at("sentence"), list.map((clause, i) => [
    i === 0 ? "" : clause.sentence ? ". " : clause.before ?? ", ",
    h("button", { type: "button", class: clause.good ? "clause" : "clause wrong", "data-key": `clause-${i}`, onclick: () => pressed(clause) }, clause.text)]), ".");
}

function stateWords() {
  if (!state.connected) return "The bench does not answer. What is shown is from before.";
  if (state.sending > 0) return "writing";
  if (state.news === null) return "reading";
  if (state.news.problems.length > 0) return "The file cannot be read as it is; what is shown is from before.";
  return stale() ? "checking" : `${state.news.file} · checked`;
}

function showProblems() {
  const problems = state.news?.problems ?? [];
  const section = at("problems");
  section.hidden = problems.length === 0;
  put(section, h("h2", {}, "The site file cannot be read as it is"), h("ul", {}, problems.map((problem) => h("li", {},
    problem.line ? h("b", {}, `line ${problem.line}, column ${problem.column}: `) : null, problem.path ? `${problem.path}: ` : "", problem.what))));
}

function show() {
  const checked = report();
  const site = state.news?.site ?? null;
  const finding = checked?.findings[state.selected] ?? null;
  at("name").textContent = site?.file.site?.name ?? "Lintel";
  at("state").textContent = stateWords();
  at("changes").textContent = state.changes;
  at("undo").disabled = !(state.news?.undo > 0);
  at("redo").disabled = !(state.news?.redo > 0);
  document.body.classList.toggle("stale", stale());
  document.body.dataset.state = checked === null || stale() || state.sending > 0 ? "checking" : "checked";
  showSentence();
  showProblems();
  showFindings(at("findings").querySelector(".body"), checked, state.selected, select);
  showSchedule(at("schedule").querySelector(".body"), { site, report: checked, finding, stale: stale(), refused: state.refused, edit, select });
  showRibbon(at("ribbon-title"), at("ribbon").querySelector(".body"), finding);
}

async function post(path, body) {
  state.sending += 1;
  show();
  try {
    const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    return await answer.json();
  } catch {
    return { result: "refused", what: "The bench does not answer; nothing was written." };
  } finally {
    state.sending -= 1;
  }
}

async function edit(path, value) {
  const answer = await post("/edit", { number: state.news.number, edits: [{ path, value }] });
  state.refused = answer.result === "done" ? null : { path, what: answer.what };
  show();
}

async function step(path) {
  const answer = await post(path, {});
  state.changes = answer.result === "done" ? "" : answer.what;
  show();
}

// What an edit made come and go, once its verdicts are there.
function compare(former, checked) {
  const before = new Set(former.findings.map(known));
  const now = new Set(checked.findings.map(known));
  const gone = [...before].filter((one) => !now.has(one)).length;
  const come = [...now].filter((one) => !before.has(one)).length;
  const words = (count) => `${count} finding${count === 1 ? "" : "s"}`;
  return gone + come === 0 ? "" : `since the last edit: ${words(gone)} gone, ${come} new`;
}

function take(news) {
  const chosen = report()?.findings[state.selected];
  const fresh = news.report !== null && news.report.number === news.number;
  state.news = news.report === null && state.news?.report ? { ...news, report: state.news.report } : news;
  if (fresh) {
    if (state.former && state.former.number !== news.number) state.changes = compare(state.former.check, news.report.check);
    state.former = { number: news.number, check: news.report.check };
  }
  state.selected = chosen ? report().findings.findIndex((finding) => known(finding) === known(chosen)) : state.selected;
  show();
}

function listen() {
  const source = new EventSource("/news");
  source.onopen = () => { state.connected = true; show(); };
  source.onmessage = (event) => { state.connected = true; take(JSON.parse(event.data)); };
  source.onerror = () => { state.connected = false; show(); };
}

at("undo").addEventListener("click", () => step("/undo"));
at("redo").addEventListener("click", () => step("/redo"));
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || event.target.matches("input[type=text], textarea")) return;
  event.preventDefault();
  step(event.shiftKey ? "/redo" : "/undo");
});
listen();
