// A story as a course of seconds: which instants count, how they lie on a line, who is where. Pure.

const QUIET_S = 60; // a longer gap without an event is folded
const ORDER = ["person", "door", "area", "sound", "awaited", "station"];

// Every instant at which something begins, ends or is told, in order.
export function instants(finding) {
  const all = [...(finding.bars ?? []).flatMap((bar) => [bar.from_s, ...(bar.to_s === null ? [] : [bar.to_s])]), ...(finding.story ?? []).map((line) => line.at_s)];
  return [...new Set(all)].sort((a, b) => a - b);
}

// From the first instant to a little after the last, so that what still goes on can be seen to.
export function spanOf(finding) {
  const all = instants(finding);
  const [first, last] = [all[0] ?? 0, all[all.length - 1] ?? 0];
  return { first, last, end: last + Math.min(12, Math.max(4, Math.round((last - first) / 20))) };
}

// Stretches of seconds with a quiet gap between: [{from, to}].
export function stretches(finding) {
  const { end } = spanOf(finding);
  const list = [];
  for (const at of [...instants(finding), end]) {
    const open = list[list.length - 1];
    if (open && at - open.to <= QUIET_S) open.to = at;
    else list.push({ from: at, to: at });
  }
  return list;
}

// Where seconds lie on a line of `width`: each stretch as long as its seconds, each gap `gap` wide. at(second), and back(x).
export function lineOf(list, width, gap) {
  const seconds = list.reduce((sum, one) => sum + one.to - one.from + 1, 0);
  const scale = Math.max(0.001, (width - gap * (list.length - 1)) / seconds);
  let x = 0;
  const placed = list.map((one) => {
    const start = x;
    x += (one.to - one.from + 1) * scale + gap;
    return { ...one, start, stop: x - gap };
  });
  const at = (second) => {
    const inside = placed.find((one) => second <= one.to) ?? placed[placed.length - 1];
    if (second >= inside.from) return inside.start + Math.min(second - inside.from, inside.to - inside.from + 1) * scale;
    const before = placed[placed.indexOf(inside) - 1];
    return before ? before.stop + gap * (second - before.to) / (inside.from - before.to) : inside.start;
  };
  const back = (wanted) => {
    const inside = placed.find((one) => wanted <= one.stop) ?? placed[placed.length - 1];
    return Math.min(inside.to, Math.max(inside.from, inside.from + (wanted - inside.start) / scale));
  };
  return { at, back, scale, placed };
}

// The lanes that have a bar: [{lane, of, bars}], people first in the order of their first act.
export function lanesOf(finding) {
  const lanes = [];
  for (const bar of finding.bars ?? []) {
    const found = lanes.find((one) => one.lane === bar.lane && one.of === bar.of);
    if (found) found.bars.push(bar);
    else lanes.push({ lane: bar.lane, of: bar.of, bars: [bar] });
  }
  const first = (one) => Math.min(...one.bars.map((bar) => bar.to_s ?? bar.from_s));
  return lanes.sort((a, b) => ORDER.indexOf(a.lane) - ORDER.indexOf(b.lane) || (a.lane === "person" ? first(a) - first(b) : 0));
}

// The time of day of a second, as the story's own lines have it; minutes and seconds where it names none.
export function clockOf(finding) {
  const told = finding.story?.find((line) => /^\d\d:\d\d:\d\d$/.test(line.clock));
  const two = (value) => String(value).padStart(2, "0");
  if (!told) return (second) => (second < 3600 ? `${Math.floor(second / 60)}` : `${Math.floor(second / 3600)}:${two(Math.floor(second % 3600 / 60))}`) + `:${two(Math.floor(second % 60))}`;
  const [hours, minutes, seconds] = told.clock.split(":").map(Number);
  const base = hours * 3600 + minutes * 60 + seconds - told.at_s;
  return (second) => {
    const at = (((base + Math.floor(second)) % 86400) + 86400) % 86400;
    return `${two(Math.floor(at / 3600))}:${two(Math.floor(at % 3600 / 60))}:${two(at % 60)}`;
  };
}

// The second at which the promise breaks, or null.
export function breaksAt(finding) {
  const bad = [...(finding.bars ?? []).filter((bar) => bar.bad).map((bar) => bar.from_s), ...(finding.story ?? []).filter((line) => line.bad).map((line) => line.at_s)];
  return bad.length > 0 ? Math.min(...bad) : null;
}

// Whose lane a line of the story speaks of: a person's, "sound", "station", "panel"; "" where nothing is drawn of it.
export function laneOf(finding, line) {
  const bars = finding.bars ?? [];
  const says = (lane, at) => bars.find((bar) => bar.lane === lane && bar[at] === line.at_s && (line.what.includes(bar.says) || line.what.startsWith(bar.state || bar.says)));
  const acts = says("person", "to_s");
  if (acts) return acts.of;
  return ["sound", "station"].find((lane) => says(lane, "from_s")) ?? (bars.length > 0 ? "panel" : "");
}

// The last line that has been told at a second.
export function lineAt(finding, second) {
  return (finding.story ?? []).filter((line) => line.at_s <= second).pop() ?? null;
}

export function nextInstant(finding, second, back = false) {
  const all = instants(finding);
  return back ? all.filter((at) => at < second - 0.001).pop() ?? all[0] : all.find((at) => at > second + 0.001) ?? all[all.length - 1];
}

export function holdsAt(bar, second) {
  return bar.from_s <= second && (bar.to_s === null || second < bar.to_s);
}
