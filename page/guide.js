// The guide line: what to do next on a site that is being begun. It follows what exists; Next passes on, "I know my way" hides
// it. The step stands in the page's address, so that a reload comes back to it.
import { h, put } from "./dom.js";
import { devicesOffered } from "./offered.js";
import { bare, closedNeighbours, contactEdits, contacts, deviceEdits, innerDoorEdits, openingEdits, roomEdits, routineEdits, routineOffers } from "./survey.js";

const STEPS = ["rooms", "openings", "devices", "routines", "proof"];
const own = { begun: false, edits: 0, devices: null, wrong: "", typed: "", shown: "" };

export function stepOf(search) {
  const step = new URLSearchParams(search).get("step");
  return STEPS.includes(step) ? step : null;
}

export function setStep(step) {
  history.replaceState(null, "", `${location.pathname}${step ? `?step=${step}` : ""}${location.hash}`);
  Object.assign(own, { wrong: "", typed: "", shown: "" });
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

function rooms(view) {
  return [h("p", {}, h("b", {}, "1 of 5, rooms."), " From left to right as you stand before the house, each with its width inside where you know it."),
    line(view, "rooms ", "hall 2, kitchen 3.5, bedroom", [], (typed) => roomEdits(typed, view.file))];
}

function openings(view) {
  const closed = closedNeighbours(view.file);
  const ideas = sides(view.file).flatMap((side) => [`${side.split(" ").pop()} door ${side}`, `window ${side}`]);
  return [h("p", {}, h("b", {}, "2 of 5, doors and windows."), " Each: what it is called, its room, its wall; with commas between."),
    line(view, "opening ", "front door hall front", ideas, (typed) => openingEdits(typed, view.file)),
    closed.length > 0 ? press("guide-inner", closed.length === 1 ? `Put a door between ${closed[0].join(" and ")}` : `Put doors between all ${closed.length + 1} rooms`, () => make(view, innerDoorEdits(view.file))) : null];
}

function devices(view) {
  own.devices = devicesOffered(() => { own.shown = ""; view.again(); });
  const open = bare(view.file);
  const places = view.file.building?.places ?? [];
  const kinds = [places.some((one) => one.is === "panel") ? null : "panel", places.some((one) => one.keypad) ? null : "keypad", "motion", "siren"].filter(Boolean);
  const ideas = kinds.flatMap((kind) => sides(view.file).map((side) => `${kind} ${side}`));
  return [h("p", {}, h("b", {}, "3 of 5, devices."), ` Each: what it is (${kinds.join(", ")}), its room, its wall or corner; with commas between.`),
    line(view, "device ", `${kinds[0]} ${sides(view.file)[0] ?? "hall right"}`, ideas, (typed) => deviceEdits(typed, view.file, view.offers, own.devices)),
    open.length > 0 ? contactLine(view, open) : null];
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

// view: file, offers, report, stale; edits(list) gives the bench's answer, go(face), again() shows the page anew.
export function showGuide(body, view) {
  const step = stepOf(location.search);
  body.hidden = !step || !view.file;
  if (body.hidden) return;
  const signature = JSON.stringify([step, own.wrong, own.edits, own.devices?.length, view.stale && step === "proof", view.file, view.report?.findings.length]);
  if (signature === own.shown) return;
  own.shown = signature;
  body.dataset.edits = String(own.edits);
  const next = STEPS[STEPS.indexOf(step) + 1];
  const turn = (to) => { setStep(to); view.again(); (to ? body : document.getElementById("help")).focus(); };
  const begun = own.begun;
  own.begun = true;
  put(body, SHOW[step](view), own.wrong ? h("p", { class: "refusal", role: "alert" }, own.wrong) : null,
    h("p", { class: "onward" }, STEPS.indexOf(step) > 0 ? h("button", { type: "button", "data-key": "guide-back", onclick: () => turn(STEPS[STEPS.indexOf(step) - 1]) }, "Back") : null,
      next ? h("button", { type: "button", class: "act", "data-key": "guide-next", onclick: () => turn(next) }, "Next") : null,
      h("button", { type: "button", "data-key": "guide-away", onclick: () => turn(null) }, "I know my way")));
  /* Who comes from the blank page is led to what is next. */
  if (!begun && document.activeElement === document.body) body.focus();
}
