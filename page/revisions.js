// Revisions: what the site was at points to which somebody gave a name; what got better and what got worse since, and the
// way back.
import { h, put } from "./dom.js";
import { ring } from "./rings.js";
import { number } from "./sentence.js";

const STATE = { fault: "fault", risk: "risk" };

function count(list, one, several) {
  return list.length === 0 ? `no ${several}` : list.length === 1 ? `one ${one}` : `${number(list.length)} ${several}`;
}

const some = (list) => (list.length === 0 ? "nothing" : number(list.length));

// What a routine was and is, where that differs: better, worse, or only otherwise.
const RANK = { "goes well": 0, "not settled": 1, "goes wrong": 2 };
export function turned(routine) {
  const before = RANK[routine.before?.verdict];
  const now = RANK[routine.now?.verdict];
  return before === undefined || now === undefined ? "other" : now < before ? "better" : now > before ? "worse" : "other";
}

// The differences in three lists; what was waived or never weighed anything is no gain and no loss by itself.
export function sorted(against) {
  const routines = against.routines.filter((routine) => !routine.as_before);
  const of = (way) => routines.filter((routine) => turned(routine) === way);
  return {
    better: [...against.gone.map((finding) => ({ finding, gone: true })), ...of("better").map((routine) => ({ routine }))],
    worse: [...against.new.map((finding) => ({ finding })), ...of("worse").map((routine) => ({ routine }))],
    other: [...against.changed.map((pair) => ({ finding: pair.now, before: pair.before })), ...of("other").filter((routine) => stateWords(routine.now) !== stateWords(routine.before)).map((routine) => ({ routine }))],
  };
}

function stateWords(state) {
  if (!state) return "not there";
  return state.to_spare_s === null ? state.verdict : `${state.verdict}, ${state.to_spare_s} s to spare`;
}

function line(entry) {
  const { finding, routine, before, gone } = entry;
  if (routine) return h("li", {}, h("span", {}, h("b", {}, `“${routine.name}”`), ` ${stateWords(routine.now)}`, h("span", { class: "soft" }, `, was: ${stateWords(routine.before)}`)));
  if (gone) return h("li", {}, h("span", {}, h("span", { class: "soft" }, "no longer: "), finding.headline));
  const mark = STATE[finding.weight] ? ring(STATE[finding.weight]) : h("span", { class: "ring note" }, h("span", { class: "word" }, "note"));
  return h("li", { class: "weighed" }, mark, h("span", {}, finding.headline, before && before.headline !== finding.headline ? h("span", { class: "soft" }, `, was: ${before.headline}`) : null));
}

function part(title, entries) {
  return entries.length === 0 ? null : [h("h3", {}, title), h("ul", { class: "differences" }, entries.map(line))];
}

function difference(against, name) {
  const lists = sorted(against);
  const none = lists.better.length + lists.worse.length + lists.other.length === 0;
  return h("div", { class: "compared", role: "region", "aria-label": `since ${name}`, tabindex: "-1", "data-key": "compared" },
    h("p", { role: "status" }, none ? `Since “${name}” nothing that is checked has changed.` : `Since “${name}”: ${some(lists.better)} better, ${some(lists.worse)} worse.`),
    part("Better", lists.better), part("Worse", lists.worse), part("Otherwise", lists.other),
    h("p", { class: "soft" }, `${count({ length: against.as_before }, "finding", "findings")} as before; both are checked as of today.`));
}

// ask(path, body): of the bench. bring(text): the file anew, as one step of undo; gives why not, or null. again: shows
// the page anew. body(): where it stands.
export function makeRevisions({ ask, bring, again }) {
  const own = { list: null, problem: "", name: "", busy: null, told: null, said: "" };
  const refused = (answer) => (answer.result === "refused" ? answer.what : "");

  async function load() {
    const answer = await fetch("./revisions").then((got) => got.json()).catch(() => ({ result: "refused", what: "The bench does not answer." }));
    own.problem = refused(answer);
    own.list = answer.revisions ?? own.list ?? [];
    again();
  }
  async function keep() {
    const answer = await ask("/revise", { name: own.name });
    own.problem = refused(answer);
    if (answer.revisions) Object.assign(own, { list: answer.revisions, said: `Kept: “${own.name.trim()}”.`, name: "" });
    again();
  }
  async function about(path, revision, then) {
    Object.assign(own, { busy: revision.id, problem: "", said: "" });
    again();
    const answer = await ask(path, { revision: revision.id });
    own.busy = null;
    own.problem = refused(answer);
    if (!own.problem) await then(answer);
    again();
  }
  const compare = (revision) => about("/compare", revision, (answer) => { own.told = { id: revision.id, name: revision.name, against: answer.against }; });
  const back = (revision) => about("/revision", revision, async (answer) => {
    const why = await bring(answer.text);
    if (why) own.problem = why;
    else Object.assign(own, { said: `The site is as it was at “${revision.name}”. Undo takes that back.`, told: null });
  });

  function row(revision, ready) {
    const busy = own.busy !== null || !ready;
    return h("li", {}, h("span", { class: "kept" }, h("b", {}, revision.name), h("span", { class: "soft" }, `${revision.day}, ${revision.time}`)),
      h("span", { class: "acts" },
        h("button", { type: "button", class: "act", disabled: busy, "data-key": `compare-${revision.id}`, "aria-label": `Compare with ${revision.name}`, onclick: () => compare(revision) }, own.busy === revision.id ? "checking" : "Compare"),
        h("button", { type: "button", class: "act", disabled: busy, "data-key": `back-${revision.id}`, "aria-label": `Bring back ${revision.name}`, onclick: () => back(revision) }, "Bring back")),
      own.told?.id === revision.id ? difference(own.told.against, revision.name) : null);
  }

  // ready: the bench answers and nothing is being written.
  function showIn(body, ready) {
    const name = h("input", { type: "text", maxlength: 80, "data-key": "revision-name", value: own.name, "aria-label": "name of the revision", placeholder: "as handed over", oninput: (event) => { own.name = event.target.value; } });
    return put(body,
      h("form", { class: "keep", onsubmit: (event) => { event.preventDefault(); keep(); } }, h("label", {}, "Keep the site as it is now, as ", name), h("button", { type: "submit", class: "act", disabled: !ready }, "Keep")),
      own.problem ? h("p", { class: "caution", role: "alert" }, own.problem) : null,
      own.said ? h("p", { role: "status" }, own.said) : null,
      own.list === null ? h("p", { class: "soft" }, "reading") : own.list.length === 0
        ? h("p", { class: "soft" }, "None is kept yet. The first is kept by itself, before the first change.")
        : h("ol", { class: "revisions" }, own.list.map((revision) => row(revision, ready))));
  }
  // How the site stands, for the foot of its sheet: as it was found, and how many revisions since are kept.
  const stands = () => {
    const list = own.list ?? [];
    const first = list.find((one) => one.name === "as found");
    return own.list === null ? [] : [first ? `as found ${first.day}` : "as found, unchanged", list.length > 0 ? `revision ${list.length}` : null];
  };
  return { load, showIn, stands };
}
