// Where one stands on the bench, as it is kept in the page's address behind "#bench/": what is chosen, the second of its story, and
// which finding: "zones[5]/412/routine.false-alarm zone 6 behaviour". Pure.

const written = (part) => encodeURIComponent(part).replaceAll("%5B", "[").replaceAll("%5D", "]");

// {subject, second, finding}, each null where there is none. "": nothing is chosen.
export function placeOf({ subject, second, finding }) {
  const parts = [subject ?? "", second ?? "", finding ?? ""].map((part) => written(String(part)));
  while (parts.length > 0 && parts.at(-1) === "") parts.pop();
  return parts.join("/");
}

// The same back, of what stands there without its percent signs; null: nothing stands there.
export function placeFrom(at) {
  if (!at) return null;
  const [subject, second = "", ...finding] = at.split("/");
  return { subject: /\[\d+\]$/.test(subject) ? subject : null, second: /^\d+$/.test(second) ? Number(second) : null, finding: finding.join("/") || null };
}
