// The sheet on which a building is begun. While no room is drawn it takes the place of the drawing, ruled by the metre, so that the
// first room is drawn on it as any later one. Pure. Walls are as thick as the bench takes them where the file says nothing.

const WIDE_MM = 12000;
const DEEP_MM = 9000;
const SCALE = 160;
const METRE = 1000;

const sheets = new WeakMap(); // one sheet for each site: what is in the hand is about that one

function rules() {
  const lines = [];
  for (let x = 0; x <= WIDE_MM; x += METRE) lines.push([x, 0, x, DEEP_MM]);
  for (let y = 0; y <= DEEP_MM; y += METRE) lines.push([0, y, WIDE_MM, y]);
  return lines.map((points_mm) => ({ role: "rule", form: "line", points_mm }));
}

// The site with a sheet to draw on: its own drawing, or an empty sheet where it has no room yet.
export function onSheet(site) {
  if (site.drawing?.house.rooms.length > 0) return site;
  if (!sheets.has(site)) {
    const storeys = site.file.building?.storeys ?? [{ name: "ground" }];
    const house = { inner_mm: 120, outer_mm: 300, rooms: [], openings: [], stairs: [], furniture: [], places: [], faults: [] };
    sheets.set(site, { ...site, file: { ...site.file, building: { rooms: [], ...site.file.building } }, drawing: {
      scale: SCALE, outer_mm: 0, low_mm: [0, 0], high_mm: [WIDE_MM, DEEP_MM], house,
      storeys: storeys.map(({ name }) => ({ name, floors: rules(), building: [], things: [] })),
      layers: [{ name: "building", storeys: storeys.map(() => ({ under: [], over: [] })) }],
    } });
  }
  return sheets.get(site);
}
