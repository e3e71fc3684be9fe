// What part of the sheet is in sight: the whole of it, or up to eight times closer. Points are those of the drawing's picture: mm to
// the right and down. Nothing glides: the next frame shows what was asked for.

export const CLOSEST = 8;
const STEP = 1.5;
const SETTLE_MS = 120;
const WHEEL = 0.0015; // of a turn of one pixel
const LINE_PX = 16;
const LETTERS_PX = 13; // the smallest ones; source: page-spec 7
const LETTERS_MM = 1.8; // of paper, as the bench draws them
const MUCH = 1.15;
const FIT_STEPS = 20; // of one: what is drawn coarser has wider edges, and shall not be asked for again because of those
const FIT_LEAST = 0.25; // the bench draws no coarser

// The part of a box [x, y, wide, high] that is seen so many times closer round a point; never past its edges.
export function partOf([x, y, wide, high], zoom, at) {
  const size = [wide / zoom, high / zoom];
  const low = [x, y].map((edge, axis) => Math.min(Math.max(at[axis] - size[axis] / 2, edge), edge + [wide, high][axis] - size[axis]));
  return [...low, ...size];
}

// The middle of the part after which a point stays where it is on the screen.
export function keeping(box, zoom, at, next, point) {
  const [x, y, wide, high] = partOf(box, zoom, at);
  const share = [(point[0] - x) / wide, (point[1] - y) / high];
  return [0, 1].map((axis) => point[axis] + (0.5 - share[axis]) * box[2 + axis] / next);
}

// paper: it is being printed, and then whole. bench: ask(edits, signal) gives the bench's answer to a try, draw(), site(), layer().
export function makeLens(bench) {
  const lens = { zoom: 1, fit: 1, at: [0, 0], box: [0, 0, 1, 1], base: [0, 0, 1, 1], subject: null, paper: false };
  let near = null; // {site, zoom, layer, drawing}: as it was last told for a closer look
  let asking = null; // the same, while it is asked, with what stops it
  let timer = 0;
  let frame = 0;

  // As how large a screen shows it the bench draws it: closer, or coarser where letters would be too small else.
  lens.drawnAs = () => Math.round(lens.zoom * lens.fit * 100) / 100;
  const isFor = (one, site, layer) => one?.site === site && one.zoom === lens.drawnAs() && one.layer === layer;
  const isNear = (site, layer) => isFor(near, site, layer);

  // One question at a time: another one stops it.
  async function look() {
    const [site, layer, zoom] = [bench.site(), bench.layer(), lens.drawnAs()];
    if (isFor(asking, site, layer)) return;
    asking?.stop.abort();
    asking = null;
    if (zoom === 1 || !site?.drawing?.house.rooms.length || isNear(site, layer)) return;
    const stop = new AbortController();
    asking = { site, zoom, layer, stop };
    const answer = await bench.ask([], stop.signal);
    if (stop.signal.aborted) return;
    asking = null;
    if (!answer.drawing) return;
    near = { site, zoom, layer, drawing: answer.drawing };
    bench.draw();
  }

  function changed() {
    if (frame === 0) frame = requestAnimationFrame(() => { frame = 0; bench.draw(); });
    clearTimeout(timer);
    timer = setTimeout(look, SETTLE_MS);
  }

  // The site and its drawing to be shown. A newer edit shows once it is drawn as closely: signs would jump in size else.
  lens.plan = (site, layer) => {
    if (lens.paper) return { site, drawing: site?.drawing ?? null };
    if (lens.drawnAs() === 1 || !site?.drawing?.house.rooms.length) { near = null; return { site, drawing: site?.drawing ?? null }; }
    if (!isNear(site, layer)) { clearTimeout(timer); timer = setTimeout(look, near?.site === site && near.layer === layer ? SETTLE_MS : 0); }
    return near?.layer === layer ? near : { site, drawing: site.drawing };
  };

  // How much coarser it is drawn so that its letters keep their size on a small screen. plan: as it lies there, null: as large as it is.
  lens.fitTo = (plan, scale) => {
    const px = plan && !lens.paper ? (plan.getScreenCTM()?.a ?? 0) / lens.zoom : 0;
    const fit = px > 0 ? Math.min(Math.max(Math.floor(scale * LETTERS_MM * px / LETTERS_PX * FIT_STEPS) / FIT_STEPS, FIT_LEAST), 1) : 1;
    /* Coarser at once, finer only where it is much: wider edges make the rest a little smaller. */
    if (fit === lens.fit || (px > 0 && fit > lens.fit && fit < lens.fit * MUCH && fit < 1)) return;
    lens.fit = fit;
    changed();
  };

  // What of the whole picture is seen. reveal: the point of a thing that was just chosen.
  lens.part = (base, subject, reveal) => {
    const moved = subject !== lens.subject;
    Object.assign(lens, { base, subject });
    if (moved && reveal) lens.reveal(reveal, false);
    if (lens.paper) return base;
    lens.box = lens.zoom === 1 ? base : partOf(base, lens.zoom, lens.at);
    if (lens.zoom > 1) lens.at = [lens.box[0] + lens.box[2] / 2, lens.box[1] + lens.box[3] / 2];
    return lens.box;
  };

  const middle = () => [lens.box[0] + lens.box[2] / 2, lens.box[1] + lens.box[3] / 2];

  lens.zoomTo = (wanted, point = middle()) => {
    const zoom = Math.min(Math.max(wanted, 1), CLOSEST);
    if (zoom === lens.zoom) return;
    lens.at = keeping(lens.base, lens.zoom, lens.zoom === 1 ? [lens.base[0] + lens.base[2] / 2, lens.base[1] + lens.base[3] / 2] : lens.at, zoom, point);
    lens.zoom = zoom;
    changed();
  };
  lens.closer = (point) => lens.zoomTo(lens.zoom * STEP, point);
  lens.farther = (point) => lens.zoomTo(lens.zoom / STEP < 1.05 ? 1 : lens.zoom / STEP, point);
  lens.whole = () => lens.zoomTo(1);
  lens.moveTo = (at) => { lens.at = at; changed(); };

  // Brings a point into sight, if it is not.
  lens.reveal = (point, draw = true) => {
    if (lens.zoom === 1) return;
    const part = partOf(lens.base, lens.zoom, lens.at);
    const out = [0, 1].some((axis) => point[axis] < part[axis] || point[axis] > part[axis] + part[2 + axis]);
    if (out) { lens.at = point; if (draw) changed(); }
  };

  // True: the key was ours.
  lens.key = (event, point) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    const pan = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (event.key === "+" || event.key === "=") lens.closer(point);
    else if (event.key === "-") lens.farther(point);
    else if (event.key === "0" || event.key === "Home") lens.whole();
    else if (pan && event.shiftKey && lens.zoom > 1) lens.moveTo(middle().map((value, axis) => value + pan[axis] * lens.box[2 + axis] / 4));
    else return false;
    return true;
  };

  // The wheel draws nearer with Ctrl, as a pinch on a touch pad does; without it where the drawing is being worked on. True: it was ours.
  lens.wheel = (event, point, busy) => {
    if (!event.ctrlKey && !busy) return false;
    const by = -event.deltaY * (event.deltaMode === 1 ? LINE_PX : 1) * WHEEL * (event.ctrlKey && Math.abs(event.deltaY) < 50 ? 6 : 1);
    if (lens.zoom === 1 && by < 0) return event.ctrlKey;
    lens.zoomTo(lens.zoom * Math.exp(by), point);
    return true;
  };

  return lens;
}
