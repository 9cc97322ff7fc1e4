/** A short click, for eyes that are on the product. Made here: a page without network has no sound to load. */

let sound: AudioContext | undefined;

/** Browsers let a page sound only once something was pressed: to be called then. */
export function prepareClick(): void {
  sound ??= new AudioContext();
  void sound.resume();
}

const [pitchHz, lastsS] = [1200, 0.03];

export function click(): void {
  if (!sound) return;
  const [tone, level] = [new OscillatorNode(sound, { frequency: pitchHz }), new GainNode(sound, { gain: 0.4 })];
  const now = sound.currentTime;
  level.gain.setTargetAtTime(0, now + lastsS / 2, lastsS / 6);
  tone.connect(level).connect(sound.destination);
  tone.start(now);
  tone.stop(now + lastsS * 2);
}
