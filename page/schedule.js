// The zone table, edited in place. A cell writes one value of the site file; what is wrong with it is told where it stands.
import { h, put } from "./dom.js";
import { ring } from "./rings.js";

// Whether a finding is about this zone.
export function concerns(finding, index) {
  const path = finding?.place?.path ?? "";
  return path === `zones[${index}]` || path.startsWith(`zones[${index}].`);
}

// The worst of the findings about this zone.
export function zoneState(report, index) {
  const weights = report.findings.filter((finding) => concerns(finding, index)).map((finding) => finding.weight);
  if (weights.includes("fault")) return "fault";
  return weights.includes("risk") ? "risk" : "holds";
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
  return h("input", {
    type: "checkbox", checked: zone[key] === true || zone[key] === "yes", "aria-label": `${key}, zone ${zone.number}`, "data-key": `zone-${index}-${key}`,
    onchange: (event) => edit(`zones[${index}].${key}`, event.target.checked ? "yes" : "no"),
  });
}

function delayCell(zone, index, site, edit) {
  const names = Object.keys(site.file.panel?.["entry-delays"] ?? {});
  if (zone.behaviour !== "entry" || names.length === 0) return "—";
  return choice({ ...zone, delay: delayOf(zone) }, index, "delay", names, edit);
}

// The ring of a zone; where something is wrong, it leads to the first finding about it.
function verdict(report, state, index, select) {
  if (state === "holds" || !report) return ring(state, state === "holds");
  const first = report.findings.findIndex((finding) => concerns(finding, index));
  return h("button", { type: "button", "data-key": `verdict-${index}`, onclick: () => select(first) }, ring(state));
}

function row(view, index) {
  const { site, report, stale, refused, finding, edit, select } = view;
  const zone = site.file.zones[index];
  const state = report ? zoneState(report, index) : "unknown";
  const says = Array.isArray(zone.says) ? zone.says.join(" ") : zone.says;
  const wrong = refused && refused.path.startsWith(`zones[${index}].`) ? refused : null;
  return [
    h("tr", { class: concerns(finding, index) ? "selected" : null },
      h("th", { scope: "row" }, String(zone.number)),
      h("td", { class: "says" }, says),
      h("td", {}, zone.device ?? "—"),
      h("td", {}, choice(zone, index, "behaviour", site.offers.behaviours, edit)),
      h("td", {}, delayCell(zone, index, site, edit)),
      h("td", {}, yes(zone, index, "reports", edit)),
      h("td", {}, yes(zone, index, "chime", edit)),
      h("td", {}, yes(zone, index, "supervised", edit)),
      h("td", { class: stale ? "stale" : null }, verdict(report, state, index, select))),
    wrong ? h("tr", { class: "refused" }, h("td", { colspan: 9, role: "alert" }, `${wrong.path} stays as it was: ${wrong.what}`)) : null,
  ];
}

// view: site, report and the chosen finding (each or null), stale, refused (the last edit that was), edit, select.
export function showSchedule(body, view) {
  const { site } = view;
  if (!site) return put(body, h("p", { class: "soft" }, "The site file cannot be read yet."));
  const zones = site.file.zones ?? [];
  if (zones.length === 0) return put(body, h("p", { class: "soft" }, "No zone yet."));
  return put(body,
    h("p", { class: "soft" }, `${site.file.panel?.profile ?? "no panel"} · ${zones.length} of ${site.offers.zones} zones used`),
    h("div", { class: "scroll" }, h("table", {},
      h("thead", {}, h("tr", {}, ["No.", "spoken name", "device", "behaviour", "delay", "reports", "chime", "supervised", "verdict"]
        .map((name) => h("th", { scope: "col" }, name)))),
      h("tbody", {}, zones.map((_, index) => row(view, index))))));
}
