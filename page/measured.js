// What was measured where one stands: the level of a zone's device, its loop, the volts at the end of its cable; each beside what is
// computed, typed with or without its unit, and written where the site file has it.
import { rounded } from "./carried.js";
import { h } from "./dom.js";
import { yaml } from "./yaml.js";

const NUMBER = /^[-−]?\d+([.,]\d+)?(\.\.[-−]?\d+([.,]\d+)?)?$/;

// "-71", "−71,5": with the unit that is meant; what has one, or is no number, stays as it is typed.
export function withUnit(typed, unit) {
  const bare = typed.trim().replaceAll(/\s*(?:\.\.|…|\bto\b)\s*/g, "..");
  return NUMBER.test(bare) ? `${bare.replaceAll("−", "-").replaceAll(",", ".")} ${unit}` : typed.trim();
}

// Where a zone's measurements stand in the file; only those that can be computed for it.
export function measurable(file, carried, index) {
  const zone = file.zones[index];
  const link = (file.links ?? []).findIndex((one) => one.device === zone.device);
  return [
    carried?.level_dbm && { key: "level", name: "level at the panel", unit: "dBm", computed: carried.level_dbm, value: file.links?.[link]?.measured, link },
    carried?.rest_ohm && { key: "loop", name: "loop at rest, unplugged", unit: "ohm", computed: carried.rest_ohm, value: zone["loop-measured"], path: `zones[${index}].loop-measured` },
    carried?.end_volts && { key: "volts", name: "volts at the device, in alarm, on the battery", unit: "V", computed: carried.end_volts, value: file.cables[carried.cable].measured, path: `cables[${carried.cable}].measured` },
  ].filter(Boolean);
}

// today: "2026-11-26", for what keeps the day on which it was measured. Nothing typed takes the measurement out; a link that says
// nothing else goes with it.
export function measuredEdits(file, index, one, typed, today) {
  const value = withUnit(typed, one.unit);
  const gone = value === "";
  if (one.path) return [{ path: one.path, value: gone ? null : yaml(value) }];
  if (one.link < 0) {
    const added = { device: file.zones[index].device, measured: value, "measured-on": today };
    return gone ? [] : file.links ? [{ path: `links[${file.links.length}]`, value: yaml(added) }] : [{ path: "links", value: yaml([added]) }];
  }
  const path = `links[${one.link}]`;
  const rest = Object.keys(file.links[one.link]).filter((key) => !["device", "measured", "measured-on", "measured-by"].includes(key));
  if (gone && rest.length === 0) return [{ path: file.links.length === 1 ? "links" : path, value: null }];
  return [{ path: `${path}.measured`, value: gone ? null : yaml(value) }, { path: `${path}.measured-on`, value: gone ? null : today }];
}

function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

// The last that was not written, and why not.
const refused = { key: "", what: "" };

// The fields of one zone, or null. view: as the schedule's; editAll gives why not, or null. own: what is being typed in the table
// (typing), and whether it is just made anew (making): a field taken out then is no end of typing.
export function measuredFields(view, index, own) {
  const { file, carried } = view.site;
  const fields = measurable(file, carried?.[index], index).map((one) => {
    const key = `zone-${index}-measured-${one.key}`;
    const told = h("span", { class: "refusal", role: "alert" }, refused.key === key ? refused.what : "");
    const write = async (event) => {
      if (own.making) return;
      own.typing = null;
      const edits = measuredEdits(file, index, one, event.target.value, today());
      refused.key = key;
      refused.what = edits.length === 0 ? "" : await view.editAll(edits) ?? "";
      const now = document.querySelector(`[data-key="${key}"]`); // the table is made anew meanwhile
      now?.parentElement.querySelector("[role=alert]").replaceChildren(refused.what);
    };
    const field = h("input", { type: "text", size: 10, value: one.value ?? "", placeholder: one.unit, "aria-label": `${one.name}, zone ${file.zones[index].number}`, "data-key": key,
      oninput: (event) => { own.typing = { key, value: event.target.value }; }, onchange: write });
    if (own.typing?.key === key) field.value = own.typing.value;
    return h("label", {}, `${one.name} `, field,
      h("span", { class: "soft" }, ` computed ${rounded(one.computed)} ${one.unit}`), told);
  });
  return fields.length > 0 ? h("div", { class: "explained measured" }, h("b", {}, "Measured: "), fields) : null;
}
