// "Live with it": somebody answers for a finding, with a reason and a day on which it is looked at again. It is a line of the site
// file; one press takes it out.
import { h, put } from "./dom.js";

const LEAST = 10; // letters of a reason
const own = { by: "", forms: new Map(), act: null };

// The line that the bench offers for a finding, filled in. Pure.
export function waiverLine(finding, { reason, by, until }) {
  return finding.waiver.replace(/reason: "", by: "", until: YYYY-MM-DD\}$/, () => `reason: ${JSON.stringify(reason)}, by: ${JSON.stringify(by)}, until: ${until}}`);
}

// What is still missing before it can be written, or "". today: "2027-03-31". Pure.
export function lacking({ reason, by, until }, today) {
  if (reason.length < LEAST) return `Say why, in ${LEAST} letters or more.`;
  if (by === "") return "Say who answers for it.";
  if (!/^\d{4}-\d\d-\d\d$/.test(until)) return "Say on which day it is looked at again.";
  return until < today ? "That day is past." : "";
}

// Why nobody can answer for it, or "". Pure.
export function refusal(finding) {
  if (finding.waiver || /^waiver\./.test(finding.id)) return "";
  return /^check\./.test(finding.id) ? "This cannot be lived with: it says that the check itself was not finished." : "This cannot be lived with yet: not every routine was looked at, so nobody knows what it would cover.";
}

// Which line of the file waives a finding; -1: none. Of several about the same, the one that says what it says. Pure.
export function waiverOf(file, finding) {
  return (file?.waived ?? []).findIndex((one) => one.finding === finding.id && (one.about ?? "") === (finding.about ?? "") && (one.says ?? finding.headline) === finding.headline);
}

function field(name, words, attributes) {
  return h("label", {}, h("span", {}, words), h("input", { name, "data-key": `waive-${name}`, ...attributes }));
}

function form(finding, today) {
  const wrong = h("p", { role: "alert" });
  const send = async (event) => {
    event.preventDefault();
    const typed = Object.fromEntries(["reason", "by", "until"].map((name) => [name, event.target.elements[name].value.trim()]));
    own.by = typed.by;
    const lacks = lacking(typed, today) || (own.act.ready ? "" : "The bench is checking; press again when it is done.");
    put(wrong, lacks || await own.act.waive(finding, waiverLine(finding, typed)));
  };
  return h("details", { class: "waive" }, h("summary", { "data-key": "waive" }, "Live with it…"),
    h("form", { autocomplete: "off", novalidate: true, onsubmit: send },
      /^life-safety\./.test(finding.id) ? h("p", {}, "Smoke, heat, gas and CO follow the local code, whatever is noted here.") : null,
      field("reason", "Why it is left as it is", { type: "text", maxlength: 300 }), field("by", "Who answers for it", { type: "text", maxlength: 60, value: own.by }),
      field("until", "Looked at again on", { type: "date", min: today }), h("button", { type: "submit", class: "act", "data-key": "waive-it" }, "Leave it as it is until then"), wrong));
}

// The last of a finding, apart. place: in which list it stands; what was typed there stays while the list is made anew.
export function liveWithIt(finding, act, place) {
  own.act = act;
  if (/^waiver\./.test(finding.id)) return h("button", { type: "button", class: "act", "data-key": finding.place.path, onclick: () => act.unwaive(finding.place.path, finding) }, "Take the waiver out");
  const why = refusal(finding);
  if (why) return h("p", { class: "soft waive" }, why);
  const key = `${finding.id} ${finding.about} ${finding.headline}`;
  if (own.forms.get(place)?.key !== key) own.forms.set(place, { key, node: form(finding, act.today) });
  return own.forms.get(place).node;
}

// One that somebody answers for, beside the ring that says until when: his reason, and the way back.
export function answered(finding, act) {
  const { reason, by } = finding.waiver;
  const index = waiverOf(act.file, finding);
  const path = `waived[${index}]`;
  return [h("span", { class: "soft by-whom" }, `${reason} · ${by}`),
    index < 0 ? null : h("button", { type: "button", class: "link", "data-key": path, "aria-label": `Take it back: ${finding.headline}`, onclick: () => act.unwaive(path, finding) }, "Take it back")];
}
