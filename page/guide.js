// The guide line: what to do next on a site that is being begun. It follows what exists; Next passes on, "I know my way" hides
// it. The step stands in the page's address, so that a reload comes back to it.
import { h, put } from "./dom.js";
import { devicesOffered } from "./offered.js";
import { bare, closedNeighbours, contactEdits, contacts, deviceEdits, innerDoorEdits, openingEdits, roomEdits, routineEdits, routineOffers } from "./survey.js";
import { newDevice, newOpening, renamed } from "./tools.js";

const STEPS = ["rooms", "openings", "devices", "routines", "proof"];
const ROOM_NAMES = ["hall", "kitchen", "living room", "bedroom", "bathroom", "shop", "store"];
/* offered: what was put into the hand last by itself, in this step; names: of rooms, as far as they are typed. */
const own = { begun: false, edits: 0, devices: null, wrong: "", typed: "", shown: "", offered: "", names: new Map() };

export function stepOf(search) {
  const step = new URLSearchParams(search).get("step");
  return STEPS.includes(step) ? step : null;
}

export function setStep(step) {
  history.replaceState(null, "", `${location.pathname}${step ? `?step=${step}` : ""}${location.hash}`);
  Object.assign(own, { wrong: "", typed: "", shown: "", offered: "" });
}

// Where one stands on a site, by what it has.
export function standing(file) {
  if ((file.building?.rooms?.length ?? 0) < 2) return "rooms";
  if ((file.building.openings?.length ?? 0) === 0) return "openings";
  if ((file.zones?.length ?? 0) === 0) return "devices";
  return (file.routines?.length ?? 0) === 0 ? "routines" : "proof";
}

// ---- parts of a step

// The next edit is about the site as this one left it: it waits until that is here.
async function arrived(view, before) {
  for (let i = 0; i < 100 && view.number() === before; i += 1) await new Promise((done) => { setTimeout(done, 20); });
}

async function make(view, result) {
  const before = view.number();
  const answer = result.wrong ? { result: "refused", what: result.wrong } : result.edits.length > 0 ? await view.edits(result.edits) : { result: "done" };
  own.wrong = answer.result === "done" ? "" : answer.what;
  if (answer.result === "done") Object.assign(own, { typed: "", edits: own.edits + 1 });
  if (answer.result === "done" && result.edits.length > 0) await arrived(view, before);
  own.shown = "";
  view.again();
  return own.wrong === "";
}

// One line to type into, and what could stand there.
function line(view, label, example, ideas, edits) {
  return h("form", { class: "line-in", autocomplete: "off", onsubmit: (event) => { event.preventDefault(); own.typed = event.target.elements.typed.value; make(view, edits(own.typed)); } },
    h("label", {}, h("span", { class: "soft" }, label), h("input", { type: "text", name: "typed", value: own.typed, placeholder: example, list: "ideas", "data-key": "guide-line", "aria-invalid": own.wrong ? "true" : null, oninput: (event) => { own.typed = event.target.value; } })),
    h("datalist", { id: "ideas" }, ideas.map((idea) => h("option", { value: idea }))),
    h("button", { type: "submit", class: "act", "data-key": "guide-add" }, "Add"));
}

function press(key, words, onclick, disabled = false) {
  return h("button", { type: "button", class: "act", "data-key": key, disabled, onclick }, words);
}

function sides(file) {
  return (file.building?.rooms ?? []).map((room) => room.name).flatMap((room) => ["front", "right", "back", "left"].map((wall) => `${room} ${wall}`));
}

// What is drawn with a press or a stroke is put into the hand when its turn comes; put down, it is taken again by its word.
const HANDS = {
  wall: (editor, again) => editor.tools.room({ then: null, again, near: true }),
  door: (editor, again) => editor.hold(editor.tool((site, storey, at, free) => newOpening(site, storey, "door", at, free)), "press on walls; Esc puts the door down", { again }),
  window: (editor, again) => editor.hold(editor.tool((site, storey, at, free) => newOpening(site, storey, "window", at, free)), "press on walls; Esc puts the window down", { again }),
  ...Object.fromEntries(["panel", "keypad", "siren", "motion"].map((kind) => [kind, (editor, again) => editor.hold(editor.tool((site, storey, at, free) => newDevice(site, storey, kind, own.devices, at, free)),
    kind === "motion" ? "press a corner" : `press where the ${kind} hangs`, kind === "motion" ? { again } : {})])),
};

function take(view, what) {
  const { editor } = view;
  HANDS[what](editor, () => take(view, what));
  Object.assign(editor.held, { what, left: view.again });
  view.again();
}

// Once: who puts it down has it put down.
function offerHand(view, what) {
  if (!what || !view.drawn || own.offered === what) return;
  own.offered = what;
  queueMicrotask(() => take(view, what));
}

function hands(view, list) {
  if (!view.drawn) return null;
  return h("p", { class: "hands", role: "group", "aria-label": "in the hand" }, list.map(([what, words]) => {
    const held = view.inHand === what;
    return h("button", { type: "button", class: "act", "data-key": `guide-hand-${what}`, "aria-pressed": String(held), onclick: () => (held ? view.editor.cancel() : take(view, what)) }, words);
  }));
}

// A name that is typed and left is written; a room is known by the name it bears on the drawing.
function nameOfRoom(view, room, index) {
  const name = async (typed) => {
    const other = view.file.building.rooms.some((one, i) => i !== index && one.name === typed);
    if (typed === "" || typed === room.name) own.names.delete(index);
    else if (await make(view, other ? { wrong: `there is a ${typed} already` } : { edits: renamed({ file: view.file }, index, typed) })) own.names.delete(index);
  };
  return h("input", { type: "text", size: 11, value: own.names.get(index) ?? room.name, list: "room-names", "data-key": `guide-name-${index}`, "aria-label": `name of room ${index + 1}`,
    oninput: (event) => own.names.set(index, event.target.value), onchange: (event) => { if (event.target.isConnected) name(event.target.value.trim()); } });
}

function rooms(view) {
  const all = view.file.building?.rooms ?? [];
  offerHand(view, "wall");
  return [h("p", {}, h("b", {}, "1 of 5, rooms."), view.drawn ? " Drag from wall to wall to divide. Then type its name." : " From left to right as you stand before the house."),
    h("div", { class: "names" }, hands(view, [["wall", "Wall"]]), all.length > 0 ? [h("span", { class: "soft" }, "called "), all.map((room, i) => nameOfRoom(view, room, i)), h("datalist", { id: "room-names" }, ROOM_NAMES.map((one) => h("option", { value: one })))] : null),
    line(view, view.drawn ? "or in words " : "rooms ", "hall 2, kitchen 3.5, bedroom", [], (typed) => roomEdits(typed, view.file))];
}

function openings(view) {
  const closed = closedNeighbours(view.file);
  const ideas = sides(view.file).flatMap((side) => [`${side.split(" ").pop()} door ${side}`, `window ${side}`]);
  offerHand(view, "door");
  return [h("p", {}, h("b", {}, "2 of 5, doors and windows."), view.drawn ? " Choose one, then press on walls. Esc puts it down." : " Each: what it is called, its room, its wall; with commas between."),
    hands(view, [["door", "Door"], ["window", "Window"]]),
    line(view, view.drawn ? "or in words " : "opening ", "front door hall front", ideas, (typed) => openingEdits(typed, view.file)),
    closed.length > 0 ? press("guide-inner", closed.length === 1 ? `Put a door between ${closed[0].join(" and ")}` : `Put doors between all ${closed.length + 1} rooms`, () => make(view, innerDoorEdits(view.file))) : null];
}

const PRESSES = { panel: "Press where the panel hangs.", keypad: "Press where the keypad hangs.", siren: "Press where the siren hangs.", motion: "Press a corner for a motion detector, or Next." };

// What comes next of what hangs in every house; "": contacts do.
function nextDevice(file, open) {
  const places = file.building?.places ?? [];
  if (!places.some((one) => one.is === "panel")) return "panel";
  if (!places.some((one) => one.keypad)) return "keypad";
  if (!places.some((one) => /^siren/.test(one.device ?? ""))) return "siren";
  return open.length > 0 ? "" : "motion";
}

function devices(view) {
  own.devices = devicesOffered(() => { own.shown = ""; view.again(); });
  const open = bare(view.file);
  const next = nextDevice(view.file, open);
  const kinds = Object.keys(PRESSES).filter((kind) => kind === next || kind === "siren" || kind === "motion");
  const ideas = kinds.flatMap((kind) => sides(view.file).map((side) => `${kind} ${side}`));
  if (own.devices !== null) offerHand(view, next);
  return [h("p", {}, h("b", {}, "3 of 5, devices."), view.drawn ? ` ${PRESSES[next] ?? ""}` : ` Each: what it is (${kinds.join(", ")}), its room, its wall or corner; with commas between.`),
    open.length > 0 && next === "" ? contactLine(view, open) : null,
    own.devices === null ? null : hands(view, kinds.map((kind) => [kind, kind === "motion" ? "Motion detector" : kind.charAt(0).toUpperCase() + kind.slice(1)])),
    line(view, view.drawn ? "or in words " : "device ", `${kinds[0]} ${sides(view.file)[0] ?? "hall right"}`, ideas, (typed) => deviceEdits(typed, view.file, view.offers, own.devices)),
    open.length > 0 && next !== "" ? contactLine(view, open) : null];
}

function contactLine(view, open) {
  const list = contacts(own.devices);
  const profile = h("select", { "aria-label": "which contact", "data-key": "guide-contact" }, list.map((one) => h("option", { value: one.name }, one.name)));
  return h("p", {}, `${open.length === 1 ? "One opening has" : `${open.length} openings have`} no detector. `,
    press("guide-contacts", open.length === 1 ? `Put a contact on the ${open[0]}` : `Put a contact on all ${open.length}`, () => make(view, contactEdits(view.file, view.offers, list.find((one) => one.name === profile.value))), own.devices === null),
    list.length > 1 ? [" ", profile] : null);
}

function offer(view, one, index) {
  const way = h("select", { "aria-label": `by which way, ${one.name}`, "data-key": `guide-way-${index}` }, one.ways.map((name) => h("option", { value: name, selected: name === one.way }, name)));
  const at = h("input", { type: "text", size: 11, value: one.at, "aria-label": `when, ${one.name}`, "data-key": `guide-at-${index}` });
  return h("li", {}, h("span", {}, h("b", {}, one.name), ` · ${one.who}, `, one.way && one.ways.length > 1 ? [way, " "] : null, at, " ", h("span", { class: "soft" }, one.says)),
    press(`guide-keep-${index}`, "Keep", () => make(view, routineEdits(one, way.value, at.value, view.file))));
}

function routines(view) {
  const offers = routineOffers(view.file);
  const none = (view.file.ways ?? []).length === 0 ? "Routines need a way in: a door with a contact, and a keypad." : "Every suggestion is kept. More of them under Routines.";
  return [h("p", {}, h("b", {}, "4 of 5, who comes and goes."), offers.length > 0 ? ` ${offers.length === 1 ? "One suggestion" : `${offers.length} suggestions`} from your answers: keep, change, or leave out.` : ` ${none}`),
    h("ul", { class: "suggestions" }, offers.map((one, index) => offer(view, one, index)))];
}

function proof(view) {
  const wrong = view.report?.findings.some((finding) => finding.weight === "fault") ?? true;
  if (wrong || view.stale) return [h("p", {}, h("b", {}, "5 of 5, proof."), view.stale ? " Checking." : " Press a clause of the sentence above; its reason and what mends it stand in the schedule or among the findings.")];
  return [h("p", {}, h("b", {}, "Proven. "), "Next: ", press("guide-key", "key it in", () => view.go("keying")), " ", press("guide-rehearse", "rehearse", () => view.go("rehearse")), " ", h("a", { href: "./site.yaml", download: true }, "take the file along"))];
}

const SHOW = { rooms, openings, devices, routines, proof };

// The focus on the guide; where it is in sight the page stays as it is.
function stand(body) {
  const { top, bottom } = body.getBoundingClientRect();
  body.focus({ preventScroll: top >= 0 && bottom <= innerHeight + 8 });
}

// view: file, offers, report, stale; edits(list) gives the bench's answer, go(face), again() shows the page anew; drawn: there is a
// drawing, editor: by which it is drawn on, inHand: what of this guide it holds.
export function showGuide(body, view) {
  const step = stepOf(location.search);
  body.hidden = !step || !view.file;
  if (body.hidden) return;
  const signature = JSON.stringify([step, view.drawn, view.inHand, own.wrong, own.edits, own.devices?.length, view.stale && step === "proof", view.file, view.report?.findings.length]);
  if (signature === own.shown) return;
  own.shown = signature;
  body.dataset.edits = String(own.edits);
  const next = STEPS[STEPS.indexOf(step) + 1];
  const turn = (to) => { if (view.inHand) view.editor.cancel(); setStep(to); view.again(); if (to) stand(body); else document.getElementById("help").focus(); };
  const begun = own.begun;
  own.begun = true;
  put(body, SHOW[step](view), own.wrong ? h("p", { class: "refusal", role: "alert" }, own.wrong) : null,
    h("p", { class: "onward" }, STEPS.indexOf(step) > 0 ? h("button", { type: "button", "data-key": "guide-back", onclick: () => turn(STEPS[STEPS.indexOf(step) - 1]) }, "Back") : null,
      next ? h("button", { type: "button", class: "act", "data-key": "guide-next", onclick: () => turn(next) }, "Next") : null,
      h("button", { type: "button", "data-key": "guide-away", onclick: () => turn(null) }, "I know my way")));
  /* Who comes from the blank page is led to what is next. */
  if (!begun && document.activeElement === document.body) stand(body);
}
