// Below the strip of a routine: its steps to be moved or taken out, and one to be added. What is typed stays until it is written.
import { h } from "./dom.js";
import { VERBS, added, newRoutine, stepOf, swapped, takenOut } from "./steps.js";

const own = { open: null, drafts: new Map(), wrong: null };

function choice(label, key, list, value, onchange) {
  return h("select", { "aria-label": label, "data-key": key, onchange: (event) => onchange(event.target.value) }, list.map(([is, words]) => h("option", { value: is, selected: is === value }, words)));
}

function pairs(list) {
  return list.map((one) => [one, one]);
}

async function send(view, where, edits, done) {
  if (edits.length === 0) return;
  const answer = await view.write(edits);
  own.wrong = answer.result === "done" ? null : { where, what: answer.what };
  if (answer.result === "done") done?.();
  view.again();
}

function refusal(where) {
  return own.wrong?.where === where ? h("p", { class: "refusal", role: "alert" }, `Nothing was written: ${own.wrong.what}`) : null;
}

// The draft of a step to be added, with what it falls back to.
function draftOf(view, index) {
  const { file } = view.site;
  const routine = file.routines[index];
  const draft = own.drafts.get(index) ?? {};
  const verb = VERBS.find((one) => one.key === draft.verb) ?? VERBS.find((one) => one.things(file).length > 0);
  const things = verb.things(file);
  return { who: draft.who ?? routine.who ?? routine.steps[routine.steps.length - 1]?.who ?? file.people?.[0]?.name, verb, things, thing: things.includes(draft.thing) ? draft.thing : things[0], time: draft.time ?? "" };
}

function adding(view, index) {
  const { file } = view.site;
  const draft = draftOf(view, index);
  /* What was typed since this was drawn stands in the draft alone. */
  const kept = () => own.drafts.get(index) ?? { who: draft.who, verb: draft.verb.key, thing: draft.thing, time: "" };
  const set = (change) => { own.drafts.set(index, { ...kept(), ...change }); view.again(); };
  const add = (event) => {
    event.preventDefault();
    const typed = kept().time;
    const time = view.timeOf(typed) ?? typed;
    send(view, index, added(file.routines, index, stepOf(draft.who, draft.verb.key, draft.thing, time)), () => own.drafts.delete(index));
  };
  return h("form", { class: "step-form", onsubmit: add, "aria-label": `a step for ${file.routines[index].name}` }, "then ",
    choice("who does it", `step-who-${index}`, pairs((file.people ?? []).map((one) => one.name)), draft.who, (who) => set({ who })), " ",
    choice("what is done", `step-verb-${index}`, VERBS.filter((one) => one.key === "wait" || one.things(file).length > 0).map((one) => [one.key, one.words]), draft.verb.key, (verb) => set({ verb, thing: undefined })), " ",
    draft.things.length > 0 ? choice("with what", `step-thing-${index}`, pairs(draft.things), draft.thing, (thing) => set({ thing })) : null,
    h("label", {}, " after ", h("input", { type: "text", class: "from-to", size: 10, placeholder: "4-9", value: draft.time, "data-key": `step-time-${index}`, "aria-label": "how long after, or at what time of day",
      oninput: (event) => own.drafts.set(index, { ...kept(), time: event.target.value }) })), " ",
    h("button", { type: "submit", class: "act", "data-key": `step-add-${index}` }, "Add"));
}

function one(view, index, step, i, words) {
  const { routines } = view.site.file;
  const act = (key, text, edits, disabled) => h("button", { type: "button", "data-key": `${key}-${index}-${i}`, "aria-label": `${text}: ${words}`, disabled, onclick: () => send(view, index, edits()) }, text);
  return h("li", {}, h("span", {}, words), act("earlier", "earlier", () => swapped(routines, index, i, -1), i === 0), act("later", "later", () => swapped(routines, index, i, 1), i === routines[index].steps.length - 1),
    act("out", "take out", () => takenOut(index, i), routines[index].steps.length === 1));
}

// view: site; write(edits), again(), timeOf(typed), wordsOf(step, routine).
export function stepForm(view, index) {
  const routine = view.site.file.routines[index];
  const open = own.open === index;
  return h("div", { class: "step-change" },
    h("button", { type: "button", class: "why", "aria-expanded": String(open), "data-key": `change-${index}`, onclick: () => { own.open = open ? null : index; own.wrong = null; view.again(); } }, open ? "done with the steps" : "change the steps"),
    open ? [h("ol", { class: "steps" }, routine.steps.map((step, i) => one(view, index, step, i, view.wordsOf(step, routine)))), adding(view, index), refusal(index)] : null);
}

// One more routine: who comes in by which way, when. The rest is added to it.
export function routineForm(view) {
  const { file } = view.site;
  if ((file.people ?? []).length === 0 || (file.ways ?? []).length === 0) return h("p", { class: "soft" }, "A routine needs somebody who comes and goes, and a way in: they stand in the file under people and ways.");
  const add = (event) => {
    event.preventDefault();
    const { name, who, way, at } = event.target.elements;
    const time = view.timeOf(at.value) ?? JSON.stringify(at.value);
    send(view, "new", newRoutine(file, name.value.trim(), who.value, way.value, time.replaceAll('"', "")));
  };
  return h("form", { class: "step-form", onsubmit: add, "aria-label": "a new routine" }, h("label", {}, "Another routine, called ", h("input", { type: "text", name: "name", size: 14, required: true, "data-key": "routine-name" })), " ",
    h("select", { name: "who", "aria-label": "who comes", "data-key": "routine-who" }, file.people.map((one_) => h("option", { value: one_.name }, one_.name))), " comes in by ",
    h("select", { name: "way", "aria-label": "by which way", "data-key": "routine-way" }, file.ways.map((one_) => h("option", { value: one_.name }, one_.name))), " ",
    h("label", {}, "at ", h("input", { type: "text", name: "at", size: 12, required: true, placeholder: "7:15-7:30", "data-key": "routine-at" })), " ", h("button", { type: "submit", class: "act", "data-key": "routine-add" }, "Add"), refusal("new"));
}
