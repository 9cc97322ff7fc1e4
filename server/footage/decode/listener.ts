/** Listens to files of music, one after the other and each once: how long they are, how loud, and where their beats lie. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type Beats, beatsInSteps } from '../../calc/beat-track.ts';
import { OnsetMeter } from '../../calc/onsets.ts';
import { EnvelopeMeter, envelopeText } from '../../calc/sound-offset.ts';
import type { MusicHeard } from '../../core/decoded.ts';
import { type Ffmpeg, ffmpeg, type RunLimits } from './ffmpeg.ts';
import { Kept, musicHeard, type Stamped } from './kept.ts';
import { decodedInto, type WavHead } from './sound.ts';

/** Longer or larger files are no music for films of this kind. */
const longestS = 15 * 60;
const mostBytes = 2e9;
const limits: RunLimits = { mostS: 120, mostBytes: longestS * 192e3 * 8 * 4 };

export class Listener {
  /** What was heard; undefined where nothing could be. */
  readonly #known = new Map<string, MusicHeard | undefined>();
  #turn: Promise<unknown> = Promise.resolve();
  #stop = new AbortController();

  constructor(
    private readonly kept = new Kept<MusicHeard>(musicHeard),
    /** Looked for when there is something to listen to. */
    private readonly program: () => Promise<Ffmpeg | undefined> = ffmpeg,
  ) {}

  /** What was heard in a file as it is now, now or at another time. */
  known(at: Stamped): MusicHeard | undefined {
    const key = keyOf(at);
    if (!this.#known.has(key)) {
      const kept = this.kept.read(at);
      if (kept) this.#known.set(key, kept);
    }
    return this.#known.get(key);
  }

  /** Whether it was listened to, whatever came of it. */
  hasTried(at: Stamped): boolean {
    return this.known(at) !== undefined || this.#known.has(keyOf(at));
  }

  /** Never rejects. */
  listen(at: Stamped): Promise<MusicHeard | undefined> {
    const heard = this.#turn.then(() => this.#heard(at));
    this.#turn = heard;
    return heard;
  }

  /** Ends what is being listened to. */
  end(): void {
    this.#stop.abort();
    this.#stop = new AbortController();
  }

  async #heard(at: Stamped): Promise<MusicHeard | undefined> {
    if (this.hasTried(at)) return this.known(at);
    const { signal } = this.#stop;
    const program = await this.program();
    const heard = program && at.bytes <= mostBytes ? await musicIn(program, at.file, { ...limits, signal }) : undefined;
    if (signal.aborted) return undefined;
    this.#known.set(keyOf(at), heard);
    if (heard) this.kept.write(at, heard);
    return heard;
  }
}

async function musicIn(program: Ffmpeg, file: string, within: RunLimits): Promise<MusicHeard | undefined> {
  const { meters, why } = await decodedInto(program, file, within, (head) => new MusicMeters(head));
  if (!meters || why !== undefined || meters.durationS > longestS) return undefined;
  const steps = beatsInSteps(meters.onsets.read());
  for (;;) {
    const { done, value } = steps.next();
    if (done) return { durationS: meters.durationS, rows: value.map(rounded), envelope: meters.envelopeText() };
    // Lets in who types meanwhile.
    await nextTurn();
  }
}

/** Beats to a millisecond: sounds set in no faster. */
function rounded(row: Beats): Beats {
  return { ...row, beatsS: row.beatsS.map((at) => Math.round(at * 1000) / 1000) };
}

class MusicMeters {
  readonly onsets: OnsetMeter;
  readonly #envelope: EnvelopeMeter;
  #frames = 0;

  constructor(private readonly head: WavHead) {
    this.onsets = new OnsetMeter(head.sampleRateHz, head.channels, longestS);
    this.#envelope = new EnvelopeMeter(head.sampleRateHz, head.channels);
  }

  get durationS(): number {
    return this.#frames / this.head.sampleRateHz;
  }

  push(samples: Float32Array): void {
    this.#frames += samples.length / this.head.channels;
    this.onsets.push(samples);
    this.#envelope.push(samples);
  }

  envelopeText(): string {
    return envelopeText(this.#envelope.read());
  }
}

function keyOf({ file, bytes, changedMs }: Stamped): string {
  return `${file}\n${bytes}\n${changedMs}`;
}
