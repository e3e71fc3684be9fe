// Sound on demand: what sounds at a second, and that nothing does unless it was asked for and time runs.
import { makeSound, soundsAt } from "../../page/sound.js";

let count = 0;
function test(name, wrong) {
  count += 1;
  console.log(`${wrong.length === 0 ? "ok" : "not ok"} ${count} - ${name}`);
  for (const line of wrong.slice(0, 10)) console.log(`# ${line}`);
  if (wrong.length > 0) process.exitCode = 1;
}
const same = (got, wanted) => (JSON.stringify(got) === JSON.stringify(wanted) ? [] : [`got    ${JSON.stringify(got)}`, `wanted ${JSON.stringify(wanted)}`]);

const bar = (lane, state, from_s, to_s) => ({ lane, state, from_s, to_s });
const finding = { bars: [bar("sound", "tone", 5, 20), bar("sound", "siren", 20, null), bar("area", "entry", 0, 50), bar("person", "tone", 0, 50)] };
test("from its first second up to its last, one without an end for ever; other lanes sound nothing", same([4.9, 5, 19.9, 20, 900].map((second) => Object.values(soundsAt(finding, second)).map(Number).join("")), ["00", "10", "10", "01", "01"]));
test("without a story there is silence", same([soundsAt(null, 3), soundsAt({}, 3)], [{ tone: false, siren: false }, { tone: false, siren: false }]));

// A context of which only the loudness of the two voices is looked at, in the order in which they are made.
const voices = [];
let made = 0;
class Node {
  constructor(context, options) {
    Object.assign(this, options);
    this.frequency = {};
    const own = this;
    this.loud = options.gain;
    if (options.gain === 0) voices.push(this);
    this.gain = { setTargetAtTime: (value) => { own.loud = value; } };
  }
  connect(to) { return to; }
  start() {}
}
globalThis.OscillatorNode = Node;
globalThis.GainNode = Node;
const sound = makeSound(class { constructor() { made += 1; this.currentTime = 0; this.destination = {}; } });
const loud = () => voices.map((voice) => Number(voice.loud > 0)).join("");
sound.at(finding, 10, true);
test("nobody asked: nothing is even made", same([made, sound.on, sound.can], [0, false, true]));
sound.turn();
sound.at(finding, 10, true);
test("asked, and time runs: the tone", same([made, loud()], [1, "10"]));
sound.at(finding, 10, false);
test("time stands: silence", same(loud(), "00"));
sound.at(finding, 25, true);
test("the siren", same(loud(), "01"));
sound.turn();
test("asked to be quiet: silence at once", same([loud(), sound.on], ["00", false]));
sound.turn();
test("asked again, the same two voices", same([made, voices.length], [1, 2]));
test("a browser that has none cannot", same((() => { const none = makeSound(undefined); none.turn(); none.at(finding, 10, true); return [none.can, none.on]; })(), [false, false]));
console.log(`1..${count}`);
