// The zone table, edited in place. A cell writes one value of the site file; what is wrong with it is told where it stands.
import { h, put } from "./dom.js";
import { detail } from "./findings.js";
import { ring } from "./rings.js";
import { says, stateOf, subjectOf } from "./subjects.js";
import { term } from "./terms.js";

// Whether a finding is about this zone.
export function concerns(finding, index) {
  return subjectOf(finding?.place?.path) === `zones[${index}]`;
}

// The delay that a zone has in every mode, or "various".
export function delayOf(zone) {
  const names = new Set(typeof zone.delay === "object" && zone.delay !== null ? Object.values(zone.delay) : [zone.delay]);
  return names.size === 1 ? [...names][0] : "various";
}

function choice(zone, index, key, values, edit) {
  const value = zone[key] ?? "";
  const list = values.includes(value) || value === "" ? values : [value, ...values];
  return h("select", {
    "aria-label": `${key} of zone ${zone.number}`, "data-key": `zone-${index}-${key}`,
    onchange: (event) => edit(`zones[${index}].${key}`, event.target.value),
  }, list.map((name) => h("option", { value: name, selected: name === value }, name)));
}

function yes(zone, index, key, edit) {
  const is = zone[key] === true || zone[key] === "yes";
  return h("button", {
    type: "button", role: "switch", class: "yes", "aria-checked": String(is), "aria-label": `${key}, zone ${zone.number}`, "data-key": `zone-${index}-${key}`,
    onclick: () => edit(`zones[${index}].${key}`, is ? "no" : "yes"),
  }, is ? "yes" : "no");
}

function delayCell(zone, index, site, edit) {
  const delays = site.file.panel?.["entry-delays"] ?? {};
  if (zone.behaviour !== "entry" || Object.keys(delays).length === 0) return "—";
  const chosen = delayOf(zone);
  return [choice({ ...zone, delay: chosen }, index, "delay", Object.keys(delays), edit), delays[chosen] ? h("span", { class: "soft amount" }, ` ${delays[chosen]}`) : null];
}

// In which modes a zone is watched: those in which it behaves somehow.
export function liveIn(zone) {
  const modes = Object.keys(zone.in ?? {}).filter((mode) => zone.in[mode] !== "off");
  return modes.length > 0 ? modes.join(" + ") : "always";
}

const COLUMNS = [
  { name: "area", term: "area", fold: "few", only: (site) => (site.file.areas ?? []).length > 1, cell: ({ zone }) => zone.area ?? "—" },
  { name: "spoken name", class: "says", cell: ({ zone }) => says(zone) },
  { name: "device", fold: "some", cell: ({ zone }) => zone.device ?? "—" },
  { name: "behaviour", term: "behaviour", class: "behaves", cell: ({ zone, index, view }) => choice(zone, index, "behaviour", view.site.offers.behaviours, view.edit) },
  { name: "delay", term: "entry delay", cell: ({ zone, index, view }) => delayCell(zone, index, view.site, view.edit) },
  { name: "live in", term: "mode", fold: "many", cell: ({ zone }) => liveIn(zone) },
  { name: "reports", term: "reports", cell: ({ zone, index, view }) => yes(zone, index, "reports", view.edit) },
  { name: "chime", term: "chime", cell: ({ zone, index, view }) => yes(zone, index, "chime", view.edit) },
  { name: "supervised", term: "supervision", cell: ({ zone, index, view }) => yes(zone, index, "supervised", view.edit) },
];

function columnsOf(site) {
  return COLUMNS.filter((column) => column.only === undefined || column.only(site));
}

// The ring of a zone; where something is wrong, it leads to the worst finding about it.
function verdict(view, state, index) {
  if (state === "holds" || !view.report) return ring(state, state === "holds");
  const worst = view.report.findings.findIndex((finding) => concerns(finding, index) && finding.weight === state);
  return h("button", { type: "button", "data-key": `verdict-${index}`, onclick: () => view.chooseFinding(worst) }, ring(state));
}

// What is wrong with a zone, in the row below it: one finding, and the way to the others.
function explained(view, index) {
  const about = view.report.findings.map((finding, number) => ({ finding, number })).filter(({ finding }) => concerns(finding, index));
  const at = about.findIndex(({ number }) => number === view.selected);
  if (at < 0) return null;
  const { finding } = about[at];
  const turn = (name, to) => h("button", { type: "button", "data-key": name, "aria-label": `${name} finding of this zone`, onclick: () => view.chooseFinding(about[(to + about.length) % about.length].number) },
    name === "previous" ? "‹" : "›");
  return h("div", { class: finding.weight === "fault" ? "explained wrong" : "explained" },
    h("p", { class: "headline" }, finding.headline, about.length > 1 ? h("span", { class: "turns soft" }, ` ${at + 1} of ${about.length} `, turn("previous", at - 1), turn("next", at + 1)) : null),
    detail(finding, view.act));
}

function row(view, index) {
  const zone = view.site.file.zones[index];
  const columns = columnsOf(view.site);
  const subject = `zones[${index}]`;
  const state = view.report ? stateOf(view.report.findings, subject) : "unknown";
  const chosen = view.echoes.has(subject);
  const wrong = view.refused?.path.startsWith(`${subject}.`) ? view.refused : null;
  const told = chosen && view.report ? explained(view, index) : null;
  return [
    h("tr", { class: chosen ? "selected" : null },
      h("th", { scope: "row" }, h("button", { type: "button", class: "number", "data-key": subject, "aria-pressed": String(chosen), "aria-label": `zone ${zone.number}, ${says(zone)}`,
        onclick: () => view.choose(chosen ? null : subject) }, String(zone.number))),
      columns.map((column) => h("td", { class: [column.class, column.fold].filter(Boolean).join(" ") || null }, column.cell({ zone, index, view }))),
      h("td", { class: view.stale ? "verdict stale" : "verdict" }, verdict(view, state, index))),
    wrong ? h("tr", { class: "refused" }, h("td", { colspan: columns.length + 2, role: "alert" }, `${wrong.path} stays as it was: ${wrong.what}`)) : null,
    told ? h("tr", { class: "told selected" }, h("td", { colspan: columns.length + 2 }, told)) : null,
  ];
}

// view: site, report (each or null), selected (number of the finding), echoes (paths that are chosen), stale, refused (the last
// edit that was); edit, choose, chooseFinding, act (as findings.js has it).
export function showSchedule(body, view) {
  const { site } = view;
  if (!site) return put(body, h("p", { class: "soft" }, "The site file cannot be read yet."));
  const zones = site.file.zones ?? [];
  if (zones.length === 0) return put(body, h("p", { class: "soft" }, "No zone yet."));
  return put(body,
    h("p", { class: "soft" }, `${site.file.panel?.profile ?? "no panel"} · ${zones.length} of ${site.offers.zones} zones used`),
    h("div", { class: "scroll" }, h("table", {},
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, term("no.", "zone")),
        columnsOf(site).map((column) => h("th", { scope: "col", class: column.fold ?? null }, column.term ? term(column.name, column.term) : column.name)), h("th", { scope: "col" }, "verdict"))),
      h("tbody", {}, zones.map((_, index) => row(view, index))))));
}
