// Two signs that can be told without looking: one short low tone for what came right, two falling ones for what did not.
const TONES = { right: [[220, 0]], wrong: [[440, 0], [220, 0.22]] };
const LONG_S = 0.18;
let audio = null;

export function sign(what) {
  try {
    audio ??= new AudioContext();
    for (const [hertz, after] of TONES[what] ?? []) {
      const tone = audio.createOscillator();
      const loud = audio.createGain();
      tone.frequency.value = hertz;
      loud.gain.value = 0.2;
      tone.connect(loud).connect(audio.destination);
      tone.start(audio.currentTime + after);
      tone.stop(audio.currentTime + after + LONG_S);
    }
    if (TONES[what]) navigator.vibrate?.(what === "right" ? 80 : [80, 80, 80]);
  } catch {
    /* no sound here: the words say it too */
  }
}
