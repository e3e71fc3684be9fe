// What on the page speaks of one thing. A subject is a path of the site file up to one thing ("zones[5]", "ways[0]"); a zone,
// its device, the opening that it watches and where it hangs are one matter. Pure: a site file in, paths out.

import { waivedWord } from "./days.js";

// "zones[5].in.night" is about "zones[5]"; "building.rooms[2].size" about "building.rooms[2]". Null where it is about no one thing.
export function subjectOf(path) {
  return /^(?:building\.|break-ins\.)?[a-z-]+\[\d+\]/.exec(path ?? "")?.[0] ?? null;
}

export function indexOf(subject, list) {
  const match = /^(.*)\[(\d+)\]$/.exec(subject ?? "");
  return match && match[1] === list ? Number(match[2]) : -1;
}

function paths(list, items, wanted) {
  return (items ?? []).flatMap((item, index) => (wanted(item) ? [`${list}[${index}]`] : []));
}

// The names by which things of the file hold on to each other.
function names(file, subject) {
  const of = (list, items) => items?.[indexOf(subject, list)];
  const zone = of("zones", file.zones);
  const place = of("building.places", file.building?.places);
  const opening = of("building.openings", file.building?.openings);
  const way = of("ways", file.ways);
  const goal = of("break-ins.protect", file["break-ins"]?.protect);
  const device = zone?.device ?? place?.device ?? of("devices", file.devices)?.name;
  const door = opening?.door ?? way?.door ?? of("doors", file.doors)?.name ?? file.devices?.find((one) => one.name === device)?.on;
  const keypad = way?.keypad ?? place?.keypad ?? of("keypads", file.keypads)?.name;
  return { device, door, keypad, protects: place?.protects ?? goal?.name };
}

// Every path that is one matter with the subject, itself among them.
export function echoes(file, subject) {
  if (!file || !subject) return new Set();
  const { device, door, keypad, protects } = names(file, subject);
  const on = door === undefined ? [] : (file.devices ?? []).filter((one) => one.on === door).map((one) => one.name);
  const devices = new Set([device, ...on].filter((name) => name !== undefined));
  return new Set([subject,
    ...paths("zones", file.zones, (zone) => devices.has(zone.device)),
    ...paths("building.places", file.building?.places, (place) => devices.has(place.device) ||
      (keypad !== undefined && place.keypad === keypad) || (protects !== undefined && place.protects === protects)),
    ...(door === undefined ? [] : paths("building.openings", file.building?.openings, (opening) => opening.door === door))]);
}

// Whether a finding says only that nobody knows yet: a search was given up.
export function isOpen(finding) {
  return /\.(.*-)?not-settled$|^check\.stopped$/.test(finding.id ?? "");
}

// What a finding's ring shows: "fault", "risk", "note", or "unsettled".
export function weightOf(finding) {
  return isOpen(finding) ? "unsettled" : finding.weight;
}

const WORST = ["fault", "risk", "unsettled"];

// What the ring of one shows that somebody answers for.
export function waivedAs(finding) {
  return finding.weight === "fault" ? "waived fault" : "waived risk";
}

// The worst of the findings about one thing; where somebody answers for all of them, what they are; else "holds".
export function stateOf(findings, subject, waived = []) {
  const about = (finding) => subjectOf(finding.place?.path) === subject;
  const weights = findings.filter(about).map(weightOf);
  const answered = waived.filter((finding) => about(finding) && finding.weight !== "note").map(waivedAs);
  return [...WORST, "waived fault", "waived risk"].find((one) => weights.includes(one) || answered.includes(one)) ?? "holds";
}

// What stands beside a ring, or is read out.
export const WORDS = { holds: "holds", risk: "risk", fault: "fault", unsettled: "undecided", unknown: "not computed", "waived fault": "waived", "waived risk": "waived" };

// The first day on which nobody answers any longer for something about one thing; "" where there is none.
function untilOf(subject, waived = []) {
  return waived.filter((finding) => subjectOf(finding.place?.path) === subject && finding.weight !== "note").map((finding) => finding.waiver?.until ?? "").sort()[0] ?? "";
}

// The word of the ring of one thing.
export function wordAbout(report, subject) {
  const state = stateOf(report?.findings ?? [], subject, report?.waived);
  return state.startsWith("waived") ? waivedWord(untilOf(subject, report.waived), report.today) : WORDS[state];
}

// What is wrong with any of these paths: {word, says}, or null. past: it is about an older edit.
export function worstOf(report, paths, past = false) {
  const about = (finding) => paths.includes(subjectOf(finding.place?.path));
  const { findings = [], waived = [] } = report ?? {};
  const found = findings.filter(about);
  const weight = WORST.find((one) => found.some((finding) => weightOf(finding) === one));
  const one = weight ? found.find((finding) => weightOf(finding) === weight) : waived.find((finding) => about(finding) && finding.weight !== "note");
  const word = weight === "unsettled" ? "undecided" : weight ?? waivedWord(one?.waiver?.until, report?.today);
  return one ? { word: `${past ? "was " : ""}${word}`, says: one.headline } : null;
}

// A thing as one says it: "zone 6, side door", "yard door", "the panel".
export function nameOf(file, subject) {
  const at = (list) => indexOf(subject, list);
  const zone = file.zones?.[at("zones")];
  const opening = file.building?.openings?.[at("building.openings")];
  const place = file.building?.places?.[at("building.places")];
  if (zone) return `zone ${zone.number}, ${says(zone)}`;
  if (opening) return opening.name ?? opening.door ?? `${opening.is} of the ${opening.room}`;
  const list = ["rooms", "furniture", "stairs"].find((name) => at(`building.${name}`) >= 0);
  if (list) return file.building?.[list]?.[at(`building.${list}`)]?.name ?? subject;
  if (place) return place.keypad ?? place.device ?? (place.protects ? `${place.protects}, worth protecting` : place.is);
  return subject;
}

export function says(zone) {
  return Array.isArray(zone.says) ? zone.says.join(" ") : String(zone.says ?? "");
}
