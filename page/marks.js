// What the drawing shows of the chosen thing alone: its measures as dimension lines, the grips by which it is taken, what is in
// the hand and where it would come to rest, and the points at which the drawing cannot be so.
import { s } from "./dom.js";
import { against, boxOf, distance, edgesOf, pointOn, points } from "./snap.js";
import { movedBy } from "./moves.js";
import { ringShape } from "./rings.js";
import { shown } from "./measures.js";

// A dimension line: |<- 4.20 m ->|, from one point to the other, set off to the left of the way between them.
function dimension(drawing, from, to, text, off) {
  const length = distance(from, to);
  if (length < drawing.scale * 2) return null;
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const place = (along, aside) => [from[0] + ux * along - uy * (off + aside), drawing.high_mm[1] - (from[1] + uy * along + ux * (off + aside))];
  const line = (a, b) => `M${a.map((v) => v.toFixed(0)).join(" ")} L${b.map((v) => v.toFixed(0)).join(" ")}`;
  const tick = drawing.scale * 1.1;
  const head = drawing.scale * 0.9;
  const ends = [[0, 1], [length, -1]].map(([along, inward]) => `${line(place(along, -tick), place(along, tick))} M${place(along + inward * head, -head / 2).join(" ")} L${place(along, 0).join(" ")} L${place(along + inward * head, head / 2).join(" ")}`);
  const upright = Math.abs(uy) > Math.abs(ux);
  const [x, y] = place(length / 2, 0);
  return s("g", { class: "d-measure" }, s("path", { d: `${line(place(0, 0), place(length, 0))} ${ends.join(" ")}` }),
    s("text", { x, y: y + drawing.scale * 0.75, "font-size": drawing.scale * 2.1, "stroke-width": drawing.scale * 0.9, "text-anchor": "middle", transform: upright ? `rotate(-90 ${x.toFixed(0)} ${y.toFixed(0)})` : null }, text));
}

// The two distances of something on an edge to the corners of its wall.
function onEdge(drawing, edge, low, high) {
  const off = drawing.scale * 6;
  return [dimension(drawing, pointOn(edge, 0), pointOn(edge, low), shown(Math.round(low)), off), dimension(drawing, pointOn(edge, high), pointOn(edge, edge.length), shown(Math.round(edge.length - high)), off)];
}

function ofPlace(drawing, house, index) {
  const place = house.places[index];
  if (!place.good) return null;
  const edges = edgesOf(house.rooms[place.room].outline_mm);
  const on = edges.find((edge) => { const { along, out } = against(edge, place.at_mm); return Math.abs(out) < 5 && along > -1 && along < edge.length + 1; });
  if (place.into[0] !== 0 && place.into[1] !== 0) return null; /* a corner says it all */
  if (on) { const { along } = against(on, place.at_mm); return onEdge(drawing, on, along, along); }
  return ofPoint(drawing, house.rooms[place.room], place.at_mm);
}

// From the walls to the left and in front.
function ofPoint(drawing, room, [x, y]) {
  const { low } = boxOf(points(room.outline_mm));
  return [dimension(drawing, [low[0], y], [x, y], shown(x - low[0]), 0), dimension(drawing, [x, low[1]], [x, y], shown(y - low[1]), 0)];
}

function ofOpening(drawing, house, index) {
  const opening = house.openings[index];
  if (!opening.good || opening.flat) return null;
  const edge = edgesOf(house.rooms[opening.room].outline_mm)[opening.edge];
  const alongs = points(opening.near_mm).map((one) => against(edge, one).along).sort((a, b) => a - b);
  return onEdge(drawing, edge, alongs[0], alongs[1]);
}

function ofRoom(drawing, house, index) {
  const edges = edgesOf(house.rooms[index].outline_mm);
  const shownEdges = edges.length === 4 ? edges.filter((edge) => edge.side === "back" || edge.side === "left") : edges;
  return shownEdges.map((edge) => dimension(drawing, edge.from, edge.to, shown(Math.round(edge.length)), drawing.scale * 3));
}

function ofBlock(drawing, house, list, index) {
  const [a, b, c] = points(house[list][index].corners_mm);
  return [dimension(drawing, a, b, shown(b[0] - a[0]), -drawing.scale * 2), dimension(drawing, b, c, shown(c[1] - b[1]), -drawing.scale * 2)];
}

export function measuresOf(site, drawing, subject) {
  const { house } = drawing;
  const moved = movedBy(site, subject);
  if (!moved) return null;
  const { list, index } = moved;
  if ((house[list] ?? house.openings)[list === "contact" ? moved.opening : index] === undefined) return null;
  return { places: () => ofPlace(drawing, house, index), openings: () => ofOpening(drawing, house, index), contact: () => ofOpening(drawing, house, moved.opening), rooms: () => ofRoom(drawing, house, index),
    furniture: () => ofBlock(drawing, house, list, index), stairs: () => ofBlock(drawing, house, list, index) }[list]();
}

// What is in the hand: a cross where it would rest, and the words for it.
export function restOf(drawing, held) {
  const { at, band, spans } = held.result ?? {};
  if (band) return bandOf(drawing, ...band);
  if (spans && !held.done) return spans.map(([from, to]) => dimension(drawing, from, to, shown(Math.round(distance(from, to))), 0));
  if (!at || held.done) return null;
  const [x, y] = [at[0], drawing.high_mm[1] - at[1]];
  const arm = drawing.scale * 4;
  return s("path", { class: "d-rest", d: `M${x - arm} ${y} H${x - arm / 3} M${x + arm / 3} ${y} H${x + arm} M${x} ${y - arm} V${y - arm / 3} M${x} ${y + arm / 3} V${y + arm}` });
}

// A room that is being drawn: its walls and its measures.
function bandOf(drawing, [x, y], [wide, deep]) {
  const corners = [[x, y], [x + wide, y], [x + wide, y + deep], [x, y + deep]];
  return s("g", {}, s("polygon", { class: "d-band", points: corners.map(([px, py]) => `${px},${drawing.high_mm[1] - py}`).join(" ") }),
    dimension(drawing, corners[0], corners[1], shown(wide), -drawing.scale * 3), dimension(drawing, corners[1], corners[2], shown(deep), -drawing.scale * 3));
}

// On which storey something of the building is.
export function storeyOf(site, path) {
  const { house } = site.drawing;
  const match = /^building\.(rooms|openings|stairs|furniture|places)\[(\d+)\]/.exec(path ?? "");
  if (!match) return -1;
  const [, list, index] = match;
  if (list === "rooms") return house.rooms[index]?.storey ?? -1;
  const { rooms, [list]: things } = site.file.building;
  return house.rooms[rooms.findIndex((room) => room.name === things?.[index]?.room)]?.storey ?? -1;
}

// The outline of a room that cannot be drawn as one: it crosses itself, or its units are mixed up.
export function brokenOf(drawing, storey, select) {
  return drawing.house.rooms.flatMap((room, index) => (room.good || room.storey !== storey ? [] : [s("polygon", { class: "d-broken", "data-about": `building.rooms[${index}]`, onclick: (event) => { event.stopPropagation(); select(`building.rooms[${index}]`); }, points: points(room.outline_mm).map(([x, y]) => `${x},${drawing.high_mm[1] - y}`).join(" ") })]));
}

// The broken ring at each point of a storey where the drawing cannot be so.
export function flawsOf(site, drawing, storey) {
  return drawing.house.faults.filter((fault) => storeyOf(site, fault.about) === storey).map((fault) => {
    const scale = drawing.scale * 0.35;
    return s("g", { class: "d-ring fault d-flaw", transform: `translate(${fault.at_mm[0] - 8 * scale} ${drawing.high_mm[1] - fault.at_mm[1] - 8 * scale}) scale(${scale.toFixed(2)})`, "aria-hidden": "true" }, ringShape("fault"));
  });
}
