// What a remedy would write, before it is pressed.
import { changesOf } from "../../page/preview.js";

const file = { panel: { "entry-delays": { yard: "30 s" } }, zones: [{ number: 3, says: ["yard", "door"], behaviour: "perimeter", chime: true }] };
const got = JSON.stringify(changesOf(file, [{ path: "zones[0].behaviour", value: "entry" }, { path: "zones[0].delay", value: "yard" }, { path: "panel.entry-delays.yard", value: "45 s" }, { path: "zones[0].chime", value: "no" }, { path: "panel.abort-window", value: null }]));
const wanted = JSON.stringify([{ what: "zone 3, yard door, behaviour", was: "perimeter", will: "entry" }, { what: "zone 3, yard door, delay", was: "—", will: "yard" }, { what: "panel entry-delays yard", was: "30 s", will: "45 s" },
  { what: "zone 3, yard door, chime", was: "yes", will: "no" }, { what: "panel abort-window", was: "—", will: "—" }]);
console.log(`${got === wanted ? "ok" : "not ok"} 1 - each value as it is and as it would be`);
if (got !== wanted) {
  console.log(`# got    ${got}\n# wanted ${wanted}`);
  process.exitCode = 1;
}
console.log("1..1");
