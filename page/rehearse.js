// Rehearse: somebody acts on the drawing, the panel answers. There is no pad of keys and no display: who, where, what, and
// the answer in words. The bench plays the same panel as everywhere; nothing is sent to anybody.
import { h, put } from "./dom.js";
import { sensed } from "./moves.js";
import { clockOf } from "./story.js";
import { indexOf, says } from "./subjects.js";

// What belongs to a rehearsal, so that it goes on after it.
const EXPECTS = ["siren", "alarm", "duress", "trouble", "exit-error", "refused", "hold-up"];

export function modesOf(file) {
  return ["full", "part", "night", ...(file.panel?.modes ?? []).map((mode) => mode.name)];
}

// What can be acted on at a chosen thing: a door, a keypad, a detector that one passes, a button; or null.
export function stageOf(site, subject) {
  const { file } = site;
  const opening = file.building?.openings?.[indexOf(subject, "building.openings")];
  const place = file.building?.places?.[indexOf(subject, "building.places")];
  const keypad = file.keypads?.[indexOf(subject, "keypads")]?.name ?? place?.keypad;
  const door = file.doors?.[indexOf(subject, "doors")]?.name ?? opening?.door;
  const zone = file.zones?.[indexOf(subject, "zones")] ?? (place?.device ? file.zones?.find((one) => one.device === place.device) : undefined);
  const on = zone ? file.devices?.find((one) => one.name === zone.device)?.on : undefined;
  if (keypad !== undefined) return { kind: "keypad", name: keypad };
  if (door ?? on) return { kind: "door", name: door ?? on };
  if (!zone) return null;
  if (["hold-up", "medical"].includes(zone.behaviour)) return { kind: "button", name: says(zone) };
  return /motion|glass|shock/.test(sensed(site, zone) ?? "") ? { kind: "space", name: says(zone) } : null;
}

// The verbs of a stage: words, and the steps of a routine with the seconds after now at which each is done.
export function verbsOf(stage, modes) {
  if (!stage) return [];
  const { name } = stage;
  if (stage.kind === "door") {
    return [["goes through, it falls shut", [[0, { open: name }], [2, { close: name }]]], ["opens it", [[0, { open: name }]]], ["closes it", [[0, { close: name }]]]];
  }
  if (stage.kind === "space") return [["goes there", [[0, { pass: name }]]]];
  if (stage.kind === "button") return [["presses it", [[0, { press: name }]]]];
  return [["keys the code", [[0, { unset: name }]]], ["mistypes", [[0, { mistype: name }]]], ...modes.map((mode) => [`sets ${mode}`, [[0, { set: mode, keypad: name }]]])];
}

// The acts as a routine: each person's steps count from what he did before. span: how a measured time is written.
export function routineOf(rehearsal, name, span, more = {}) {
  const before = new Map();
  const steps = rehearsal.acts.map((act) => {
    const passed = act.at_s - (before.get(act.who) ?? 0);
    before.set(act.who, act.at_s);
    return { who: act.who, in: span(passed), ...act.step };
  });
  return { name, ...more, starts: rehearsal.starts, steps };
}

export function exactly(seconds) {
  return `${seconds} s`;
}

// A measured time as a habit: seven seconds are five to ten.
export function roughly(seconds) {
  return `${Math.floor(seconds * 0.7)}..${Math.ceil(seconds * 1.4)} s`;
}

export function toldAs(rehearsal) {
  return routineOf(rehearsal, "what is rehearsed here", exactly, { expects: EXPECTS });
}

// Adds what is done now; what had been acted for later no longer comes.
export function act(rehearsal, who, steps, now) {
  const kept = rehearsal.acts.filter((one) => one.at_s <= now);
  return { ...rehearsal, acts: [...kept, ...steps.map(([after, step]) => ({ who, at_s: now + after, step }))] };
}

function group(name, ...children) {
  return h("div", { class: "row", role: "group", "aria-label": name }, h("span", { class: "soft" }, name), children);
}

function press(key, words, pressed, onclick, more = {}) {
  return h("button", { type: "button", "data-key": key, "aria-pressed": pressed === null ? null : String(pressed), onclick, ...more }, words);
}

// The things of a site that one can act on, for those who do not use the drawing.
function stages(site) {
  const { file } = site;
  return [...(file.doors ?? []).map((door, i) => [`doors[${i}]`, door.name]), ...(file.keypads ?? []).map((keypad, i) => [`keypads[${i}]`, keypad.name]),
    ...(file.zones ?? []).flatMap((zone, i) => (["space", "button"].includes(stageOf(site, `zones[${i}]`)?.kind) ? [[`zones[${i}]`, `zone ${zone.number}, ${says(zone)}`]] : []))];
}

function answers(view) {
  const { told, now } = view;
  const lines = (told?.story ?? []).filter((line) => line.at_s <= now);
  const clock = told ? clockOf(told) : () => "0:00";
  if (lines.length === 0) return h("p", { class: "soft" }, "Nothing has happened yet.");
  return h("ol", { class: "story answers" }, lines.map((line, i) => h("li", { class: i === lines.length - 1 ? "current" : null },
    h("span", { class: "clock" }, clock(line.at_s)), h("span", {}, line.what, line.because ? h("span", { class: "soft" }, ` · ${line.because}`) : null))));
}

// view: site, subject, rehearsal, who, told, now, clock, problem, name; setWho, choose, perform(steps), run(speed), pass(seconds or "next"), begin(area, mode), back, anew,
// setName, keep.
export function showRehearsal(body, view) {
  const { site, rehearsal } = view;
  const { file } = site;
  const modes = modesOf(file);
  const stage = stageOf(site, view.subject);
  const fresh = rehearsal.acts.length === 0;
  put(body,
    h("p", { class: "soft" }, "Choose somebody, press a door, a keypad or a detector on the drawing, and say what is done. Nothing is sent to anybody."),
    group("begins", (file.areas ?? []).map((area) => h("label", {}, `${area.name} `, h("select", {
      "aria-label": `how ${area.name} begins`, "data-key": `begin-${area.name}`, disabled: !fresh, onchange: (event) => view.begin(area.name, event.target.value),
    }, ["unset", ...modes].map((mode) => h("option", { value: mode, selected: (rehearsal.starts[area.name] ?? "unset") === mode }, mode === "unset" ? mode : `set, ${mode}`)))))),
    group("who", (file.people ?? []).map((person) => press(`who-${person.name}`, person.name, person.name === view.who, () => view.setWho(person.name)))),
    group("where", h("select", { "aria-label": "where", "data-key": "where", onchange: (event) => view.choose(event.target.value || null) },
      h("option", { value: "" }, stage ? stage.name : "choose"), stages(site).map(([path, name]) => h("option", { value: path, selected: path === view.subject }, name)))),
    group("what", verbsOf(stage, modes).length === 0 ? h("span", {}, stage ? "" : "nothing can be done there yet") : verbsOf(stage, modes)
      .map(([words, steps]) => press(`verb-${words}`, words, null, () => view.perform(steps), { disabled: !view.who, class: "act" }))),
    group("time", [["hold", "stands"], ["1", "runs"], ["10", "runs ten times as fast"]].map(([speed, words]) => press(`clock-${speed}`, words, speed === view.clock, () => view.run(speed), { disabled: !view.told && speed !== "hold" }))),
    group("then", [1, 5, 30].map((seconds) => press(`pass-${seconds}`, `${seconds} s pass`, null, () => view.pass(seconds))), press("pass-next", "to the next thing that happens", null, () => view.pass("next"), { disabled: !view.told })),
    view.problem ? h("p", { class: "refusal", role: "alert" }, view.problem) : null,
    h("div", { role: "log", "aria-label": "what the panel says", tabindex: 0, class: "log" }, answers(view)),
    group("rehearsal", press("back", "Take back", null, view.back, { disabled: fresh }), press("anew", "Begin anew", null, view.anew, { disabled: fresh })),
    h("form", { class: "row", onsubmit: (event) => { event.preventDefault(); view.keep(); } },
      h("label", {}, "Keep as routine, called ", h("input", { type: "text", "data-key": "keep-name", maxlength: 60, value: view.name, oninput: (event) => view.setName(event.target.value) })),
      h("button", { type: "submit", class: "act", "data-key": "keep", disabled: fresh }, "Keep"), h("span", { class: "soft" }, "each measured time becomes a from-to: 7 s is kept as 4–10 s")));
  const log = body.querySelector(".log");
  log.scrollTop = log.scrollHeight; // what came last
}
