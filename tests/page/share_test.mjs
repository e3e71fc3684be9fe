// What is the same in the next news stays the same objects; what is not is what came.
import { share } from "../../page/share.js";

let count = 0;
function holds(says, is) {
  count += 1;
  console.log(`${is ? "ok" : "not ok"} ${count} - ${says}`);
  if (!is) process.exitCode = 1;
}

const former = { number: 7, zones: [{ number: 1, says: ["front", "door"] }, { number: 2, chime: true }], drawing: { rooms: [[0, 0, 4, 4]] }, none: null };
const copy = () => JSON.parse(JSON.stringify(former));

holds("the same is the former one", share(former, copy()) === former);
const edited = copy();
edited.zones[1].chime = false;
const after = share(former, edited);
holds("what was edited is another, with what came", after !== former && after.zones !== former.zones && after.zones[1] !== former.zones[1] && after.zones[1].chime === false);
holds("what was not edited is the former one", after.zones[0] === former.zones[0] && after.drawing === former.drawing);
holds("the former one is what it was", JSON.stringify(former) === JSON.stringify(copy()) && former.zones[1].chime === true);
const longer = copy();
longer.zones.push({ number: 3 });
longer.zones.shift();
holds("a list that is another is read as it came", JSON.stringify(share(former, longer)) === JSON.stringify({ ...copy(), zones: [{ number: 2, chime: true }, { number: 3 }] }));
for (const [words, value] of [["a member less", (({ none, ...rest }) => rest)(copy())], ["a member more", { ...copy(), more: 1 }], ["null for an object", { ...copy(), drawing: null }],
  ["a list for an object", { ...copy(), drawing: [] }], ["another member of the same value", (({ none, ...rest }) => ({ ...rest, nought: null }))(copy())]]) {
  const wanted = JSON.stringify(value);
  const got = share(former, value);
  holds(`${words} is told`, got !== former && JSON.stringify(got) === wanted);
}
holds("nothing before", share(null, 5) === 5 && share(undefined, former) === former);
console.log(`1..${count}`);
