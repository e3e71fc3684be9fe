// What undo calls an edit.
import { saidOf } from "../../page/said.js";

const file = {
  panel: { "exit-delay": "60 s" }, zones: [{ number: 1, says: "front door", device: "contact" }, { number: 2, says: ["living", "room"], device: "room motion" }],
  devices: [{ name: "contact", on: "front door" }, { name: "room motion" }], routines: [{ name: "last one out" }],
  building: { rooms: [{ name: "hall" }, { name: "kitchen" }, { name: "store" }], openings: [{ is: "window", room: "hall" }], places: [{ device: "room motion", room: "hall", corner: "front left" }], furniture: [{ name: "table", room: "kitchen" }] },
};
let count = 0;
function says(wanted, ...edits) {
  count += 1;
  const got = saidOf(file, edits.map(([path, value]) => ({ path, value })));
  console.log(`${got === wanted ? "ok" : "not ok"} ${count} - ${wanted}`);
  if (got !== wanted) {
    console.log(`# got ${got}`);
    process.exitCode = 1;
  }
}

says("room motion moved", ["building.places[0].corner", null], ["building.places[0].wall", "left"], ["building.places[0].from-left", "1 m"]);
says("room motion turned", ["building.places[0].towards", "1 x 1 m"]);
says("hall and kitchen resized", ["building.rooms[0].size", "2 x 3 m"], ["building.rooms[1].size", "3 x 3 m"], ["building.furniture[0].at", "1 x 1 m"]);
says("hall and 2 more resized", ["building.rooms[0].size", "2 x 3 m"], ["building.rooms[1].size", "3 x 3 m"], ["building.rooms[2].shift", "1 m"]);
says("table taken off the drawing", ["building.furniture[0]", null]);
says("kitchen taken off the drawing", ["building.furniture[0]", null], ["building.rooms[1]", null]);
says("panel added", ["building.places[1]", "{is: panel, wall: left, from-left: 1.5 m, room: hall}"]);
says("back door added", ["building.openings[1]", "{door: back door, room: kitchen, wall: back}"]);
says("building taken out", ["building", null]);
says("zone 2, living room: behaviour interior", ["zones[1].behaviour", "interior"]);
says("zone 2, living room: delay as usual", ["zones[1].delay", null]);
says("zone 1, front door changed", ["zones[0].behaviour", "entry"], ["zones[0].delay", "front"]);
says("contact moved", ["devices[0].on", "window"]);
says("last one out taken out", ["routines[0]", null]);
says("panel exit-delay: 45 s", ["panel.exit-delay", "45 s"]);
console.log(`1..${count}`);
