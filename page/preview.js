// What a remedy would write, before it is pressed: each value as it is and as it would be. Pure, but for the line it becomes.
import { h } from "./dom.js";
import { nameOf, subjectOf } from "./subjects.js";

// "zones[5].in.night": the steps of a path. Names may hold dots; the longest that the file has is meant.
function valueAt(file, path) {
  let here = file;
  let rest = path;
  while (rest !== "" && here !== undefined && here !== null) {
    const index = /^\[(\d+)\]\.?/.exec(rest);
    const key = index ? null : Object.keys(here).filter((name) => rest === name || rest.startsWith(`${name}.`) || rest.startsWith(`${name}[`)).sort((a, b) => b.length - a.length)[0];
    if (!index && key === undefined) return undefined;
    here = index ? here[Number(index[1])] : here[key];
    rest = rest.slice(index ? index[0].length : key.length).replace(/^\./, "");
  }
  return here;
}

function words(value) {
  if (value === undefined || value === null) return "—";
  if (value === true) return "yes";
  if (value === false) return "no";
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

// [{what, was, will}]: in the words of the site.
export function changesOf(file, edits) {
  return edits.map(({ path, value }) => {
    const subject = subjectOf(path);
    const key = subject ? path.slice(subject.length).replace(/^\./, "") : path;
    return { what: subject ? `${nameOf(file, subject)}, ${key.replaceAll(".", " ")}` : key.replaceAll(".", " "), was: words(valueAt(file, path)), will: words(value === null ? undefined : value) };
  });
}

export function preview(file, edits) {
  return h("ul", { class: "preview", "aria-label": "what it would write" }, changesOf(file, edits).map(({ what, was, will }) => h("li", {}, h("span", { class: "soft" }, `${what}: `), h("del", {}, was), " ", h("ins", {}, will))));
}
