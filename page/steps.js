// The steps of a routine: what is written when one is added, moved, taken out. Pure.
import { flow, quoted } from "./moves.js";
import { says } from "./subjects.js";

// What can be done, in the words of the file, and with what.
export const VERBS = [
  { key: "come", words: "comes in by", things: (file) => (file.ways ?? []).map((one) => one.name) },
  { key: "go", words: "goes out by", things: (file) => (file.ways ?? []).map((one) => one.name) },
  { key: "open", words: "opens", things: (file) => (file.doors ?? []).map((one) => one.name) },
  { key: "close", words: "closes", things: (file) => (file.doors ?? []).map((one) => one.name) },
  { key: "pass", words: "passes", things: (file) => (file.zones ?? []).map((one) => says(one)) },
  { key: "walk", words: "walks to", things: (file) => (file.building?.rooms ?? []).filter((one) => (one.is ?? "room") === "room").map((one) => one.name) },
  { key: "unset", words: "keys the code at", things: (file) => (file.keypads ?? []).map((one) => one.name) },
  { key: "mistype", words: "mistypes at", things: (file) => (file.keypads ?? []).map((one) => one.name) },
  { key: "set", words: "sets", things: (file) => (file.keypads ?? []).flatMap((keypad) => ["full", "part", "night", ...(file.panel?.modes ?? []).map((mode) => mode.name)].map((mode) => `${mode} at ${keypad.name}`)) },
  { key: "press", words: "presses", things: (file) => (file.zones ?? []).filter((one) => ["hold-up", "medical"].includes(one.behaviour)).map((one) => says(one)) },
  { key: "wait", words: "waits", things: () => [] },
];

// A step as one line of the file. time: as the file has it, "4..9 s" or a span of times of day; thing: one of what the verb offers.
export function stepOf(who, key, thing, time) {
  const [mode, keypad] = key === "set" ? thing.split(" at ") : [];
  const when = /:/.test(time) ? { at: time.replaceAll('"', "") } : { in: time };
  return flow({ who, ...when, [key]: key === "wait" ? true : key === "set" ? mode : thing, keypad });
}

export function added(routines, index, step) {
  return [{ path: `routines[${index}].steps[${routines[index].steps.length}]`, value: step }];
}

export function takenOut(index, step) {
  return [{ path: `routines[${index}].steps[${step}]`, value: null }];
}

// One step earlier or later: it and its neighbour change places. Where the first has a time of day, that stays first, and the
// pause between both stays between them.
export function swapped(routines, index, step, by) {
  const { steps } = routines[index];
  const other = step + by;
  if (other < 0 || other >= steps.length) return [];
  const at = Math.min(step, other);
  const bare = ({ at: time, in: pause, ...rest }) => rest;
  const [first, second] = [steps[at], steps[at + 1]];
  const timed = first.at !== undefined && second.at === undefined;
  const line = (one) => flow({ ...one, maybe: one.maybe === true ? true : null });
  return [{ path: `routines[${index}].steps[${at}]`, value: line(timed ? { at: first.at, ...bare(second) } : second) },
    { path: `routines[${index}].steps[${at + 1}]`, value: line(timed ? { in: second.in, ...bare(first) } : first) }];
}

export function newRoutine(file, name, who, way, at) {
  return [{ path: `routines[${file.routines?.length ?? 0}]`, value: `{name: ${quoted(name)}, who: ${quoted(who)}, steps: [${flow({ at, come: way })}]}` }];
}
