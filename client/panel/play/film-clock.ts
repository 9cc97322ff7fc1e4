/** Where the film is. Sound that plays leads: what is seen is what is heard at that time; without it the page's clock. */
import type { Seconds } from '../../../server/core/units.ts';
import type { ReelSound } from '../../../server/film/reel.ts';

/** So long before it starts, sound is handed over. */
const leadS = 0.06;

export class FilmClock {
  #context: AudioContext | undefined;
  #volume: GainNode | undefined;
  #playing: AudioBufferSourceNode[] = [];
  #heard: readonly { readonly sound: ReelSound; readonly buffer: AudioBuffer }[] = [];
  /** While it runs: the moment of the film, and of the clock, at which it started. */
  #started:
    | { readonly atS: Seconds; readonly untilS: Seconds; readonly clockS: Seconds; readonly byS: () => Seconds }
    | undefined;
  isSilent = false;

  /** What can be heard from now on. */
  setSounds(heard: readonly { readonly sound: ReelSound; readonly buffer: AudioBuffer }[]): void {
    this.#heard = heard;
    if (!this.#started) return;
    const { untilS } = this.#started;
    this.start(this.now(), untilS);
  }

  /** @param bytes of a file of sound; fails where the browser can't play it */
  async decode(bytes: ArrayBuffer): Promise<AudioBuffer> {
    return this.#open().decodeAudioData(bytes);
  }

  get runs(): boolean {
    return this.#started !== undefined;
  }

  /** Whether sound leads just now. */
  get isLed(): boolean {
    return this.#started !== undefined && this.#playing.length > 0;
  }

  now(): Seconds {
    if (!this.#started) return 0;
    const { atS, clockS, byS } = this.#started;
    return atS + Math.max(0, byS() - clockS);
  }

  start(atS: Seconds, untilS: Seconds): void {
    this.stop();
    const context = this.#context;
    const pageS = () => performance.now() / 1000;
    this.#started = { atS, untilS, clockS: pageS(), byS: pageS };
    if (this.#heard.length === 0 || !context) return;
    if (context.state !== 'running') {
      // The browser lets sound start when it likes: until then the page's clock leads.
      void context.resume().then(() => this.#started && context.state === 'running' && this.start(this.now(), untilS));
      return;
    }
    const startS = context.currentTime + leadS;
    for (const one of this.#heard) this.#play(context, one, atS, untilS, startS);
    if (this.#playing.length === 0) return;
    // Sound is heard when it has come through the machine.
    const late = () => context.outputLatency || context.baseLatency || 0;
    this.#started = { atS, untilS, clockS: startS, byS: () => context.currentTime - late() };
  }

  stop(): void {
    for (const one of this.#playing) one.stop();
    this.#playing = [];
    this.#started = undefined;
  }

  setSilent(isSilent: boolean): void {
    this.isSilent = isSilent;
    if (this.#volume) this.#volume.gain.value = isSilent ? 0 : 1;
  }

  #open(): AudioContext {
    if (!this.#context) {
      this.#context = new AudioContext();
      this.#volume = this.#context.createGain();
      this.#volume.connect(this.#context.destination);
      this.setSilent(this.isSilent);
    }
    return this.#context;
  }

  #play(
    context: AudioContext,
    { sound, buffer }: { readonly sound: ReelSound; readonly buffer: AudioBuffer },
    atS: Seconds,
    untilS: Seconds,
    startS: Seconds,
  ): void {
    const skipS = Math.max(0, atS - sound.atS);
    const waitS = Math.max(0, sound.atS - atS);
    const lengthS = Math.min(sound.lengthS - skipS, untilS - atS - waitS);
    const fromS = sound.fromS + skipS;
    if (lengthS <= 0 || fromS >= buffer.duration) return;
    const source = context.createBufferSource();
    const gain = context.createGain();
    source.buffer = buffer;
    gain.gain.value = 10 ** (sound.gainDb / 20);
    source.connect(gain).connect(this.#volume!);
    source.start(startS + waitS, fromS, lengthS);
    this.#playing.push(source);
  }
}
