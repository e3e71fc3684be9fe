// Several zones chosen at once: what they have in common can be changed for all of them in one step, what differs reads "various".
import { common, KEYS, removeEdits, setEdits, VARIOUS } from "./cells.js";
import { h } from "./dom.js";
import { indexOf } from "./subjects.js";

// The zones among what is chosen, as they stand in the file.
export function zonesOf(several) {
  return several.map((subject) => indexOf(subject, "zones")).filter((index) => index >= 0).sort((a, b) => a - b);
}

// One thing more, or one less where it was chosen already.
export function added(several, subject) {
  return several.includes(subject) ? several.filter((one) => one !== subject) : [...several, subject];
}

// What is chosen after a press on a row. from: the row pressed before; how: "range" takes all between, "one" adds or lets go.
export function pressed(several, row, from, how) {
  if (how === "one" || from < 0) return added(several, `zones[${row}]`);
  const [low, high] = [Math.min(row, from), Math.max(row, from)];
  return [...new Set([...several, ...Array.from({ length: high - low + 1 }, (_, i) => `zones[${low + i}]`)])];
}

function offered(view, key) {
  if (key === "behaviour") return view.site.offers.behaviours;
  return key === "delay" ? Object.keys(view.site.file.panel?.["entry-delays"] ?? {}) : ["yes", "no"];
}

function field(view, zones, key, write) {
  const value = common(view.site.file, zones, key);
  const list = offered(view, key);
  if (value === null || list.length === 0) return null;
  const all = list.includes(value) ? list : [value, ...list];
  return h("label", {}, `${key} `, h("select", { "aria-label": `${key} of all ${zones.length}`, "data-key": `several-${key}`, onchange: (event) => write(setEdits(view.site.file, zones, key, event.target.value)) },
    all.map((one) => h("option", { value: one, selected: one === value, disabled: one === VARIOUS && !list.includes(one) }, one))));
}

// The line above the table; null: no more than one is chosen.
export function severalBar(view, write) {
  const zones = zonesOf(view.several);
  if (zones.length < 2) return null;
  const numbers = zones.map((index) => view.site.file.zones[index].number);
  return h("div", { class: "several", role: "group", "aria-label": `${zones.length} zones chosen` }, h("b", {}, `${zones.length} zones: ${numbers.join(", ")}`),
    KEYS.map((key) => field(view, zones, key, write)),
    h("button", { type: "button", class: "link", "data-key": "several-remove", onclick: () => write(removeEdits(zones)) }, "take them out"),
    h("button", { type: "button", class: "link", "data-key": "several-let-go", onclick: () => view.chooseSeveral([]) }, "let them go"));
}
