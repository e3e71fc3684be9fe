// Cells of the schedule by the key of the file that each shows: what stands in it, filled down, cleared, copied; and the values that
// several zones have in common. Pure: a site file in, edits and texts out.
import { says } from "./subjects.js";

const FLAGS = new Set(["reports", "chime", "supervised"]);
export const VARIOUS = "various";
export const KEYS = ["behaviour", "delay", "reports", "chime", "supervised"];
/* As they are pasted: paste.js reads these headings. */
const HEADINGS = { number: "no.", says: "spoken name", device: "device", behaviour: "behaviour", delay: "delay", reports: "reports", chime: "chime", supervised: "supervised", serial: "serial" };

// The delay that a zone has in every mode, or "various".
export function delayOf(zone) {
  const names = new Set(typeof zone.delay === "object" && zone.delay !== null ? Object.values(zone.delay) : [zone.delay]);
  return names.size === 1 ? [...names][0] : names.size === 0 ? undefined : VARIOUS;
}

export function isYes(zone, key) {
  return zone[key] === true || zone[key] === "yes";
}

// What a cell says; "": nothing is there.
export function valueOf(file, index, key) {
  const zone = file.zones[index];
  if (FLAGS.has(key)) return isYes(zone, key) ? "yes" : "no";
  if (key === "says") return says(zone);
  if (key === "serial") return (file.devices ?? []).find((one) => one.name === zone.device)?.serial ?? "";
  return String((key === "delay" ? delayOf(zone) : zone[key]) ?? "");
}

// Only a zone that waits for somebody has a delay.
function holds(file, index, key) {
  return key !== "delay" || file.zones[index].behaviour === "entry";
}

// What these zones all have, "various" where they differ; null: none of them has such a cell.
export function common(file, zones, key) {
  const values = new Set(zones.filter((index) => holds(file, index, key)).map((index) => valueOf(file, index, key)));
  return values.size === 0 ? null : values.size === 1 ? [...values][0] : VARIOUS;
}

// One value for all of them; who has it is not touched.
export function setEdits(file, zones, key, value) {
  return zones.filter((index) => holds(file, index, key) && valueOf(file, index, key) !== value).map((index) => ({ path: `zones[${index}].${key}`, value }));
}

// The value of the first into those below it. A serial number is of one device alone.
export function fillEdits(file, zones, key) {
  const [first, ...below] = zones;
  const value = KEYS.includes(key) && first >= 0 ? valueOf(file, first, key) : "";
  if (value === "" || value === VARIOUS) return [];
  /* Who is made to wait for somebody waits as long. */
  const delay = valueOf(file, first, "delay");
  const waits = key === "behaviour" && value === "entry" && delay !== "" && delay !== VARIOUS ? below.filter((index) => valueOf(file, index, "delay") === "") : [];
  return [...setEdits(file, below, key, value), ...waits.map((index) => ({ path: `zones[${index}].delay`, value: delay }))];
}

// The last first: those before it keep their place in the list.
export function removeEdits(zones) {
  return [...zones].sort((a, b) => b - a).map((index) => ({ path: `zones[${index}]`, value: null }));
}

// Rows with their headings, tab-separated.
export function tableOf(file, zones) {
  const keys = Object.keys(HEADINGS);
  const cell = (index, key) => { const value = valueOf(file, index, key); return value === VARIOUS ? "" : value; };
  return [keys.map((key) => HEADINGS[key]), ...zones.map((index) => keys.map((key) => cell(index, key)))].map((row) => row.join("\t")).join("\n");
}
