// People of a story on the drawing: where each stands at a second, on which way between rooms, which doors stand open then.
// Ways lead through the doors of the drawing from room to room; how fast, the story says.
import { s } from "./dom.js";
import { indexOf } from "./subjects.js";
import { holdsAt } from "./story.js";

function shapesOf(storey) {
  return [...storey.floors, ...storey.building, ...storey.things];
}

function middle(points) {
  const xs = points.filter((_, i) => i % 2 === 0);
  const ys = points.filter((_, i) => i % 2 === 1);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

// What the drawing says of places: rooms by name, openings with their middle and what they join. Points are the building's own.
export function mapOf(drawing, file) {
  const rooms = new Map();
  const openings = [];
  const spots = new Map();
  const building = file.building ?? {};
  drawing.storeys.forEach((storey, level) => {
    for (const one of shapesOf(storey)) {
      const room = building.rooms?.[indexOf(one.about, "building.rooms")];
      if (room && (one.role === "floor" || one.role === "ground") && !rooms.has(room.name)) rooms.set(room.name, { storey: level, at: middle(one.points_mm), outside: one.role === "ground" });
      /* Where its name has room there is room to stand; below it, so that the name can be read. */
      if (room && one.role === "label") rooms.set(room.name, { storey: level, outside: rooms.get(room.name)?.outside ?? false, at: [one.points_mm[0], one.points_mm[1] - drawing.scale * 6] });
      if (one.role === "gap") {
        const index = indexOf(one.about, "building.openings");
        const [a, b, c, d] = [0, 2, 4, 6].map((i) => [one.points_mm[i], one.points_mm[i + 1]]);
        const half = (p, q) => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
        openings.push({ index, storey: level, at: middle(one.points_mm), leaf: [half(a, d), half(b, c)], near: half(a, b), far: half(c, d),
          door: building.openings[index].door, room: building.openings[index].room, to: building.openings[index].to });
      }
      if (["sign", "sign-dark"].includes(one.role) && one.about) spots.set(one.about, { storey: level, at: middle(one.points_mm) });
    }
    for (const one of storey.building) {
      const stairs = building.stairs?.[indexOf(one.about, "building.stairs")];
      if (stairs && one.form === "area") openings.push({ stairs: stairs.name, index: indexOf(one.about, "building.stairs"), storey: level, at: middle(one.points_mm), near: middle(one.points_mm), far: middle(one.points_mm), room: stairs.room, to: stairs.to });
    }
  });
  return { rooms, openings, spots, file };
}

// A step further on from `from` through `to`: so far beyond the wall that somebody stands clear of it.
function beyond(from, to, by) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [to[0] + (to[0] - from[0]) / length * by, to[1] + (to[1] - from[1]) / length * by];
}

// The fewest doors from room to room: [{opening, into}], or null where there is no way. Null is outside.
function doorsBetween(map, from, to) {
  const seen = new Map([[from, null]]);
  const queue = [from];
  while (queue.length > 0) {
    const room = queue.shift();
    if (room === to) break;
    for (const opening of map.openings) {
      const into = opening.room === room ? opening.to ?? null : (opening.to ?? null) === room ? opening.room : undefined;
      if (into === undefined || seen.has(into) || (opening.stairs === undefined && map.file.building.openings[opening.index].is === "window")) continue;
      seen.set(into, { room, opening });
      queue.push(into);
    }
  }
  if (!seen.has(to)) return null;
  const doors = [];
  for (let at = to; seen.get(at); at = seen.get(at).room) doors.unshift({ opening: seen.get(at).opening, into: at });
  return doors;
}

const CLEAR_MM = 650;

// Where an act is done: in which room (null: outside), at which point.
function placeOf(map, act, inside) {
  const { file } = map;
  const door = file.doors?.[indexOf(act.at, "doors")];
  if (door) {
    const opening = map.openings.find((one) => one.door === door.name);
    if (!opening) return null;
    const out = { room: opening.to ?? null, storey: opening.storey, at: beyond(opening.near, opening.far, CLEAR_MM) };
    const into = { room: opening.room, storey: opening.storey, at: beyond(opening.far, opening.near, CLEAR_MM) };
    return inside ? into : out;
  }
  const zone = file.zones?.[indexOf(act.at, "zones")];
  const keypad = file.keypads?.[indexOf(act.at, "keypads")];
  const place = (file.building?.places ?? []).findIndex((one) => (keypad ? one.keypad === keypad.name : zone && one.device === zone.device));
  const room = file.building?.places?.[place]?.room;
  if (!room || !map.rooms.has(room)) return null;
  const { storey, at } = map.rooms.get(room);
  const spot = keypad ? map.spots.get(`building.places[${place}]`)?.at : null;
  return { room, storey, at: spot ? beyond(at, spot, -CLEAR_MM) : at };
}

// The way of one person through a story: points with the second at which he is there: [{at, storey, second, room}].
export function wayOf(map, acts) {
  const way = [];
  const first = map.file.doors?.[indexOf(acts[0]?.at, "doors")];
  let inside = !first?.outside;
  const step = (place, second) => {
    const before = way[way.length - 1];
    const doors = before && before.room !== place.room ? doorsBetween(map, before.room, place.room) ?? [] : [];
    const points = doors.flatMap(({ opening, into }) => {
      const outward = (opening.to ?? null) === into;
      const [one, other] = outward ? [opening.near, opening.far] : [opening.far, opening.near];
      return [{ at: one, storey: opening.storey, room: into }, { at: other, storey: opening.storey, room: into }];
    });
    const stops = [...points, place];
    if (!before) way.push({ ...place, second });
    else {
      const from = before.second;
      const lengths = stops.map((stop, i) => { const a = (i === 0 ? before : stops[i - 1]).at; return Math.hypot(stop.at[0] - a[0], stop.at[1] - a[1]); });
      const whole = lengths.reduce((sum, length) => sum + length, 0) || 1;
      let gone = 0;
      stops.forEach((stop, i) => { gone += lengths[i]; way.push({ ...stop, second: from + (second - from) * gone / whole }); });
    }
  };
  for (const act of acts) {
    const outer = map.file.doors?.[indexOf(act.at, "doors")]?.outside;
    const place = placeOf(map, act, inside);
    if (!place) continue;
    if (way.length > 0 && act.from_s > way[way.length - 1].second) way.push({ ...way[way.length - 1], second: act.from_s });
    step(place, act.to_s);
    if (outer && /^opens/.test(act.says)) inside = !inside;
  }
  return way;
}

// Where somebody is at a second: on the way between two points; null before he is seen.
export function positionAt(way, second) {
  if (way.length === 0 || second < way[0].second) return null;
  const next = way.findIndex((point) => point.second > second);
  if (next < 0) return { ...way[way.length - 1], heading: null };
  const [a, b] = [way[next - 1], way[next]];
  const share = (second - a.second) / (b.second - a.second);
  return { storey: share < 0.5 ? a.storey : b.storey, at: [a.at[0] + (b.at[0] - a.at[0]) * share, a.at[1] + (b.at[1] - a.at[1]) * share], heading: Math.atan2(-(b.at[1] - a.at[1]), b.at[0] - a.at[0]) };
}

// The drop: its tip points where he walks, up where he stands (down it would be a pin); his letter stands upright in it.
function person(drawing, place, name) {
  const r = drawing.scale * 2.6;
  const [x, y] = [place.at[0], drawing.high_mm[1] - place.at[1]];
  const degrees = ((place.heading ?? -Math.PI / 2) * 180 / Math.PI).toFixed(0);
  const drop = `M${1.75 * r} 0 L${0.57 * r} ${0.82 * r} A${r} ${r} 0 1 1 ${0.57 * r} ${-0.82 * r} Z`;
  return s("g", { class: "d-person", transform: `translate(${x.toFixed(0)} ${y.toFixed(0)})` }, s("path", { d: drop, transform: `rotate(${degrees})` }),
    s("text", { y: r * 0.38, "font-size": r * 1.1, "text-anchor": "middle" }, name.charAt(0).toUpperCase()));
}

// Draws a second of the story on the plan. cast: [{name, way}]; bars: of the story. Gives the storeys on which somebody is.
export function showSecond(plan, drawing, storey, map, cast, bars, second) {
  const layer = plan.querySelector(".actors");
  const open = new Set(bars.filter((bar) => bar.lane === "door" && holdsAt(bar, second)).map((bar) => bar.of));
  const parts = [];
  for (const opening of map.openings) {
    if (opening.storey !== storey || opening.door === undefined) continue;
    const is = open.has(opening.door);
    const group = plan.querySelector(`.d-thing[data-about="building.openings[${opening.index}]"]`);
    group?.classList.toggle("shut", !is);
    group?.classList.toggle("ajar", is);
    const y = (point) => drawing.high_mm[1] - point[1];
    if (!is && group?.querySelector(".d-swing")) parts.push(s("line", { x1: opening.leaf[0][0], y1: y(opening.leaf[0]), x2: opening.leaf[1][0], y2: y(opening.leaf[1]), class: "d-shut" }));
  }
  const places = cast.map((one) => ({ ...one, place: positionAt(one.way, second) })).filter((one) => one.place);
  for (const one of places.filter(({ place }) => place.storey === storey)) {
    const gone = one.way.filter((point) => point.second <= second && point.storey === storey).slice(-12);
    const line = [...gone.map((point) => point.at), one.place.at].map(([x, y]) => `${x.toFixed(0)},${(drawing.high_mm[1] - y).toFixed(0)}`).join(" ");
    parts.push(s("polyline", { points: line, class: "d-trail" }), person(drawing, one.place, one.name));
  }
  layer.replaceChildren(...parts);
  const sounds = bars.some((bar) => bar.state === "siren" && holdsAt(bar, second));
  plan.classList.toggle("sounds", sounds);
  return places.map(({ place }) => place.storey);
}
