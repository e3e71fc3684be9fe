// Routines: each a sentence and a strip of steps, in the order in which they were written, with its from-to times edited in
// place; its verdict beside it. Telling one plays its middling course on the drawing.
import { h, put } from "./dom.js";
import { peopleParts } from "./people.js";
import { ring } from "./rings.js";
import { spare } from "./spare.js";
import { routineForm, stepForm } from "./stepform.js";

// How people write a from-to, as the file has it: "4-9" is 4..9 s, "5" is 5 s, "about 6" is 4..8 s, "1-2 min" is 1..2 min.
// Null: it is none of these; the bench then says what is wrong with it.
export function fromTo(typed) {
  const text = typed.trim().toLowerCase().replace(",", ".");
  const about = /^about (\d+)\s*(s|min|h)?$/.exec(text);
  const span = /^(\d+)\s*(?:-|–|\.\.|to)\s*(\d+)\s*(s|min|h|d)?$/.exec(text);
  const one = /^(\d+)\s*(s|min|h|d)?$/.exec(text);
  if (about) return `${Math.floor(about[1] * 2 / 3)}..${Math.ceil(about[1] * 4 / 3)} ${about[2] ?? "s"}`;
  if (span) return `${span[1]}..${span[2]} ${span[3] ?? "s"}`;
  return one ? `${one[1]} ${one[2] ?? "s"}` : null;
}

// A from-to of the file as people read it: "4–9 s".
export const shownTime = (written) => String(written ?? "").replace("..", "–");

// The same for times of day: "7:15-7:30" is 07:15..07:30.
export function clockSpan(typed) {
  const match = /^(\d{1,2}):(\d\d)\s*(?:-|–|\.\.|to)\s*(\d{1,2}):(\d\d)$/.exec(typed.trim());
  return match ? `"${match[1].padStart(2, "0")}:${match[2]}..${match[3].padStart(2, "0")}:${match[4]}"` : null;
}

const SAYS = {
  walk: (step) => `walks${step.from ? ` from the ${step.from}` : ""} to the ${step.walk}`,
  come: (step) => `comes in by “${step.come}”`, go: (step) => `goes out by “${step.go}”`, open: (step) => `opens the ${step.open}`, close: (step) => `closes the ${step.close}`,
  pass: (step) => `passes ${zoneOf(step.pass)}`, unset: (step) => (step.with === "fob" ? "unsets with the fob" : `keys the code at the ${step.unset}`), mistype: (step) => `mistypes at the ${step.mistype}`,
  set: (step) => `sets ${step.set}${step.keypad ? ` at the ${step.keypad}` : ""}`, press: (step) => `presses ${zoneOf(step.press)}`, postpone: (step) => `puts automatic setting off at the ${step.postpone}`, bypass: (step) => `leaves out ${zoneOf(step.bypass)}`,
};

function zoneOf(name) {
  return /^\d+$/.test(String(name)) ? `zone ${name}` : String(name);
}

// What is done in a step, without who.
export function doneIn(step) {
  const verb = Object.keys(SAYS).find((name) => step[name] !== undefined);
  const known = ["who", "in", "from", "at", "maybe", "name", "after", "when", "area", "if", "if-area", "if-not", "with"];
  const other = Object.keys(step).find((key) => !known.includes(key) && typeof step[key] === "string");
  return verb ? SAYS[verb](step) : other ? `${other} ${step[other]}` : "waits";
}

function condition(step) {
  return [step.maybe === true ? "maybe" : "", step.when ? `when: ${step.when}` : "", step.if ? `if: ${step.if}` : "", step.after ? `after “${step.after}”` : ""].filter(Boolean).join(", ");
}

function timeField(view, path, step) {
  const key = step.at !== undefined ? "at" : "in";
  if (step[key] === undefined) return null;
  const wrong = view.refused?.path === `${path}.${key}` ? view.refused.what : null;
  return [h("input", {
    type: "text", class: "from-to", value: shownTime(step[key]), size: 12, "aria-label": `${key === "at" ? "time of day" : "seconds from-to"} of: ${doneIn(step)}`, "data-key": `${path}.${key}`, "aria-invalid": wrong ? "true" : null,
    onchange: (event) => view.edit(`${path}.${key}`, (key === "at" ? clockSpan : fromTo)(event.target.value) ?? JSON.stringify(event.target.value.replace("–", ".."))),
  }), wrong ? h("span", { class: "refusal", role: "alert" }, `stays as it was: ${wrong}`) : null];
}

function strip(view, routine, index) {
  const person = (step) => step.who ?? routine.who;
  return h("ol", { class: "strip" }, routine.steps.map((step, i) => {
    const before = routine.steps[i - 1];
    return h("li", {}, before && person(before) === person(step) ? null : h("b", {}, `${person(step) ?? "somebody"} `), h("span", { class: "done" }, doneIn(step)), timeField(view, `routines[${index}].steps[${i}]`, step),
      condition(step) ? h("span", { class: "soft" }, condition(step)) : null);
  }));
}

const RING = { "goes well": "holds", "goes wrong": "fault", "not settled": "unsettled" };
const WORD = { "goes well": "proven", "goes wrong": "goes wrong", "not settled": "undecided" };

function one(view, routine, index) {
  const answer = view.report?.routines.find((found) => !found.usual && found.name === routine.name);
  const state = answer ? RING[answer.verdict] : "unknown";
  const margin = answer?.margin ? [", ", spare(`${answer.margin.to_spare_s} s`), ` to spare of the ${answer.margin.timer}`] : "";
  const forms = { ...view, timeOf: (typed) => clockSpan(typed) ?? fromTo(typed), wordsOf: (step, of) => `${step.who ?? of.who ?? "somebody"} ${doneIn(step)}` };
  return h("li", { class: "routine" },
    h("h3", {}, routine.name, " ", h("span", { class: view.stale ? "stale" : null }, ring(state, true), " ", h("span", { class: answer?.verdict === "goes wrong" ? "wrong" : "soft" }, answer ? [WORD[answer.verdict], margin] : ""))),
    routine.says ? h("p", { class: "soft" }, routine.says) : null, strip(view, routine, index),
    h("p", {}, h("button", { type: "button", class: "act", "data-key": `tell-${index}`, onclick: () => view.tell(index) }, "Tell it"),
      answer?.verdict === "goes wrong" ? h("button", { type: "button", "data-key": `why-${index}`, class: "why", onclick: () => view.why(routine.name) }, "how it goes wrong") : null), stepForm(forms, index));
}

// view: site, report, stale, refused, problem; edit(path, value), tell(index), why(name).
export function showRoutines(body, view) {
  const routines = view.site.file.routines ?? [];
  const usual = view.report?.routines.filter((routine) => routine.usual) ?? [];
  return put(body,
    view.problem ? h("p", { class: "refusal", role: "alert" }, view.problem) : null,
    routines.length === 0 ? h("p", { class: "soft" }, "No routine is described yet. Act one under Rehearse and keep it.") : h("ol", { class: "routines" }, routines.map((routine, index) => one(view, routine, index))),
    routineForm({ ...view, timeOf: (typed) => clockSpan(typed) ?? fromTo(typed) }),
    usual.length > 0 ? h("p", { class: "soft" }, `Besides these, ${usual.length} usual routines are looked at on every site: ${usual.filter((routine) => routine.verdict === "goes well").length} of them are proven.`) : null,
    peopleParts(view));
}
