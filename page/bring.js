// A site file brought from elsewhere: chosen, or dropped anywhere on the page. What cannot be read of it is told with line and
// column, as lintel check tells it; nothing is written then but where the person says so.
import { h, put } from "./dom.js";

// The text of a file, or why it is none. Nothing of it is changed: a mark at its beginning stays too.
export async function textOf(file) {
  if (file.size > 4 * 1024 * 1024) return { wrong: "it is longer than 4 MiB" };
  try {
    return { text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer()) };
  } catch {
    return { wrong: "it is no text in UTF-8" };
  }
}

export function problemList(problems) {
  return h("ul", {}, problems.map((problem) => h("li", {},
    problem.line ? h("b", {}, `line ${problem.line}, column ${problem.column}: `) : problem.path ? `${problem.path}: ` : null, problem.what)));
}

// button: opens the choice of a file. place: where its problems stand. send(name, text, keep) gives the bench's answer;
// done(answer, name): it was taken. keeps: one that cannot be read may be kept as it is.
export function bring({ button, place, send, done, keeps = false }) {
  const chooser = h("input", { type: "file", accept: ".yaml,.yml,.json,application/yaml", hidden: true, "aria-label": "site file" });
  button.after(chooser);
  const close = () => { place.hidden = true; put(place); };
  async function take(file, keep = false) {
    const read = await textOf(file);
    const answer = read.wrong ? { result: "refused", what: read.wrong } : await send(file.name, read.text, keep);
    if (answer.result === "done") {
      close();
      done(answer, file.name);
      return;
    }
    place.hidden = false;
    put(place, h("h2", {}, `${file.name} was not brought in: ${answer.what}`), problemList(answer.problems ?? []),
      h("p", { class: "pair" }, keeps && answer.problems ? h("button", { type: "button", class: "act", onclick: () => take(file, true) }, "Keep it as it is, to mend it here") : null,
        h("button", { type: "button", class: "link", onclick: close }, "Leave it")));
    place.focus();
  }
  button.addEventListener("click", () => chooser.click());
  chooser.addEventListener("change", () => { if (chooser.files[0]) take(chooser.files[0]); chooser.value = ""; });
  const holds = (event) => event.dataTransfer?.types.includes("Files");
  document.addEventListener("dragover", (event) => { if (holds(event)) { event.preventDefault(); document.body.classList.add("over"); } });
  document.addEventListener("dragleave", (event) => { if (event.relatedTarget === null) document.body.classList.remove("over"); });
  document.addEventListener("drop", (event) => {
    if (!holds(event)) return;
    event.preventDefault();
    document.body.classList.remove("over");
    if (event.dataTransfer.files[0]) take(event.dataTransfer.files[0]);
  });
}
