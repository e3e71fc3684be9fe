// What is typed while a house is begun, made into edits of its file: rooms, openings, devices, routines. Pure: a file and what
// the panel offers in; edits, or what is wrong, out. Presets are common practice, written down where everybody sees them.
import { lengthOf, pairOf, written, writtenPair } from "./measures.js";
import { freeName } from "./moves.js";
import { yaml } from "./yaml.js";

const WALLS = ["front", "right", "back", "left"];
const CORNERS = ["front left", "front right", "back right", "back left"];
const WALL_BETWEEN_M = 0.12; // inner walls until a material is chosen (docs/drawing.md)

function refuse(what) {
  return { wrong: what };
}

// One more thing of a list: an edit that also says what it adds, so that the next can follow it.
function adds(list, things, item) {
  return { path: `${list}[${things?.length ?? 0}]`, value: yaml(item), list, item };
}

// The file as it will be with what the edits add.
function withAdded(file, edits) {
  const after = { ...file, building: { ...file.building } };
  for (const { list, item } of edits) {
    const [parent, key] = list.startsWith("building.") ? [after.building, list.slice("building.".length)] : [after, list];
    parent[key] = [...(parent[key] ?? []), item];
  }
  return after;
}

// Several things in one line, with commas between: all of them, or what is wrong with the first that is not understood.
function several(typed, file, one) {
  const edits = [];
  let present = file;
  for (const part of typed.split(/[,;]/).map((words) => words.trim()).filter(Boolean)) {
    const result = one(part, present);
    if (result.wrong) return typed.trim() === part ? result : refuse(`“${part}”: ${result.wrong}`);
    edits.push(...result.edits);
    present = withAdded(present, result.edits);
  }
  return edits.length > 0 ? { edits: edits.map(({ path, value }) => ({ path, value })) } : one(typed, file);
}

function metres(typed) {
  const match = /^(\d+(?:\.\d+)?)\s*(m|cm|mm)?$/.exec(typed.trim().replace(",", "."));
  return match ? Number(match[1]) / { m: 1, cm: 100, mm: 1000 }[match[2] ?? "m"] : NaN;
}

function round(number) {
  return Math.round(number * 100) / 100;
}

// "9 x 7 m" in metres, [9, 7]; null where it is written otherwise.
export function sidesOf(size) {
  const match = /^(\d+(?:\.\d+)?)\s*x\s*(\d+(?:\.\d+)?)\s*m$/.exec(size ?? "");
  return match ? [Number(match[1]), Number(match[2])] : null;
}

// ---- rooms

// The floor divided from left to right: "hall 2, kitchen 3.5, bedroom". Who says no width shares what is left.
export function roomEdits(typed, file) {
  const sides = sidesOf(file.building?.rooms?.[0]?.size);
  const parts = typed.split(/[,;]/).map((one) => one.trim()).filter(Boolean).map((one) => /^(.*?)\s*([\d.]+\s*(?:m|cm|mm)?)?$/.exec(one));
  const rooms = parts.map(([, name, width]) => ({ name: name.trim(), width: width ? metres(width) : null }));
  if (rooms.length === 0) return refuse("name the rooms, from left to right: hall 2, kitchen, bedroom");
  if (!sides) return refuse("the ground floor has no measures yet; type its size in the site file, or draw");
  if (rooms.some((room) => room.name === "" || Number.isNaN(room.width))) return refuse("each room is a name, and a width in metres where you know it: hall 2");
  if (new Set(rooms.map((room) => room.name)).size < rooms.length) return refuse("two rooms have one name");
  const said = rooms.reduce((sum, room) => sum + (room.width ?? 0), 0);
  const open = rooms.filter((room) => room.width === null).length;
  const left = sides[0] - WALL_BETWEEN_M * (rooms.length - 1) - said;
  if (left < -0.005 || (open > 0 && left / open < 0.5)) return refuse(`the widths are ${round(said)} m and the floor is ${sides[0]} m; ${round(WALL_BETWEEN_M * (rooms.length - 1))} m are walls between`);
  const size = (room) => `${round(room.width ?? left / open)} x ${sides[1]} m`;
  return { edits: rooms.flatMap((room, i) => (i === 0
    ? [{ path: "building.rooms[0].name", value: yaml(room.name) }, { path: "building.rooms[0].size", value: size(room) }]
    : [{ path: `building.rooms[${i}]`, value: yaml({ name: room.name, size: size(room), "right-of": rooms[i - 1].name }) }])) };
}

const BESIDE = ["right-of", "left-of", "behind", "in-front-of"];

function roomBeside(typed, file) {
  const match = /^(?:room )?(.+?) (\d\S* *(?:[a-z]+ )?x *\d\S*(?: [cm]*m)?) (right of|left of|behind|in front of|at) (.+)$/i.exec(typed.trim());
  const pair = match && pairOf(match[2]);
  const rooms = file.building?.rooms ?? [];
  if (!pair) return refuse("a room: what it is called, wide x deep inside, beside which one; as “room kitchen 4.2 x 3.1 right of hall”");
  const at = match[3].toLowerCase() === "at" ? pairOf(match[4], true) : null;
  if (at) return { edits: [adds("building.rooms", rooms, { name: match[1], at: writtenPair(at), size: writtenPair(pair) })] };
  const beside = rooms.find((room) => room.name.toLowerCase() === match[4].toLowerCase());
  if (!beside) return refuse(`there is no ${match[4]}; rooms are ${roomsInWords(file)}`);
  if (rooms.some((room) => room.name === match[1])) return refuse(`there is a ${match[1]} already`);
  return { edits: [adds("building.rooms", rooms, { name: match[1], size: writtenPair(pair), [match[3].toLowerCase().replaceAll(" ", "-")]: beside.name })] };
}

// "room kitchen 4.2 x 3.1 right of hall": one more room, or several.
export function besideEdits(typed, file) {
  return several(typed, file, roomBeside);
}

// Rooms that stand beside each other, as the file says it.
export function neighbours(file) {
  return (file.building?.rooms ?? []).flatMap((room) => BESIDE.filter((key) => room[key]).map((key) => [room[key], room.name]));
}

function joined(file, a, b) {
  return (file.building?.openings ?? []).some((one) => one.to && ((one.room === a && one.to === b) || (one.room === b && one.to === a)));
}

export function closedNeighbours(file) {
  return neighbours(file).filter(([a, b]) => !joined(file, a, b));
}

export function innerDoorEdits(file) {
  const from = file.building?.openings?.length ?? 0;
  return { edits: closedNeighbours(file).map(([a, b], i) => ({ path: `building.openings[${from + i}]`, value: yaml({ room: a, to: b }) })) };
}

// ---- words of a line

// The longest name of a room that the words hold, where it stands, and what is left of them.
function findRoom(words, file) {
  const text = ` ${words.join(" ").toLowerCase()} `;
  const names = (file.building?.rooms ?? []).map((room) => room.name);
  const found = names.map((name) => ({ name, at: text.lastIndexOf(` ${name.toLowerCase()} `) })).filter((one) => one.at >= 0);
  const best = found.sort((a, b) => b.name.length - a.name.length || b.at - a.at)[0];
  return best ? { room: best.name, before: text.slice(0, best.at).trim(), after: text.slice(best.at + best.name.length + 1).trim() } : null;
}

// "hall front": the index of the room, and which of its walls or corners; null where no room is named.
export function spotIn(typed, file) {
  const place = readPlace(typed, file);
  return place.room ? { room: file.building.rooms.findIndex((room) => room.name === place.room), wall: place.wall, corner: place.corner } : null;
}

// "hall front" at the end of a line: a room and one of its walls or corners; the rest is what it is.
function readPlace(typed, file) {
  const words = typed.trim().replace(/[,:]/g, " ").split(/\s+/).filter(Boolean);
  const side = [];
  while (words.length > 0 && WALLS.includes(words[words.length - 1].toLowerCase()) && side.length < 2) side.unshift(words.pop().toLowerCase());
  const found = findRoom(words, file);
  const where = side.join(" ");
  const corner = CORNERS.find((one) => one === where || one === side.slice().reverse().join(" "));
  return { ...found, wall: side.length === 1 ? side[0] : null, corner: corner ?? null, words };
}

function roomsInWords(file) {
  return (file.building?.rooms ?? []).map((room) => room.name).join(", ");
}

// ---- openings

// One more opening: is (undefined: a door), name (undefined: by its place and kind), room, to (undefined: the outside), wall, left (mm from the
// left corner, undefined: in the middle). One to the outside is one of the doors. Said or pressed, it is the same.
export function newOpenings(file, { is, name, kind = is ?? "door", room, to, wall, left }) {
  const where = { is, room, to, wall: wall ?? undefined, "from-left": left === undefined ? undefined : written(left) };
  const inner = to && (file.building.rooms.find((one) => one.name === to)?.is ?? "room") === "room";
  if (inner) return [adds("building.openings", file.building.openings, where)];
  /* The first door in the front of a house is its front door. */
  const usual = kind === "door" && ["front", "back"].includes(wall) ? `${wall} door` : null;
  const door = name ?? (usual && !(file.doors ?? []).some((one) => one.name === usual) ? usual : freeName(`${room} ${kind}`, file.doors ?? []));
  return [adds("doors", file.doors, { name: door, outside: true }), adds("building.openings", file.building.openings, { door, ...where })];
}

const FROM_LEFT = /\s+(\d\S*(?: *[cm]?m)?) from (?:the )?left$/i;

function opening(all, file) {
  const measured = FROM_LEFT.exec(all.trim());
  const left = measured ? lengthOf(measured[1]) : undefined;
  if (left === null) return refuse(`${measured[1]} is no length; as “front door hall front 0.4 m from left”`);
  const typed = measured ? all.trim().slice(0, measured.index) : all;
  const place = readPlace(typed, file);
  if (!place.room) return refuse(`say in which room: ${roomsInWords(file)}; as “front door hall front”`);
  const isWindow = /\bwindow\b/i.test(typed);
  if (!isWindow && !/\b(door|gate|shutter)\b/i.test(typed)) return refuse("say what it is: a door or a window; as “kitchen window back”");
  const other = place.wall ? null : findRoom([...place.before.split(" "), ...place.after.split(" ")], file);
  const is = isWindow ? "window" : undefined;
  const bareName = (words) => (/^((an?|the) )?(door|window|gate|shutter)?$/.test(words) ? undefined : words.replace(/^(an?|the) /, ""));
  if (other && other.room !== place.room) {
    /* The room that is named first is the one in which one stands. */
    const [here, there] = ` ${place.before} `.includes(` ${other.room.toLowerCase()} `) ? [other, place] : [place, other];
    return { edits: newOpenings(file, { is, name: bareName(here.before), room: here.room, to: there.room, left }) };
  }
  if (!place.wall) return refuse(`say in which wall of the ${place.room}: front, right, back or left; or to which other room it leads`);
  /* Without a name of its own it is called by its place. */
  const said = bareName(place.before);
  const kind = place.after || place.before.replace(/^(an?|the) /, "") || "door";
  const name = said && (place.after ? `${said} ${place.room} ${place.after}` : said);
  if (name && (file.doors ?? []).some((door) => door.name === name)) return refuse(`there is a ${name} already: call this one otherwise`);
  return { edits: newOpenings(file, { is, name, kind, room: place.room, wall: place.wall, left }) };
}

// "front door hall front, kitchen window back": what it is called, its room, its wall. "door hall kitchen": it leads from one to the other.
export function openingEdits(typed, file) {
  return several(typed, file, opening);
}

// ---- devices

function isWindow(file, door) {
  return (file.building?.openings ?? []).find((one) => one.door === door)?.is === "window" || /window/.test(door);
}

// Openings to the outside with no detector on them.
export function bare(file) {
  const on = new Set((file.devices ?? []).map((one) => one.on));
  return (file.doors ?? []).filter((door) => door.outside === true || door.outside === "yes").map((door) => door.name).filter((name) => !on.has(name));
}

// Of a name the words that the panel speaks; all of them where it speaks any.
function spoken(name, words) {
  const list = name.split(" ").filter((word) => words.length === 0 || words.includes(word));
  return list.length > 0 ? list : words.slice(0, 1);
}

// "contact front door, kitchen window": a contact on each of the openings named.
export function namedContacts(typed, file, offers, devices) {
  const open = bare(file);
  const parts = typed.split(/[,;]/).map((one) => one.trim().replace(/^contact( on)?( the)? /i, "").toLowerCase()).filter(Boolean);
  const unknown = parts.find((part) => !open.some((name) => name.toLowerCase() === part));
  if (unknown !== undefined || parts.length === 0) return refuse(`on which opening? without a detector are: ${open.join(", ") || "none"}`);
  return contactEdits(file, offers, contacts(devices)[0], open.filter((name) => parts.includes(name.toLowerCase())));
}

// What the panel takes of a kind, the usual one first (as lintel new has it).
const USUAL = ["slim-contact", "quarter-motion", "fog-siren"];

function suiting(devices, wanted) {
  const list = (devices ?? []).filter((one) => one.suits && wanted(one));
  return [...list.filter((one) => USUAL.includes(one.name)), ...list.filter((one) => !USUAL.includes(one.name))];
}

export function contacts(devices) {
  return suiting(devices, (one) => one.kind === "sensor" && one.senses === "contact");
}

export function contactEdits(file, offers, profile, openings = bare(file)) {
  if (!profile) return refuse("no contact is offered that this panel takes; write down its profile (docs/profiles.md)");
  const free = offers.free[profile.radio ? "radio" : "wired"];
  if (free.length < openings.length) return refuse(`the panel has ${free.length} free numbers and ${openings.length} are needed`);
  const doors = openings.filter((name) => !isWindow(file, name));
  const keypad = file.keypads?.[0]?.name;
  const at = (list) => file[list]?.length ?? 0;
  const edits = openings.flatMap((name, i) => [
    { path: `devices[${at("devices") + i}]`, value: yaml({ name: `${name} contact`, profile: profile.name, on: name }) },
    { path: `zones[${at("zones") + i}]`, value: yaml({ number: free[i], says: spoken(name, offers.words), device: `${name} contact`, area: file.areas?.[0]?.name, behaviour: doors.includes(name) ? "entry" : "perimeter",
      delay: doors.includes(name) ? name : undefined, chime: true }) }]);
  const delays = { ...file.panel["entry-delays"], ...Object.fromEntries(doors.map((name) => [name, "30 s"])) };
  return { edits: [...(doors.length > 0 ? [{ path: "panel.entry-delays", value: yaml(delays) }] : []), ...edits,
    ...(keypad ? doors.map((name, i) => ({ path: `ways[${at("ways") + i}]`, value: yaml({ name: `${name} way`, door: name, closes: "1..3 s", keypad }) })) : [])] };
}

// Rooms from one to another through the inner openings, both ends among them; empty: no way.
export function between(file, from, to) {
  const openings = (file.building?.openings ?? []).filter((one) => one.to);
  let paths = [[from]];
  const seen = new Set([from]);
  while (paths.length > 0) {
    const done = paths.find((path) => path[path.length - 1] === to);
    if (done) return done;
    paths = paths.flatMap((path) => openings.flatMap((one) => {
      const here = path[path.length - 1];
      const next = one.room === here ? one.to : one.to === here ? one.room : null;
      if (next === null || seen.has(next)) return [];
      seen.add(next);
      return [[...path, next]];
    }));
  }
  return [];
}

// A motion detector in a room that one crosses between a door and the keypad follows that door.
function isPassed(file, room) {
  const keypad = (file.building?.places ?? []).find((place) => place.keypad)?.room;
  const doors = (file.building?.openings ?? []).filter((one) => one.door && !one.to && one.is !== "window");
  return keypad !== undefined && doors.some((one) => between(file, one.room, keypad).includes(room));
}

function motionEdits(file, offers, devices, where) {
  const pets = (file.people ?? []).some((person) => person.animal === true || person.animal === "yes");
  const kind = (one) => one.kind === "sensor" && one.senses === "motion" && !one.curtain;
  const profile = [...suiting(devices, (one) => kind(one) && one.overlooks === pets), ...suiting(devices, kind)][0];
  if (!profile) return refuse("no motion detector is offered that this panel takes; write down its profile (docs/profiles.md)");
  const taken = new Set((file.zones ?? []).map((zone) => zone.number));
  const number = offers.free[profile.radio ? "radio" : "wired"].find((one) => !taken.has(one));
  if (number === undefined) return refuse("every number of the panel is taken");
  const name = `${where.room} motion`;
  if ((file.devices ?? []).some((one) => one.name === name)) return refuse(`there is a ${name} already`);
  const passed = isPassed(file, where.room);
  return { edits: [adds("devices", file.devices, { name, profile: profile.name }),
    adds("zones", file.zones, { number, says: spoken(where.room, offers.words), device: name, area: file.areas?.[0]?.name, behaviour: passed ? "follower" : "interior", hold: passed ? "5 s" : undefined, in: { part: "out", night: "out" } }),
    adds("building.places", file.building.places, { device: name, ...where })] };
}

function sirenEdits(file, devices, where) {
  const [profile] = suiting(devices, (one) => one.kind === "siren");
  const count = (file.devices ?? []).filter((one) => /^siren/.test(one.name)).length;
  if (!profile) return refuse("no siren is offered that this panel takes; write down its profile (docs/profiles.md)");
  const name = count === 0 ? "siren" : `siren ${count + 1}`;
  return { edits: [adds("devices", file.devices, { name, profile: profile.name }), adds("building.places", file.building.places, { device: name, ...where })] };
}

function keypadEdits(file, where) {
  const places = file.building.places ?? [];
  const free = (file.keypads ?? []).find((one) => !places.some((place) => place.keypad === one.name));
  return free ? { edits: [adds("building.places", places, { keypad: free.name, ...where })] } : refuse("every keypad of the file has its place");
}

function panelEdits(file, where) {
  const places = file.building.places ?? [];
  return places.some((place) => place.is === "panel") ? refuse("the panel has its place") : { edits: [adds("building.places", places, { is: "panel", ...where })] };
}

// One more device of a kind: panel, keypad, siren or motion. where: the keys of its place, its room first.
export function hungEdits(kind, file, offers, devices, where) {
  if (kind === "motion") return motionEdits(file, offers, devices, where);
  if (kind === "siren") return sirenEdits(file, devices, where);
  return kind === "keypad" ? keypadEdits(file, where) : panelEdits(file, where);
}

function device(typed, file, offers, devices) {
  const place = readPlace(typed, file);
  const kind = ["keypad", "panel", "motion", "siren"].find((one) => new RegExp(`\\b${one}\\b`, "i").test(typed));
  if (!kind) return refuse("say what it is: panel, keypad, siren or motion; as “motion hall back left”");
  if (!place.room) return refuse(`say in which room: ${roomsInWords(file)}; as “${kind} hall right”`);
  const where = { room: place.room, ...(place.corner ? { corner: place.corner } : place.wall ? { wall: place.wall } : {}) };
  if (kind === "motion" && !place.corner && !place.wall) return refuse("say in which corner or on which wall: back left");
  return hungEdits(kind, file, offers, devices, where);
}

// "keypad hall right, motion hall back left, siren hall": what it is, its room, its wall or corner.
export function deviceEdits(typed, file, offers, devices) {
  return several(typed, file, (part, present) => device(part, present, offers, devices));
}

// ---- routines

// What a household has, from who lives there: each with what is kept when it is taken as it is.
export function routineOffers(file) {
  const people = (file.people ?? []).filter((person) => person.animal !== true && person.animal !== "yes");
  const ways = (file.ways ?? []).map((way) => way.name);
  const keypad = file.keypads?.[0]?.name;
  const area = file.areas?.[0]?.name;
  const child = people.find((person) => person.walks === "child");
  const adult = people.find((person) => person !== child && !/^cleaner/.test(person.name)) ?? people[0];
  if (!adult || ways.length === 0 || !keypad) return [];
  const [first] = ways;
  const last = ways[ways.length - 1];
  const passed = (file.zones ?? []).find((zone) => zone.behaviour === "follower" && zone.in?.night);
  const offers = [
    { name: "last one out", says: "Whoever goes last sets everything and leaves.", who: adult.name, way: first, at: "07:30-08:00",
      steps: (way, at) => [{ at, set: "full", keypad }, { go: way }] },
    { name: "first one home", says: "Whoever comes home first unsets.", who: adult.name, way: first, at: "16:30-18:00", starts: "full",
      steps: (way, at) => [{ at, come: way }, { unset: keypad }] },
    { name: "to bed, night set", says: "The last to go to bed sets for the night; the first one up unsets.", who: adult.name, way: null, at: "22:00-23:30",
      steps: (way, at) => [{ at, set: "night", keypad }, { in: "6..8 h", unset: keypad }] },
    ...(passed ? [{ name: "up in the night", says: "Somebody goes through the house while it is set for the night.", who: adult.name, way: null, at: "02:00-04:00", starts: "night",
      steps: (way, at) => [{ at, pass: passed.device }, { in: "1..5 min", pass: passed.device }] }] : []),
    ...(child ? [{ name: "child home alone", says: "The child comes home alone, may mistype once, and unsets.", who: child.name, way: last, at: "15:20-15:50", starts: "full",
      steps: (way, at) => [{ at, come: way }, { mistype: keypad, maybe: true }, { unset: keypad }] }] : []),
  ];
  const kept = new Set((file.routines ?? []).map((routine) => routine.name));
  return offers.filter((offer) => !kept.has(offer.name)).map((offer) => ({ ...offer, ways, starts: offer.starts ? { [area]: offer.starts } : undefined }));
}

// at: "07:30-08:00", as a person types it.
export function routineEdits(offer, way, at, file) {
  const match = /^(\d{1,2}):(\d\d)\s*(?:-|–|\.\.|to)\s*(\d{1,2}):(\d\d)$/.exec(at.trim());
  if (!match) return refuse("a time of day from-to, as 07:30-08:00");
  const clock = `${match[1].padStart(2, "0")}:${match[2]}..${match[3].padStart(2, "0")}:${match[4]}`;
  return { edits: [{ path: `routines[${file.routines?.length ?? 0}]`, value: yaml({ name: offer.name, says: offer.says, who: offer.who, starts: offer.starts, steps: offer.steps(way, clock) }) }] };
}
