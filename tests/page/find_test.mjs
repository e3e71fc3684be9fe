// What is found by a name, a number, a serial; and what comes first.
import { found, thingsIn } from "../../page/find.js";

let count = 0;
function same(name, got, wanted) {
  count += 1;
  console.log(`${got === wanted ? "ok" : "not ok"} ${count} - ${name}`);
  if (got === wanted) return;
  console.log(`# got ${got}`);
  process.exitCode = 1;
}

const file = {
  zones: [{ number: 1, says: "yard door", device: "yard contact" }, { number: 12, says: ["hall", "motion"], device: "hall eye" }], devices: [{ name: "yard contact", profile: "slim", serial: "0417 221" }, { name: "hall eye", profile: "wide", serial: "0821 403" }],
  building: { rooms: [{ name: "hall" }, { name: "yard" }], openings: [{ is: "window", room: "hall" }, { door: "yard door", room: "hall" }], places: [{ keypad: "hall keypad" }], furniture: [{ name: "table", room: "hall" }] },
  routines: [{ name: "closing up" }], people: [{ name: "baker" }], ways: [{ name: "yard way", door: "yard door" }], "break-ins": { protect: [{ name: "till" }] },
};
const paths = (sought) => found(file, sought).map((one) => one.path).join(" ");
same("nothing is sought, nothing is found", paths(" "), "");
same("by name, whatever it is of", paths("yard door"), "zones[0] building.openings[1]");
same("by number", paths("zone 12"), "zones[1]");
same("by serial, with its gaps or without", [paths("0417221"), paths("0417 221"), paths("serial 0821")].join(" "), "zones[0] zones[0] zones[1]");
same("by device and profile", [paths("hall eye"), paths("slim")].join(" "), "zones[1] zones[0]");
same("by a part of a word; its beginning comes first", paths("ard"), "zones[0] building.rooms[1] building.openings[1] ways[0]");
same("names that begin so come before what is merely of that kind", paths("pla"), "building.places[0]");
same("people, routines, what is protected", [paths("bak"), paths("CLOSING"), paths("till")].join(" "), "people[0] routines[0] break-ins.protect[0]");
same("every word must be there", paths("yard motion"), "");
same("everything once", thingsIn(file).length, 12);
same("an empty site", thingsIn({}).length, 0);
console.log(`1..${count}`);
