// What carries a zone's device, in words for the row below a chosen zone: its radio link and its battery, careful end first.

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
