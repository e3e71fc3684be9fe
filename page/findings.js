// The list of findings, and one of them in full: what the customer meets, why, what to change and what that costs.
import { waivedWord } from "./days.js";
import { h, put } from "./dom.js";
import { preview } from "./preview.js";
import { ring } from "./rings.js";
import { withSpare } from "./spare.js";
import { isOpen, waivedAs, weightOf } from "./subjects.js";
import { explained, term, TERMS } from "./terms.js";
import { answered, liveWithIt } from "./waive.js";

// Only the remedy of a routine that goes wrong has been applied and explored again; what is to be done about a setting has not. One
// with edits has been worked out again, whatever it is about.
function proven(finding) {
  return finding.weight !== "note" && finding.routine !== null;
}

export function mark(finding) {
  return finding.weight === "note" ? h("span", { class: "ring note" }, h("span", { class: "word" }, "note")) : ring(weightOf(finding));
}

// "zone 6: behaviour entry; then it goes well with 7 s to spare": what to do, and what comes of it.
function remedy(finding, act) {
  const [what, ...rest] = finding.remedy.split("; then ");
  const outcome = rest.join("; then ");
  if (isOpen(finding)) return h("p", { class: "remedy" }, h("b", {}, "What would narrow it: "), finding.remedy);
  if (!finding.edits?.length || !outcome) return h("p", { class: "remedy" }, h("b", {}, proven(finding) ? "Remedy, tried and proven: " : "What to do: "), withSpare(finding.remedy));
  return h("div", { class: "remedy" },
    h("button", { type: "button", class: "act", "data-key": `act-${finding.about}`, "aria-disabled": act.ready ? null : "true", onclick: () => { if (act.ready) act.apply(finding.edits); } }, what.charAt(0).toUpperCase() + what.slice(1)),
    h("p", {}, ring("holds", true), h("span", {}, " then ", withSpare(outcome))),
    act.file ? preview(act.file, finding.edits) : null);
}

// act: apply(edits) makes them, waive(finding, line) and unwaive(path, finding); ready: what is shown is about the file as it is; whole:
// remedies were looked for; today. place: in which list it stands.
export function detail(finding, act, place) {
  const sought = !act.whole && (proven(finding) || (finding.weight !== "note" && /^break-in\./.test(finding.id)));
  return h("div", { class: "detail" },
    finding.why ? h("p", {}, h("b", {}, "Because: "), explained(finding.why, TERMS), ".") : null,
    finding.when ? h("p", {}, finding.when) : null,
    sought ? h("p", { class: "soft" }, "Remedies are being looked for.") : finding.remedy ? remedy(finding, act) : null,
    finding.price && !sought ? h("p", { class: "soft" }, "its ", term("price"), ": ", finding.price) : null,
    finding.also?.length ? h("p", { class: "soft" }, "for the same cause: ", finding.also.join(", ")) : null,
    h("p", { class: "soft" }, [finding.source, finding.place?.line ? `line ${finding.place.line} of the site file` : null].filter(Boolean).join(" · ")),
    liveWithIt(finding, act, place));
}

function row(finding, index, selected, select, act) {
  const open = index === selected;
  return h("li", { class: open ? "selected" : null, "data-home": `finding-${index}` },
    h("button", { type: "button", class: "finding", "aria-expanded": String(open), "data-key": `finding-${index}`, onclick: () => select(open ? -1 : index) },
      mark(finding), h("span", { class: "headline" }, finding.headline)),
    open ? detail(finding, act, "list") : null);
}

// What somebody answers for stands apart, until when beside its ring, with his reason; it is not counted.
function waivedList(waived, act, today) {
  if (waived.length === 0) return null;
  return [h("h3", { class: "apart", id: "waived" }, waived.length === 1 ? "One is waived" : `${waived.length} are waived`),
    h("ul", { class: "findings", "aria-labelledby": "waived" }, waived.map((finding) => h("li", {}, h("div", { class: "finding" }, ring(waivedAs(finding), false, waivedWord(finding.waiver?.until, today)),
      h("span", { class: "headline" }, finding.headline, answered(finding, act))))))];
}

export function showFindings(body, report, selected, select, act) {
  if (!report) return put(body, h("p", { class: "soft" }, "Not checked yet."));
  const waived = report.waived ?? [];
  return put(body, report.findings.length === 0 ? h("p", { class: "soft" }, "Nothing is wrong.") : h("ol", { class: "findings" }, report.findings.map((finding, index) => row(finding, index, selected, select, act))),
    waivedList(waived, act, report.today));
}
