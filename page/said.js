// What edits of the site file do, as undo calls it: "room motion moved", "zone 6, side door: behaviour entry". Pure: the file as it
// is before them in, a few words out.
import { nameOf, subjectOf } from "./subjects.js";

const VERBS = [
  ["moved", ["room", "to", "corner", "wall", "from-left", "at", "shift", "right-of", "left-of", "behind", "in-front-of", "above", "storey", "on"]],
  ["turned", ["faces", "towards"]],
  ["resized", ["size", "outline", "width"]],
];
const LONG = 30;

function listed(file, subject) {
  const [, path, index] = /^(.*)\[(\d+)\]$/.exec(subject);
  return path.split(".").reduce((at, key) => at?.[key], file)?.[Number(index)];
}

// A thing that is not in the file yet, by what would be written of it.
function newName(value) {
  const says = (key) => new RegExp(`[{,] ?"?${key}"?: ?"?([^,}"]+)`).exec(value)?.[1];
  return ["name", "door", "device", "keypad", "says", "is", "room"].map(says).find(Boolean) ?? "something";
}

function called(file, subject) {
  const name = nameOf(file, subject);
  return name === subject ? listed(file, subject)?.name ?? subject : name;
}

// What one edit is about, and what it does to it.
function one(file, { path, value }) {
  const subject = subjectOf(path);
  if (!subject) return { about: path.replaceAll(".", " "), does: value === null ? "taken out" : `: ${value}` };
  const key = path.slice(subject.length).replace(/^\./, "");
  if (key === "" && value === null) return { about: called(file, subject), does: subject.startsWith("building") ? "taken off the drawing" : "taken out" };
  if (key === "") return listed(file, subject) === undefined ? { about: newName(value), does: "added" } : { about: called(file, subject), does: "changed" };
  const verb = subject.startsWith("building") || key === "on" ? VERBS.find(([, keys]) => keys.includes(key))?.[0] : null;
  return { about: called(file, subject), does: verb ?? `: ${key.replaceAll(".", " ")} ${value ?? "as usual"}` };
}

export function saidOf(file, edits) {
  const rooms = edits.filter(({ path }) => path.startsWith("building.rooms"));
  const all = (rooms.length > 0 ? rooms : edits).map((edit) => one(file, edit));
  const abouts = [...new Set(all.map(({ about }) => about))];
  const more = abouts.length < 2 ? "" : abouts.length === 2 ? ` and ${abouts[1]}` : ` and ${abouts.length - 1} more`;
  const verbs = all.map(({ does }) => does);
  const does = ["added", "taken off the drawing", "resized"].find((verb) => verbs.includes(verb)) ?? verbs[0];
  const short = does.startsWith(":") && (does.length > LONG || verbs.length > 1) ? " changed" : does.startsWith(":") ? does : ` ${does}`;
  return `${abouts[0]}${more}${short}`;
}
