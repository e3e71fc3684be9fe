// The grips of the chosen thing: of a room its walls and corners, of a detector where it looks. Each has a typed twin below the drawing.
import { s } from "./dom.js";
import { movedBy, sortOf, turnTo } from "./moves.js";
import { isRectangle, moveCorner, moveWalls } from "./rooms.js";
import { edgesOf, pointOn, points } from "./snap.js";

const AHEAD = 9; // of the drawing's scale: how far before a detector its grip stands

// "wall-2-1": the second wall of the third room; "corner-2-0"; "look-5": where the sixth place looks. As something to be moved.
export function gripAt(site, grip) {
  const [kind, index, part] = grip.split("-").map((one, i) => (i === 0 ? one : Number(one)));
  const { house } = site.drawing;
  if (kind === "look") return { list: "grip", at: lookAt(site.drawing, index), place: (at) => turnTo(site, index, at) };
  const list = points(house.rooms[index].outline_mm);
  const edges = edgesOf(house.rooms[index].outline_mm);
  if (kind === "wall") return { list: "grip", at: pointOn(edges[part], edges[part].length / 2), place: (at, free) => moveWalls(site, index, [part], at, free) };
  const both = [(part + list.length - 1) % list.length, part];
  return { list: "grip", at: list[part], place: (at, free) => (isRectangle(list) ? moveWalls(site, index, both, at, free) : moveCorner(site, index, part, at, free)) };
}

function lookAt(drawing, index) {
  const place = drawing.house.places[index];
  const length = Math.hypot(...place.faces) || 1;
  return place.at_mm.map((value, axis) => value + place.faces[axis] / length * AHEAD * drawing.scale);
}

function grip(drawing, name, at, words) {
  const [x, y] = [at[0], drawing.high_mm[1] - at[1]];
  const [half, reach] = [drawing.scale * 0.9, drawing.scale * 2.6];
  return s("g", { class: "d-grip", "data-grip": name, "aria-hidden": "true" }, s("title", {}, words), s("rect", { x: x - reach, y: y - reach, width: 2 * reach, height: 2 * reach, class: "d-hit" }), s("rect", { x: x - half, y: y - half, width: 2 * half, height: 2 * half, class: "d-hold" }));
}

export function gripsOf(site, drawing, subject) {
  const moved = movedBy(site, subject);
  if (moved?.list === "places" && drawing.house.places[moved.index]?.good && sortOf(site, site.file.building.places[moved.index]) === "motion") return grip(drawing, `look-${moved.index}`, lookAt(drawing, moved.index), "where it looks");
  if (moved?.list !== "rooms" || !drawing.house.rooms[moved.index]) return null;
  const flat = drawing.house.rooms[moved.index].outline_mm;
  return [...edgesOf(flat).map((edge) => grip(drawing, `wall-${moved.index}-${edge.index}`, pointOn(edge, edge.length / 2), `the ${edge.side} wall`)), ...points(flat).map((at, i) => grip(drawing, `corner-${moved.index}-${i}`, at, `corner ${i + 1}`))];
}
