// The sites of a folder, and the blank page: four questions that make a site file, three examples. What is typed stays here
// until it is sent; nothing is kept in the browser.
import { bring } from "./bring.js";
import { h, put } from "./dom.js";
import { ring } from "./rings.js";
import { clauses, text } from "./sentence.js";

const at = (id) => document.getElementById(id);
const state = { folder: "", sites: null, panels: [], standards: [], sought: "", told: "", who: { adults: 2, children: 0, pets: 0, others: 0 } };

export async function ask(path, body) {
  try {
    const answer = await fetch(path, body === undefined ? {} : { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    return answer.headers.get("Content-Type") === "application/json" ? await answer.json() : { result: "refused", what: (await answer.text()).trim() };
  } catch {
    return { result: "refused", what: "The bench does not answer; nothing was written." };
  }
}

function go(file, step) {
  location.assign(`/site/${encodeURIComponent(file)}/${step ? `?step=${step}` : ""}`);
}

// ---- the list

// "fault", "risk" or "holds": the worst that is known of a site; "unknown": nothing yet.
export function worst(site) {
  if (!site.checked) return "unknown";
  if (!site.report) return "fault";
  const weights = site.report.findings.map((finding) => finding.weight);
  const verdicts = site.report.routines.map((routine) => routine.verdict);
  if (weights.includes("fault") || verdicts.includes("goes wrong")) return "fault";
  return weights.includes("risk") || verdicts.includes("not settled") ? "risk" : "holds";
}

export function sentence(site) {
  if (!site.checked) return "Checking.";
  if (site.problems > 0) return site.problems === 1 ? "It cannot be read: one problem." : `It cannot be read: ${site.problems} problems.`;
  return site.report ? text(clauses({ ...site.report, findings: site.report.findings.map((one) => ({ ...one, also: [] })) }, false, site.drawn)) : "It could not be checked.";
}

// Whether a site has every word of what is sought, anywhere in what is shown of it.
export function fits(site, sought) {
  const shown = [site.file, site.name, site.panel, sentence(site), site.due?.day, site.due?.says].join(" ").toLowerCase();
  return sought.toLowerCase().split(/\s+/).every((word) => shown.includes(word));
}

function row(site) {
  return h("li", { class: "site" },
    h("a", { class: "open", href: `/site/${encodeURIComponent(site.file)}/`, "data-key": site.file }, site.name || site.file),
    h("p", { class: "says" }, ring(worst(site), true), h("span", {}, sentence(site))),
    h("p", { class: "soft" }, site.due ? [h("b", {}, site.due.day), ` ${site.due.says}`] : "nothing falls due"),
    h("p", { class: "soft" }, [site.file, site.panel, site.zones === undefined ? null : site.zones === 1 ? "1 zone" : `${site.zones} zones`].filter(Boolean).join(" · ")));
}

function rows() {
  const shown = state.sites.filter((site) => fits(site, state.sought.trim()));
  return shown.length > 0 ? h("ol", { class: "rows" }, shown.map(row)) : h("p", { class: "soft" }, `No site has “${state.sought.trim()}”.`);
}

function showList() {
  const sites = state.sites ?? [];
  const list = at("list");
  list.hidden = sites.length === 0;
  at("state").textContent = state.told || (state.sites === null ? "reading" : "");
  document.title = state.folder ? `Sites · ${state.folder}` : "Sites";
  document.body.dataset.state = state.sites !== null && sites.every((site) => site.checked) ? "checked" : "checking";
  if (list.hidden) return;
  at("list-title").textContent = sites.length === 1 ? "One site" : `${sites.length} sites`;
  const body = list.querySelector(".body");
  if (!body.firstChild) {
    put(body, h("label", { class: "seek" }, "find ", h("input", { type: "search", "data-key": "seek", "aria-label": "find a site", oninput: (event) => { state.sought = event.target.value; put(body.lastChild, rows()); } })), h("div", {}));
  }
  put(body.lastChild, rows());
}

async function look() {
  const answer = await ask("/sites");
  state.told = answer.result ? answer.what : "";
  if (!answer.result) Object.assign(state, answer);
  showList();
  setTimeout(look, document.body.dataset.state === "checked" ? 5000 : 500);
}

// ---- a new site

const KINDS = [["adults", "adults", "adult"], ["children", "children home alone", "child"], ["pets", "pets", "pet"], ["others", "cleaner, lodger, staff", "of them"]];

function stepper([key, words, one]) {
  const shown = h("output", { class: "count", "aria-label": words }, String(state.who[key]));
  const step = (by) => { state.who[key] = Math.min(9, Math.max(0, state.who[key] + by)); shown.textContent = String(state.who[key]); };
  return h("div", { class: "stepper" }, h("span", {}, words),
    h("button", { type: "button", class: "act", "aria-label": `one ${one} fewer`, onclick: () => step(-1) }, "−"), shown,
    h("button", { type: "button", class: "act", "aria-label": `one ${one} more`, onclick: () => step(1) }, "+"));
}

function panelChoice(panel) {
  const wired = panel.wired === 0 ? "none of them wired" : panel.wired === panel.zones ? "all may be wired" : `${panel.wired} of them wired`;
  return h("label", { class: "choice" }, h("input", { type: "radio", name: "panel", value: panel.name }), h("span", {}, h("b", {}, panel.name),
    ` · ${panel.zones} zones, ${wired} · ${panel.areas === 1 ? "1 area" : `${panel.areas} areas`}`, h("span", { class: "soft" }, ` · ${panel.says}`)));
}

// "9" and "7" are 9 x 7 m; who types units is taken at his word: "29 ft 6 in". "": not both are said.
export function ground(width, depth) {
  const measure = (typed) => { const one = typed.trim().replace(",", "."); return /^\d+(\.\d+)?$/.test(one) ? { number: one } : { words: one }; };
  const sides = [measure(width), measure(depth)];
  if (sides.some((side) => side.words === "")) return "";
  return sides.every((side) => side.number) ? `${sides[0].number} x ${sides[1].number} m` : sides.map((side) => side.words ?? `${side.number} m`).join(" x ");
}

async function begin(form) {
  const value = (name) => form.elements[name].value;
  const refusal = form.querySelector(".refusal");
  const size = ground(value("width"), value("depth"));
  const half = size === "" && (value("width") + value("depth")).trim() !== "";
  if (half) {
    refusal.textContent = "The ground floor has two measures; type both, or neither.";
    return;
  }
  const answer = await ask("/new", { name: value("name").trim(), panel: form.elements.panel.value, standard: value("standard"), ground: size, ...state.who });
  refusal.textContent = answer.result === "done" ? "" : `Not begun yet: ${answer.what}`;
  if (answer.result === "done") go(answer.file, "rooms");
}

function showBegin() {
  put(at("begin").querySelector(".body"), h("form", { class: "questions", autocomplete: "off", onsubmit: (event) => { event.preventDefault(); begin(event.target); } },
    h("p", { class: "soft" }, "Four questions, then you draw. Everything can be changed later."),
    h("label", { class: "question" }, h("span", {}, h("b", {}, "1"), " What is the place called?"), h("input", { type: "text", name: "name", maxlength: 60, "data-key": "name" }),
      h("span", { class: "soft" }, "Printed on the papers. It need not name a person.")),
    h("fieldset", { class: "question" }, h("legend", {}, h("b", {}, "2"), " Which control panel?"), state.panels.map(panelChoice),
      h("label", { class: "choice" }, h("input", { type: "radio", name: "panel", value: "" }), h("span", {}, "Not chosen yet", h("span", { class: "soft" }, ": halyard-28 stands in for it, an invented panel with wide ranges"))),
      h("details", {}, h("summary", {}, "Mine is not listed"), h("p", { class: "soft" }, "Write down once from its manual what it can do, as panels/NAME.yaml in this folder; docs/profiles.md says how. It is then offered here."))),
    h("fieldset", { class: "question" }, h("legend", {}, h("b", {}, "3"), " How large is the ground floor, inside, wall to wall?"),
      h("span", { class: "measures" }, h("input", { type: "text", name: "width", size: 6, inputmode: "decimal", "aria-label": "to the right" }), " × ", h("input", { type: "text", name: "depth", size: 6, inputmode: "decimal", "aria-label": "to the back" }), " m"),
      h("span", { class: "soft" }, "To the right × to the back, as you stand before the front door. Empty: no drawing for now.")),
    h("fieldset", { class: "question" }, h("legend", {}, h("b", {}, "4"), " Who comes and goes?"), h("div", { class: "who" }, KINDS.map(stepper))),
    h("p", {}, h("label", {}, "Checked against: house practice, ", h("select", { name: "standard", "data-key": "standard" }, h("option", { value: "" }, "and no standard yet"), state.standards.map((one) => h("option", { value: one.name }, `and ${one.says.replace(/, as far as .*/, "")}`)))),
      h("span", { class: "soft" }, " as far as a file of this kind states it; the local code comes first")),
    h("p", { class: "refusal", role: "alert" }),
    h("button", { type: "submit", class: "act first" }, "Start drawing")));
}

// ---- examples

const EXAMPLES = [
  { name: "Quayside bakery", says: "a shop with a flat above; staff at five in the morning", file: "quayside" },
  { name: "Terraced house", says: "a couple, a child who comes home alone, a lodger, a cat", file: "ropewalk" },
  { name: "Small surgery", says: "a practice with medicines to guard, and cleaners at night", file: "surgery" },
];

async function openExample(file) {
  const answer = await ask("/example", { name: file });
  if (answer.result === "done") go(answer.file);
  else at("examples").querySelector(".refusal").textContent = answer.what;
}

function showExamples() {
  const button = (file, words) => h("button", { type: "button", class: "link", "data-key": file, onclick: () => openExample(file) }, words);
  put(at("examples").querySelector(".body"), h("p", { class: "soft" }, "All are invented. A copy is put into this folder."),
    h("ul", { class: "offers" }, EXAMPLES.map((one) => h("li", {}, h("h3", {}, one.name), h("p", { class: "soft" }, one.says),
      h("p", { class: "pair" }, button(`${one.file}-as-found`, "as found, with mistakes"), button(one.file, "as it should be"))))),
    h("p", { class: "refusal", role: "alert" }), h("h3", {}, "Or bring a site file"), h("p", { class: "soft" }, "Choose it, or drop it anywhere on this page. It is copied into this folder."),
    h("p", {}, h("button", { type: "button", class: "link", id: "import" }, "Choose a file")));
  bring({ button: at("import"), place: at("brought"), keeps: true, send: (file, text, keep) => ask("/import", { file, text, keep }), done: (answer) => go(answer.file) });
}

if (typeof document !== "undefined") {
  showExamples();
  const [panels, standards] = await Promise.all([ask("/panels"), ask("/standards")]);
  state.panels = Array.isArray(panels) ? panels : [];
  state.standards = Array.isArray(standards) ? standards : [];
  showBegin();
  look();
}
