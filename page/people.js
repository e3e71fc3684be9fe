// Who comes and goes, what is worth protecting and what a break-in has to beat, edited in place below the routines.
import { h } from "./dom.js";
import { fromTo, shownTime } from "./routines.js";
import { yaml } from "./yaml.js";

const WALKS = ["adult", "with a stick", "with shopping", "child"];
const FIXED = { panel: "the panel", mains: "the only mains", router: "the only router", line: "the only line" };

const is = (value) => value === true || value === "yes";

// What is sent for what was typed: a time as people write it, else the text as it is; nothing takes the key out.
export function timeOf(typed) {
  return typed.trim() === "" ? null : fromTo(typed) ?? yaml(typed.replace("–", ".."));
}

function wrongAt(view, path) {
  return view.refused?.path === path ? view.refused.what : null;
}

function field(view, path, value, usual, label) {
  const wrong = wrongAt(view, path);
  return [h("input", {
    type: "text", class: "from-to", value: shownTime(value), size: 9, placeholder: shownTime(usual), "aria-label": label, "data-key": path, "aria-invalid": wrong ? "true" : null,
    onchange: (event) => view.edit(path, timeOf(event.target.value)),
  }), wrong ? h("span", { class: "refusal", role: "alert" }, `stays as it was: ${wrong}`) : null];
}

function choice(view, path, value, list, label) {
  const known = list.includes(value) ? list : [value, ...list];
  return h("select", { "aria-label": label, "data-key": path, onchange: (event) => view.edit(path, yaml(event.target.value)) }, known.map((one) => h("option", { value: one, selected: one === value }, one)));
}

function tick(view, path, on, words, label) {
  return h("label", {}, h("input", { type: "checkbox", checked: on, "aria-label": label, "data-key": path, onchange: (event) => view.edit(path, event.target.checked ? "yes" : "no") }), ` ${words}`);
}

function removal(view, path, name) {
  const wrong = wrongAt(view, path);
  return [h("button", { type: "button", class: "why", "data-key": `remove-${path}`, "aria-label": `take out ${name}`, onclick: () => view.edit(path, null) }, "take out"), wrong ? h("span", { class: "refusal", role: "alert" }, `stays: ${wrong}`) : null];
}

function personRow(view, person, index) {
  const path = `people[${index}]`;
  if (is(person.animal)) return h("li", {}, h("b", {}, person.name), h("span", { class: "soft" }, "an animal"), removal(view, path, person.name));
  const code = person.code === undefined || is(person.code);
  return h("li", {}, h("b", {}, person.name),
    h("label", {}, "walks as ", choice(view, `${path}.walks`, String(person.walks ?? "adult"), WALKS, `how ${person.name} walks`)),
    h("label", {}, "at the keypad after ", field(view, `${path}.notices`, person.notices, "2..3 s", `how long until ${person.name} is at the keypad`)),
    code ? h("label", {}, "keys in ", field(view, `${path}.codes-in`, person["codes-in"], "4..9 s", `how long ${person.name} keys the code`)) : null,
    tick(view, `${path}.code`, code, "code", `${person.name} has a code`), tick(view, `${path}.fob`, is(person.fob), "fob", `${person.name} has a fob`),
    code ? tick(view, `${path}.duress`, is(person.duress), "under duress", `the code of ${person.name} is a duress code`) : null, removal(view, path, person.name));
}

function form(key, words, label, inputs, act) {
  return h("form", { class: "step-form", onsubmit: (event) => { event.preventDefault(); act(new FormData(event.target)); } },
    h("label", {}, words, " ", h("input", { type: "text", name: "name", maxlength: 60, required: true, "data-key": key, "aria-label": label })), inputs, " ", h("button", { type: "submit", class: "act" }, "Add"));
}

function people(view) {
  const list = view.site.file.people ?? [];
  return h("section", { "aria-labelledby": "people-title" }, h("h3", { id: "people-title" }, "Who comes and goes"),
    list.length === 0 ? h("p", { class: "soft" }, "Nobody yet.") : h("ul", { class: "people" }, list.map((person, index) => personRow(view, person, index))),
    form("person-name", "Somebody else, a role in small letters, a name with its capital:", "who else comes and goes",
      h("label", {}, " ", h("input", { type: "checkbox", name: "animal", "aria-label": "it is an animal" }), " an animal"),
      (data) => view.edit(`people[${list.length}]`, yaml({ name: data.get("name").trim(), ...(data.get("animal") ? { animal: true } : {}) }))));
}

// What somebody may come for, as the drawing has it: [place, index].
export function goalsOf(file) {
  return (file.building?.places ?? []).map((place, index) => [place, index]).filter(([place]) => place.protects !== undefined || place.is === "panel" || (FIXED[place.is] && is(place.only)));
}

function goalRow(view, [place, index]) {
  const path = `building.places[${index}]`;
  const name = place.protects ?? FIXED[place.is];
  return h("li", {}, h("b", {}, name), h("span", { class: "soft" }, `in the ${place.room}`), h("label", {}, "holds out for ", field(view, `${path}.takes`, place.takes, "0 s", `how long ${name} holds somebody up`)),
    place.protects === undefined ? null : removal(view, path, name));
}

function threats(view) {
  const { file } = view.site;
  const rooms = (file.building?.rooms ?? []).filter((room) => (room.is ?? "room") === "room").map((room) => room.name);
  const places = file.building?.places ?? [];
  if (rooms.length === 0) return null;
  return h("section", { "aria-labelledby": "threats-title" }, h("h3", { id: "threats-title" }, "What is worth protecting"), h("ul", { class: "people" }, goalsOf(file).map((goal) => goalRow(view, goal))),
    form("goal-name", "Something else:", "what else is worth protecting",
      h("label", {}, " in the ", h("select", { name: "room", "aria-label": "in which room it is" }, rooms.map((room) => h("option", { value: room }, room)))),
      (data) => view.edit(`building.places[${places.length}]`, yaml({ protects: data.get("name").trim(), room: data.get("room") }))),
    h("ul", { class: "people" }, h("li", {}, h("b", {}, "a break-in"),
      h("label", {}, "is heard by the ", choice(view, "break-ins.heard-by", String(file["break-ins"]?.["heard-by"] ?? "signal"), ["signal", "siren"], "what counts as heard")),
      h("label", {}, "and help is there after ", field(view, "break-ins.help-after", file["break-ins"]?.["help-after"], "0 s", "how long help takes")))));
}

// view: site, refused, edit(path, value).
export function peopleParts(view) {
  return [people(view), threats(view)];
}
