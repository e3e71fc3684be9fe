// The zone table, edited in place. A cell writes one value of the site file; what is wrong with it is told where it stands.
import { carriedLine } from "./carried.js";
import { waivedWord } from "./days.js";
import { h, makeKeeper, put } from "./dom.js";
import { detail } from "./findings.js";
import { gridKeys, oneStop, remember } from "./grid.js";
import { measuredFields } from "./measured.js";
import { delayOf, fillEdits, isYes, KEYS, tableOf as copied, valueOf } from "./cells.js";
import { pressed, severalBar, zonesOf } from "./several.js";
import { changesOf, twins } from "./paste.js";
import { ring } from "./rings.js";
import { says, stateOf, subjectOf, waivedAs, weightOf, wordAbout } from "./subjects.js";
import { term } from "./terms.js";
import { answered } from "./waive.js";

const NOTHING = "—";

export { delayOf };

// Whether a finding is about this zone.
export function concerns(finding, index) {
  return subjectOf(finding?.place?.path) === `zones[${index}]`;
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
  const is = isYes(zone, key);
  return h("button", {
    type: "button", role: "switch", class: "yes", "aria-checked": String(is), "aria-label": `${key}, zone ${zone.number}`, "data-key": `zone-${index}-${key}`,
    onclick: () => edit(`zones[${index}].${key}`, is ? "no" : "yes"),
  }, is ? "yes" : "no");
}

function delayCell(zone, index, site, edit) {
  const delays = site.file.panel?.["entry-delays"] ?? {};
  if (zone.behaviour !== "entry" || Object.keys(delays).length === 0) return NOTHING;
  const chosen = delayOf(zone);
  return [choice({ ...zone, delay: chosen }, index, "delay", Object.keys(delays), edit), delays[chosen] ? h("span", { class: "soft amount" }, ` ${delays[chosen]}`) : null];
}

// In which modes a zone is watched: those in which it behaves somehow.
export function liveIn(zone) {
  const modes = Object.keys(zone.in ?? {}).filter((mode) => zone.in[mode] !== "off");
  return modes.length > 0 ? modes.join(" + ") : "always";
}

// What stands here and nowhere else: which columns are shown, what is being typed, the table that is being pasted; from: the row
// from which a range is chosen, adding: a press adds to what is chosen, unwritten: why an edit of several cells was not written.
const own = { devices: false, typing: null, table: "", open: false, wrong: "", making: false, from: -1, adding: false, unwritten: "" };

function deviceOf(file, zone) {
  return (file.devices ?? []).findIndex((device) => device.name === zone.device);
}

// Told while it is typed, before it is written: the same number twice is a slip of the pen, or two devices in one place.
function serialCell({ zone, index, view }) {
  const { file } = view.site;
  const device = deviceOf(file, zone);
  if (device < 0) return NOTHING;
  const key = `zone-${index}-serial`;
  const typed = own.typing?.key === key ? own.typing.value : file.devices[device].serial ?? "";
  const also = h("span", { class: "also", role: "status" });
  const tell = (text) => { const same = twins(text, device, file); also.textContent = same.length === 0 ? "" : `also on ${same.map((one) => (typeof one === "number" ? `zone ${one}` : one)).join(" and ")}`; };
  tell(typed);
  const field = h("input", {
    type: "text", class: "serial", value: file.devices[device].serial ?? "", size: 12, "aria-label": `serial of zone ${zone.number}`, "data-key": key,
    oninput: (event) => { own.typing = { key, value: event.target.value }; tell(event.target.value); },
    onchange: (event) => {
      if (own.making) return; // taken out of the page while it is typed into: that is no end of typing
      own.typing = null;
      view.edit(`devices[${device}].serial`, JSON.stringify(event.target.value.trim()));
    },
  });
  field.value = typed;
  return [field, also];
}

const DEVICE_COLUMNS = [
  { name: "spoken name", class: "says", cell: ({ zone }) => says(zone) },
  { name: "device", fold: "least", cell: ({ zone }) => zone.device ?? NOTHING },
  { name: "profile", term: "profile", cell: ({ zone, view }) => view.site.file.devices?.[deviceOf(view.site.file, zone)]?.profile ?? NOTHING },
  { name: "serial", class: "serials", cell: serialCell },
];

const COLUMNS = [
  { name: "area", term: "area", fold: "few", only: (site) => (site.file.areas ?? []).length > 1, cell: ({ zone }) => zone.area ?? NOTHING },
  { name: "spoken name", class: "says", cell: ({ zone }) => says(zone) },
  { name: "device", fold: "some", cell: ({ zone }) => zone.device ?? NOTHING },
  { name: "behaviour", term: "behaviour", class: "behaves", cell: ({ zone, index, view }) => choice(zone, index, "behaviour", view.site.offers.behaviours, view.edit) },
  { name: "delay", term: "entry delay", cell: ({ zone, index, view }) => delayCell(zone, index, view.site, view.edit) },
  { name: "live in", term: "mode", fold: "many", cell: ({ zone }) => liveIn(zone) },
  { name: "reports", term: "reports", cell: ({ zone, index, view }) => yes(zone, index, "reports", view.edit) },
  { name: "chime", term: "chime", cell: ({ zone, index, view }) => yes(zone, index, "chime", view.edit) },
  { name: "supervised", term: "supervision", cell: ({ zone, index, view }) => yes(zone, index, "supervised", view.edit) },
];

function columnsOf(site) {
  return (own.devices ? DEVICE_COLUMNS : COLUMNS).filter((column) => column.only === undefined || column.only(site));
}

function worstAbout(view, state, index) {
  return state === "holds" || state.startsWith("waived") || !view.report ? -1 : view.report.findings.findIndex((finding) => concerns(finding, index) && weightOf(finding) === state);
}

// The ring of a zone; where something is wrong, it leads to the worst finding about it.
function verdict(view, state, index, worst, word) {
  if (state === "holds" || !view.report) return ring(state, state === "holds");
  return h("button", { type: "button", "data-key": `verdict-${index}`, onclick: () => (worst < 0 ? view.choose(`zones[${index}]`) : view.chooseFinding(worst)) }, ring(state, false, word));
}

// What is wrong with a zone, in the row below it: one finding, and the way to the others.
function explained(view, index) {
  const about = view.report.findings.map((finding, number) => ({ finding, number })).filter(({ finding }) => concerns(finding, index));
  const lived = (view.report.waived ?? []).filter((finding) => concerns(finding, index)).map((finding) => h("p", {}, ring(waivedAs(finding), false, waivedWord(finding.waiver?.until, view.report.today)), " ", finding.headline, answered(finding, view.act)));
  const at = about.findIndex(({ number }) => number === view.selected);
  if (at < 0) return lived.length > 0 ? h("div", { class: "explained" }, lived) : null;
  const { finding } = about[at];
  const turn = (name, to) => h("button", { type: "button", "data-key": name, "aria-label": `${name} finding of this zone`, onclick: () => view.chooseFinding(about[(to + about.length) % about.length].number) },
    name === "previous" ? "‹" : "›");
  return h("div", { class: finding.weight === "fault" ? "explained wrong" : "explained" },
    h("p", { class: "headline" }, finding.headline, about.length > 1 ? h("span", { class: "turns soft" }, ` ${at + 1} of ${about.length} `, turn("previous", at - 1), turn("next", at + 1)) : null),
    detail(finding, view.act, "row"), lived);
}

function cellOf(column, of) {
  const content = column.cell(of);
  return h("td", { class: [column.class, column.fold, content === NOTHING ? "nothing" : ""].filter(Boolean).join(" ") || null, "data-named": column.name }, content);
}

// A row that is neither chosen nor refused stays as long as what it shows does. One that was written in is made anew: its control
// shows what was chosen, which may not be what the file then says. Its verdict comes and goes in it.
const keepRow = makeKeeper();
const keepVerdict = makeKeeper();

function keptRow(view, columns, index) {
  const { file } = view.site;
  const zone = file.zones[index];
  const subject = `zones[${index}]`;
  const state = view.report ? stateOf(view.report.findings, subject, view.report.waived) : "unknown";
  const wrong = view.refused?.path.startsWith(`${subject}.`) ? view.refused : null;
  const write = (path, value) => { keepRow.forget(index); return view.edit(path, value); };
  const make = () => row({ ...view, edit: write }, { columns, index, zone, subject, wrong });
  const plain = !view.echoes.has(subject) && !wrong;
  if (!plain) keepRow.forget(index);
  const rows = !plain ? make() : keepRow(index, [zone, columns.map((column) => column.name).join(), view.site.offers, file.panel, own.devices ? file : null, own.devices ? own.typing : null], make);
  const cell = rows[0].lastElementChild;
  const worst = worstAbout(view, state, index);
  const word = view.report ? wordAbout(view.report, subject) : undefined;
  keepVerdict(index, [cell, state, worst, word, view.report === null], () => put(cell, verdict(view, state, index, worst, word)));
  return rows;
}

function row(view, { columns, index, zone, subject, wrong }) {
  const chosen = view.echoes.has(subject);
  const alone = chosen && view.several.length < 2;
  const carried = alone ? carriedLine(view.site.carried?.[index]) : null;
  const measured = alone ? measuredFields(view, index, own) : null;
  const told = alone && view.report ? explained(view, index) : null;
  return [
    h("tr", { class: chosen ? "selected" : null, "data-zone": zone.number },
      h("th", { scope: "row" }, h("button", { type: "button", class: "number", "data-key": subject, "aria-pressed": String(chosen), "aria-label": `zone ${zone.number}, ${says(zone)}`,
        onclick: (event) => pressRow(index, event) }, String(zone.number))),
      columns.map((column) => cellOf(column, { zone, index, view })),
      h("td", { class: "verdict" })),
    wrong ? h("tr", { class: "refused" }, h("td", { colspan: columns.length + 2, role: "alert" }, `${wrong.path} stays as it was: ${wrong.what}`)) : null,
    carried ? h("tr", { class: "told selected" }, h("td", { colspan: columns.length + 2, class: "soft" }, h("div", { class: "explained" }, carried))) : null,
    measured ? h("tr", { class: "told selected" }, h("td", { colspan: columns.length + 2 }, measured)) : null,
    told ? h("tr", { class: "told selected", "data-home": subject }, h("td", { colspan: columns.length + 2 }, told)) : null,
  ];
}

// What the pasted rows would change and what does not fit, before anything is written.
function preview(view, again) {
  if (own.table.trim() === "") return null;
  const { changes, problems } = changesOf(own.table, view.site.file, view.site.offers);
  const write = async () => {
    own.wrong = await view.editAll(changes.map(({ path, value }) => ({ path, value }))) ?? "";
    if (own.wrong === "") Object.assign(own, { table: "", open: false });
    again();
  };
  return [problems.length > 0 ? h("ul", { class: "unfit" }, problems.map((one) => h("li", {}, h("b", {}, `row ${one.row}: `), one.what))) : null,
    changes.length > 0 ? h("ul", { class: "fit" }, changes.map((one) => h("li", {}, `zone ${one.zone} · ${one.key}: `, one.was ? [h("s", {}, one.was), " "] : null, h("b", {}, one.becomes)))) : h("p", { class: "soft" }, "Nothing would change."),
    own.wrong ? h("p", { class: "refusal", role: "alert" }, `Nothing was written: ${own.wrong}`) : null,
    h("p", { class: "pair" }, changes.length > 0 ? h("button", { type: "button", class: "act", "data-key": "paste-write", onclick: write }, `Write ${changes.length === 1 ? "one change" : `${changes.length} changes`}${problems.length > 0 ? ", leave out the rest" : ""}`) : null,
      h("button", { type: "button", class: "link", "data-key": "paste-leave", onclick: () => { Object.assign(own, { table: "", wrong: "", open: false }); again(); } }, "Leave it"))];
}

// Rows from a spreadsheet, typed or pasted.
function paste(view, again) {
  const told = h("div", { role: "status" }, preview(view, again));
  return h("details", { class: "paste", open: own.open, ontoggle: (event) => { own.open = event.target.open; } },
    h("summary", { "data-key": "paste" }, "Paste rows from a table"),
    h("p", { class: "soft" }, "Columns by their headings: no., spoken name, device, profile, behaviour, delay, reports, chime, supervised, serial."),
    h("textarea", { rows: 4, "aria-label": "rows from a table", "data-key": "paste-text", oninput: (event) => { Object.assign(own, { table: event.target.value, wrong: "" }); put(told, preview(view, again)); } }, own.table),
    told);
}

// ---- several cells or rows at once

// A press on a number: Shift all rows from the last one pressed to this, Ctrl (or "add" in the hand) this one more or less.
function pressRow(index, event) {
  const { view } = table; // a row that was kept is older
  const how = event.shiftKey ? "range" : event.ctrlKey || event.metaKey || own.adding ? "one" : null;
  const from = own.from;
  if (how !== "range" || from < 0) own.from = index;
  if (how) view.chooseSeveral(pressed(view.several, index, from, how));
  else view.choose(view.several.length < 2 && view.echoes.has(`zones[${index}]`) ? null : `zones[${index}]`);
}

// One step of undo for all of them; why not, where it is not.
async function writeAll(view, edits) {
  if (edits.length === 0) return;
  own.unwritten = await view.editAll(edits) ?? "";
  table.again();
}

// The row and the key of the file of the cell in which something is; null: it is in none.
function cellAt(target) {
  const row = target.closest?.("tr[data-zone]");
  const index = row ? [...row.parentElement.querySelectorAll("tr[data-zone]")].indexOf(row) : -1;
  return index < 0 ? null : { index, key: /^zone-\d+-([a-z]+)$/.exec(target.closest("[data-key]")?.dataset.key ?? "")?.[1] ?? null };
}

// Keys that are about more than the cell one is in; what is none of them goes from cell to cell.
function tableKeys(event) {
  const { view } = table;
  const cell = cellAt(event.target);
  if (!cell) return;
  const chosen = zonesOf(view.several);
  const many = chosen.length > 1 && chosen.includes(cell.index);
  const control = event.ctrlKey || event.metaKey;
  const extends_ = event.shiftKey && !control && ["ArrowDown", "ArrowUp"].includes(event.key);
  if (control && event.key.toLowerCase() === "d") writeAll(view, fillEdits(view.site.file, many ? chosen : [cell.index - 1, cell.index], cell.key));
  else if (control && event.key === " ") pressRow(cell.index, event);
  else if (event.key === "Delete" && KEYS.includes(cell.key)) writeAll(view, (many ? chosen : [cell.index]).map((index) => ({ path: `zones[${index}].${cell.key}`, value: null })));
  else if (extends_) extend(event, cell.index);
  else return void gridKeys(event);
  event.preventDefault();
}

// Shift and an arrow: to the next row, and it is chosen with those before it.
function extend(event, index) {
  if (own.from < 0 || !zonesOf(table.view.several).includes(index)) own.from = index;
  gridKeys(event);
  const now = cellAt(document.activeElement);
  if (now) table.view.chooseSeveral(pressed([], now.index, own.from, "range"));
}

// The rows that are chosen, else the cell one is in, as text. What is marked within a field is the browser's.
function onCopy(event) {
  const { view } = table;
  const cell = cellAt(event.target);
  if (!cell || event.target.matches("input")) return;
  const chosen = zonesOf(view.several);
  const key = cell.key ?? "number";
  event.clipboardData.setData("text/plain", chosen.length > 1 ? copied(view.site.file, chosen) : valueOf(view.site.file, cell.index, key));
  event.preventDefault();
}

// A paste anywhere in the table but into a field: one value goes into the cell one is in, rows are shown before they are written.
function onPaste(event, again) {
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (event.target.matches("input, textarea")) return;
  const cell = cellAt(event.target);
  const one = !/[\t\n,;]/.test(text);
  if (one && (text.trim() === "" || !KEYS.includes(cell?.key))) return;
  event.preventDefault();
  if (one) { writeAll(table.view, [{ path: `zones[${cell.index}].${cell.key}`, value: text.trim() }]); return; }
  Object.assign(own, { table: text, open: true, wrong: "" });
  again();
}

function columnChoice(again) {
  const button = (devices, words) => h("button", { type: "button", "aria-pressed": String(own.devices === devices), "data-key": `columns-${words}`, onclick: () => { own.devices = devices; again(); } }, words);
  return h("span", { class: "columns", role: "group", "aria-label": "columns" }, button(false, "settings"), button(true, "devices"));
}

// A finger has neither Shift nor Ctrl.
function adding(again) {
  return h("button", { type: "button", class: "adds", "aria-pressed": String(own.adding), "data-key": "choose-several", onclick: () => { own.adding = !own.adding; again(); } }, "choose several");
}

// The table stays; what is in it is put into it.
let table = null;

function tableOf(view, again) {
  table ??= {
    whole: h("table", { onkeydown: tableKeys, onfocusin: remember, oncopy: onCopy, onpaste: (event) => onPaste(event, table.again) }),
    head: h("tr"), body: h("tbody"), scroll: h("div", { class: "scroll" }),
  };
  Object.assign(table, { again, view });
  if (!table.whole.firstChild) {
    table.whole.append(h("thead", {}, table.head), table.body);
    table.scroll.append(table.whole);
  }
  const columns = columnsOf(view.site);
  put(table.head, h("th", { scope: "col" }, term("no.", "zone")),
    columns.map((column) => h("th", { scope: "col", class: column.fold ?? null }, column.term ? term(column.name, column.term) : column.name)), h("th", { scope: "col" }, "verdict"));
  put(table.body, view.site.file.zones.map((_, index) => keptRow(view, columns, index)));
  return table;
}

// view: site, report (each or null), selected (number of the finding), echoes (paths that are chosen), stale, refused (the last
// edit that was); edit, editAll (gives why not, or null), choose, chooseFinding, act (as findings.js has it); several (paths chosen at once), chooseSeveral.
export function showSchedule(body, view) {
  const { site } = view;
  if (!site) return put(body, h("p", { class: "soft" }, "The site file cannot be read yet."));
  const zones = site.file.zones ?? [];
  const again = () => showSchedule(body, view);
  if (zones.length === 0) return put(body, h("p", { class: "soft" }, "No zone yet."), paste(view, again));
  own.making = true;
  const { whole, scroll } = tableOf(view, again);
  put(body, h("p", { class: "soft over" }, h("span", {}, `${site.file.panel?.profile ?? "no panel"} · ${zones.length} of ${site.offers.zones} zones used`), adding(again), columnChoice(again)),
    severalBar(view, (edits) => writeAll(view, edits)), own.unwritten ? h("p", { class: "refusal", role: "alert" }, `Nothing was written: ${own.unwritten}`) : null, scroll, paste(view, again));
  own.making = false;
  oneStop(whole);
  keepCaret(body);
  return body;
}

// What is being typed goes on at its end when the table was made anew under it.
function keepCaret(body) {
  const field = document.activeElement;
  if (!body.contains(field) || !field.matches("input[type=text], textarea")) return;
  if (own.typing?.key === field.dataset.key || field.matches("textarea")) field.setSelectionRange(field.value.length, field.value.length);
}
