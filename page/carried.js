// What carries a zone's device, in words for the row below a chosen zone: its radio link and its battery, careful end first.
import { nameOf } from "./subjects.js";

// "23 to 44", "5": whole, both ends once where they are the same.
export function rounded(value) {
  const [low, high] = [value.low, value.high].map((end) => String(Math.round(end)));
  return low === high ? low : `${low} to ${high}`;
}

// null where neither is known. carried: of the site's, the zone's own.
export function carriedLine(carried) {
  const parts = [
    carried?.link_db ? `radio: ${rounded(carried.link_db)} dB above what the panel needs` : null,
    carried?.battery_years ? `battery: ${rounded(carried.battery_years)} years` : null,
  ].filter(Boolean);
  return parts.length > 0 ? parts.join(" · ") : null;
}

function margin({ low, high }) {
  return low >= 0 ? `${rounded({ low, high })} dB above what the panel needs` : high < 0 ? `${Math.ceil(-high)} to ${Math.ceil(-low)} dB too little` : `${Math.ceil(-low)} dB too little to ${Math.round(high)} dB above`;
}

// What moving a thing does to radio, in words: of a device its own link, of the panel the weakest one. carried: for each zone.
export function linkWords(file, subject, carried) {
  const place = file.building?.places?.[/^building\.places\[(\d+)\]$/.exec(subject ?? "")?.[1]];
  const zone = /^zones\[(\d+)\]$/.exec(subject ?? "")?.[1] ?? (file.zones ?? []).findIndex((one) => place?.device !== undefined && one.device === place.device);
  if (carried[zone]?.link_db) return `radio: ${margin(carried[zone].link_db)}`;
  if (place?.is !== "panel") return "";
  const weakest = carried.map((one, index) => ({ link: one.link_db, index })).filter(({ link }) => link).sort((a, b) => a.link.low - b.link.low)[0];
  return weakest ? `weakest radio link: ${nameOf(file, `zones[${weakest.index}]`)}, ${margin(weakest.link)}` : "";
}
