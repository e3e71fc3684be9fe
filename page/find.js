// Find anything by its name, number or serial: a line in the header that opens a list beneath it. What is chosen there is what is
// chosen everywhere else.
import { h, put } from "./dom.js";
import { nameOf } from "./subjects.js";

const MOST = 12; // lines

const KINDS = [["zones", "zone"], ["building.rooms", "room"], ["building.openings", "opening"], ["building.places", "place"], ["building.furniture", "furniture"], ["building.stairs", "stairs"],
  ["routines", "routine"], ["people", "person"], ["ways", "way"], ["break-ins.protect", "worth protecting"]];

// Everything that has a name: {path, kind, name, also}, in the order of the file. also: what else it is found by. Pure.
export function thingsIn(file) {
  return KINDS.flatMap(([list, kind]) => (list.split(".").reduce((at, key) => at?.[key], file) ?? []).map((one, index) => {
    const path = `${list}[${index}]`;
    const name = nameOf(file, path);
    const { profile, serial } = file.devices?.find((device) => device.name === one.device) ?? {};
    return { path, kind, name: name === path ? one.name ?? kind : name, also: [one.device, profile, serial && `serial ${serial}`].filter((word) => word && word !== name) };
  }));
}

const bare = (text) => text.toLowerCase().replace(/(\d)\s+(?=\d)/g, "$1"); // serials are written with gaps, or without

// Those that hold every word that is sought; what begins with it first. Pure.
export function found(file, sought) {
  const words = bare(sought).split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const rank = ({ name, kind, also }) => {
    const text = bare([kind, name, ...also].join(" "));
    if (!words.every((word) => text.includes(word))) return -1;
    return words.every((word) => ` ${bare(name)}`.includes(` ${word}`)) ? 0 : 1;
  };
  return thingsIn(file).map((one) => ({ ...one, rank: rank(one) })).filter((one) => one.rank >= 0).sort((a, b) => a.rank - b.rank);
}

// place: where it opens; button: what opens it; file() to look in, pick(path) of what was chosen.
export function attachFind({ place, button, file, pick }) {
  const list = h("ul");
  const told = h("p", { role: "status", class: "soft" });
  const line = h("input", { type: "search", "aria-label": "find by name, number or serial", placeholder: "name, number or serial", autocomplete: "off", oninput: () => fill() });
  const turn = (open) => {
    place.hidden = !open;
    button.setAttribute("aria-expanded", String(open));
    if (open) { line.value = ""; fill(); line.focus(); }
  };
  const choose = (path) => { turn(false); button.focus(); pick(path); };
  function fill() {
    const all = found(file(), line.value);
    put(list, all.slice(0, MOST).map((one) => h("li", {}, h("button", { type: "button", onclick: () => choose(one.path) }, h("span", {}, one.name), h("span", { class: "soft" }, [one.kind, ...one.also].filter((word) => !one.name.startsWith(word)).join(" · "))))));
    told.textContent = line.value.trim() === "" ? "" : all.length === 0 ? "Nothing is called so." : all.length > MOST ? `${all.length} found, the first ${MOST} are shown` : `${all.length} found`;
  }
  const stops = () => [line, ...list.querySelectorAll("button")];
  place.append(line, told, list);
  place.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) stops()[stops().indexOf(document.activeElement) + step]?.focus();
    else if (event.key === "Escape") { turn(false); button.focus(); }
    else if (event.key === "Enter" && event.target === line) stops()[1]?.click();
    else return;
    event.preventDefault();
  });
  button.addEventListener("click", () => turn(place.hidden));
  document.addEventListener("keydown", (event) => {
    if (event.key !== "/" || !(event.ctrlKey || event.metaKey)) return;
    event.preventDefault();
    turn(true);
  });
}
