// A value as one would write it in one line of a site file: {name: hall, size: 2 x 7 m}. What a reader could take for
// something else stands in quotes; but for "on", which is a key of devices and no yes in YAML 1.2.

const RESERVED = /^(?:yes|no|true|false|null|on|off|y|n)$/i;
const PLAIN = /^[\p{L}\p{N}][\p{L}\p{N} .'-]*$/u;

export function yaml(value) {
  if (Array.isArray(value)) return `[${value.map(yaml).join(", ")}]`;
  if (typeof value === "object") return `{${Object.entries(value).filter(([, one]) => one !== undefined).map(([key, one]) => `${key === "on" ? key : yaml(key)}: ${yaml(one)}`).join(", ")}}`;
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return String(value);
  const text = String(value);
  const plain = PLAIN.test(text) && !RESERVED.test(text) && !/^[\d.]+$/.test(text) && !/ $/.test(text);
  return plain ? text : JSON.stringify(text);
}
