// What sounds at a second of the story, on demand: a tone that calls to the keypad, a siren that calls for help. Our own two
// voices, low, made by the browser; nothing sounds unless somebody asked for it, and nothing while time stands still.

const LOUD = 0.06;
const FADE_S = 0.02;

// {tone, siren}: which of the two sounds at this second.
export function soundsAt(finding, second) {
  const on = (state) => (finding?.bars ?? []).some((bar) => bar.lane === "sound" && bar.state === state && bar.from_s <= second && (bar.to_s === null || second < bar.to_s));
  return { tone: on("tone"), siren: on("siren") };
}

// One voice: an oscillator whose pitch or loudness a slow one moves; silent at first. gain: how loud it is.
function voice(context, { shape, hertz, slow, sweep, beats }) {
  const source = new OscillatorNode(context, { type: shape, frequency: hertz });
  const lfo = new OscillatorNode(context, { type: beats ? "square" : "triangle", frequency: slow });
  const depth = new GainNode(context, { gain: beats ? 0.5 : sweep });
  const beat = new GainNode(context, { gain: beats ? 0.5 : 1 });
  const gain = new GainNode(context, { gain: 0 });
  lfo.connect(depth).connect(beats ? beat.gain : source.frequency);
  source.connect(beat).connect(gain).connect(context.destination);
  source.start();
  lfo.start();
  return gain;
}

// on: whether somebody asked for sound. Context: what makes it, or undefined where the browser has none.
export function makeSound(Context = globalThis.AudioContext) {
  const sound = { on: false, can: Context !== undefined };
  let context = null;
  let voices = null;

  function set(gain, loud) {
    gain.gain.setTargetAtTime(loud ? LOUD : 0, context.currentTime, FADE_S);
  }
  // Asked by a press, as browsers want it.
  sound.turn = () => {
    sound.on = !sound.on && sound.can;
    if (sound.on && !context) {
      context = new Context();
      voices = { tone: voice(context, { shape: "sine", hertz: 1400, slow: 1, beats: true }), siren: voice(context, { shape: "triangle", hertz: 900, slow: 2, sweep: 300 }) };
    }
    if (!sound.on) sound.hush();
    else context.resume?.();
  };
  // What sounds now; of nothing while it does not play.
  sound.at = (finding, second, playing) => {
    if (!voices) return;
    const now = sound.on && playing ? soundsAt(finding, second) : { tone: false, siren: false };
    set(voices.tone, now.tone && !now.siren);
    set(voices.siren, now.siren);
  };
  sound.hush = () => sound.at(null, 0, false);
  return sound;
}
