// Rows of a table from elsewhere (tab-separated, or CSV) as changes of the zones. Pure: the text and the site file in; what would
// change, and what does not fit, out. Nothing is written here.
import { yaml } from "./yaml.js";

// Rows of cells: RFC 4180, with tab or semicolon too; what the first line has most of separates.
export function readTable(text) {
  const first = text.split("\n", 1)[0];
  const mark = ["\t", ";", ","].reduce((a, b) => (first.split(b).length > first.split(a).length ? b : a));
  const rows = [[]];
  let cell = "";
  let quoted = false;
  const end = () => { rows[rows.length - 1].push(cell.trim()); cell = ""; };
  for (let i = 0; i < text.length; i += 1) {
    const at = text[i];
    if (quoted && at === '"' && text[i + 1] === '"') { cell += '"'; i += 1; }
    else if (quoted ? at === '"' : at === '"' && cell.trim() === "") quoted = !quoted;
    else if (!quoted && at === mark) end();
    else if (!quoted && at === "\n") { end(); rows.push([]); }
    else if (quoted || at !== "\r") cell += at;
  }
  end();
  return rows.filter((row) => row.some((one) => one !== ""));
}

const NAMES = {
  number: ["no.", "no", "number", "zone"], says: ["spoken name", "says", "name"], device: ["device"], profile: ["profile", "model"], on: ["on", "opening"], area: ["area"], serial: ["serial", "serial number"],
  behaviour: ["behaviour", "behavior"], delay: ["delay", "entry delay"], reports: ["reports"], chime: ["chime"], supervised: ["supervised"],
};
const YES = { yes: true, y: true, x: true, 1: true, true: true, no: false, n: false, "-": false, "—": false, 0: false, false: false };
const FLAGS = ["reports", "chime", "supervised"];
// The order of columns that have no heading: the schedule's own.
export const ORDER = ["number", "says", "device", "behaviour", "delay", "reports", "chime", "supervised", "serial"];

function keyOf(heading) {
  const name = heading.trim().toLowerCase();
  return Object.keys(NAMES).find((key) => NAMES[key].includes(name)) ?? null;
}

function said(value) {
  return Array.isArray(value) ? value.join(" ") : value === true ? "yes" : value === false ? "no" : String(value ?? "");
}

// One row as an object of the keys that it has; what does not fit is told with its row.
function read(cells, keys, row, problems) {
  const one = {};
  keys.forEach((key, i) => { if (key && (cells[i] ?? "") !== "" && cells[i] !== "—") one[key] = cells[i]; });
  for (const key of FLAGS) {
    if (one[key] === undefined) continue;
    const is = YES[one[key].toLowerCase()];
    if (is === undefined) problems.push({ row, what: `${key}: “${one[key]}” is neither yes nor no` });
    one[key] = is;
  }
  if (!/^\d+$/.test(one.number ?? "")) problems.push({ row, what: one.number === undefined ? "it has no zone number" : `“${one.number}” is no zone number` });
  one.number = Number(one.number);
  return one;
}

function changed(one, zone, index, file, changes) {
  const device = (file.devices ?? []).findIndex((known) => known.name === zone.device);
  const note = (key, was, path) => {
    if (one[key] !== undefined && said(one[key]) !== said(was)) changes.push({ zone: zone.number, key, was: said(was), becomes: said(one[key]), path, value: key === "serial" ? JSON.stringify(one[key]) : yaml(key === "says" ? one[key].split(/\s+/) : one[key]) });
  };
  for (const key of ["says", "device", "area", "behaviour", "delay", ...FLAGS]) note(key, zone[key], `zones[${index}].${key}`);
  if (device >= 0) note("serial", file.devices[device].serial, `devices[${device}].serial`);
}

function added(one, row, file, at, offers, result) {
  const known = [...(file.devices ?? []).map((device) => device.name), ...at.devices];
  const missing = ["says", "behaviour"].filter((key) => one[key] === undefined);
  if (missing.length > 0) return result.problems.push({ row, what: `zone ${one.number} is new and has no ${missing.join(" and no ").replace("says", "spoken name")}` });
  if (one.device !== undefined && !known.includes(one.device)) {
    if (one.profile === undefined) return result.problems.push({ row, what: `there is no device “${one.device}”; a column “profile” would make it` });
    const device = { name: one.device, profile: one.profile, on: one.on };
    result.changes.push({ zone: one.number, key: "device", was: "", becomes: `${one.device}, ${one.profile}`, path: `devices[${(file.devices?.length ?? 0) + at.devices.length}]`,
      value: one.serial === undefined ? yaml(device) : yaml(device).replace(/\}$/, `, serial: ${JSON.stringify(one.serial)}}`) });
    at.devices.push(one.device);
  }
  const zone = { number: one.number, says: one.says.split(/\s+/), device: one.device, area: one.area, behaviour: one.behaviour, delay: one.delay, reports: one.reports, chime: one.chime, supervised: one.supervised };
  result.changes.push({ zone: one.number, key: "new", was: "", becomes: `${one.says}, ${one.behaviour}`, path: `zones[${(file.zones?.length ?? 0) + at.zones}]`, value: yaml(zone) });
  at.zones += 1;
  return at.zones;
}

// {changes: [{zone, key, was, becomes, path, value}], problems: [{row, what}]}; rows are counted from 1, as pasted.
export function changesOf(text, file, offers) {
  const rows = readTable(text);
  const heads = (rows[0] ?? []).map(keyOf);
  const headed = heads.includes("number") || heads.filter(Boolean).length >= 2;
  const keys = headed ? heads : ORDER;
  const result = { changes: [], problems: [] };
  const at = { zones: 0, devices: [] };
  const seen = new Set();
  if (headed) rows[0].forEach((heading, i) => { if (heads[i] === null && heading !== "") result.problems.push({ row: 1, what: `the column “${heading}” is not used` }); });
  rows.slice(headed ? 1 : 0).forEach((cells, i) => {
    const row = i + (headed ? 2 : 1);
    const before = result.problems.length;
    const one = read(cells, keys, row, result.problems);
    if (result.problems.length > before) return;
    if (seen.has(one.number)) { result.problems.push({ row, what: `zone ${one.number} stands in two rows` }); return; }
    seen.add(one.number);
    if (one.behaviour !== undefined && !offers.behaviours.includes(one.behaviour)) result.problems.push({ row, what: `behaviour: the panel does not offer “${one.behaviour}”` });
    if (result.problems.length > before) return;
    const index = (file.zones ?? []).findIndex((zone) => zone.number === one.number);
    if (index >= 0) changed(one, file.zones[index], index, file, result.changes);
    else added(one, row, file, at, offers, result);
  });
  return result;
}

// Zones whose devices have this serial number; spaces and the case of letters are not told apart.
export function twins(serial, device, file) {
  const plain = (text) => String(text ?? "").replace(/[^\p{L}\p{N}]/gu, "").toLowerCase();
  const wanted = plain(serial);
  if (wanted === "") return [];
  return (file.devices ?? []).flatMap((other, index) => (index !== device && plain(other.serial) === wanted ? [(file.zones ?? []).find((zone) => zone.device === other.name)?.number ?? other.name] : []));
}
