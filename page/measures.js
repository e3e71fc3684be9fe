// Lengths as people type them and as the site file has them: "4.2", "4,2 m", "420 cm", "13 ft 9 in". In whole millimetres, as
// on the bench itself. Source of the foot and inch: international yard and pound agreement, 1959 (25.4 mm exactly).

const UNITS = { m: 1000, cm: 10, mm: 1, ft: 304.8, in: 25.4 };

function number(text) {
  return Number(text.replace(",", "."));
}

// One length in millimetres, or null: it is none. Without a unit metres are meant. Below 0 only where `below` says so.
export function lengthOf(typed, unit = "m", below = false) {
  const text = String(typed).trim().toLowerCase().replace("−", "-").replaceAll("′", " ft").replaceAll("″", " in");
  const one = /^(-?)(\d+(?:[.,]\d+)?)\s*(mm|cm|m|ft|in)?$/.exec(text);
  const feet = /^(-?)(\d+)\s*ft\s*(\d+(?:[.,]\d+)?)\s*(?:in)?$/.exec(text);
  const mm = feet ? number(feet[2]) * UNITS.ft + number(feet[3]) * UNITS.in : one ? number(one[2]) * UNITS[one[3] ?? unit] : NaN;
  const minus = (feet ?? one)?.[1] === "-";
  return Number.isNaN(mm) || (minus && !below) ? null : Math.round(minus ? -mm : mm);
}

// "4.2 x 3.1", "4.2 m by 3.1 m": two lengths, or null. The unit may stand once, behind.
export function pairOf(typed, below = false) {
  const parts = String(typed).trim().toLowerCase().split(/\s*(?:x|×|by)\s*/);
  if (parts.length !== 2) return null;
  const unit = /(mm|cm|m|ft|in)$/.exec(parts[1])?.[1] ?? "m";
  const pair = parts.map((part) => lengthOf(part, unit, below));
  return pair.includes(null) ? null : pair;
}

function metres(mm) {
  return String(Number((mm / 1000).toFixed(3)));
}

// As the file has it: "850 mm", "4.2 m".
export function written(mm) {
  return Math.abs(mm) < 1000 ? `${mm} mm` : `${metres(mm)} m`;
}

export function writtenPair([right, back]) {
  return `${metres(right)} x ${metres(back)} m`;
}

// As one reads it on a drawing: metres, two places at least where they say something.
export function shown(mm) {
  return `${(mm / 1000).toFixed(mm % 10 === 0 ? 2 : 3)} m`;
}
