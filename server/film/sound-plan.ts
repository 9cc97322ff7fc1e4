/** What a film lets hear, and when: music, sounds, and what was recorded with the pieces that keep it. */
import { rateFps } from '../calc/rate.ts';
import { soundBitrateBps } from '../core/derived/file.ts';
import type { Deliverable, Film } from '../core/film.ts';
import type { ClipState } from '../core/footage.ts';
import { quoted, secondsText } from '../core/say.ts';
import type { Take } from '../core/takes.ts';
import type { Ends, Seconds } from '../core/units.ts';
import type { Cue, Output, SoundPlan } from './assembly.ts';
import type { Run } from './clip-stretch.ts';
import { pieceName, type PieceOn } from './grid.ts';

export interface KeptPiece {
  readonly on: PieceOn;
  readonly runs: readonly Run[];
  readonly take?: Take | undefined;
}

interface Asked {
  readonly film: Film;
  readonly deliverable: Deliverable;
  readonly output: Pick<Output, 'rate'>;
  readonly frames: number;
  readonly stretch: Ends<Seconds>;
  /** The pieces that are made of takes. */
  readonly pieces: readonly KeptPiece[];
  media(path: string): ClipState;
  clip(path: string): ClipState;
}

export interface Heard {
  /** Absent where the deliverable has no sound. */
  readonly sound?: SoundPlan;
  readonly faults: readonly string[];
  readonly notes: readonly string[];
}

export function soundOf(asked: Asked): Heard {
  const { deliverable, output, frames } = asked;
  if (deliverable.sound === 'none') return { faults: [], notes: [] };
  const sampleRate = deliverable.sampleRate?.value ?? 48_000;
  const samples = Math.round((frames / rateFps(output.rate)) * sampleRate);
  const listener = new Listener(asked, sampleRate, samples);
  listener.music();
  listener.sounds();
  for (const piece of asked.pieces) listener.kept(piece);
  const { cues, faults, notes } = listener;
  const sound: SoundPlan = {
    sampleRate,
    channels: deliverable.sound === 'mono' ? 1 : 2,
    samples,
    cues,
    stretches: [{ from: 0, to: samples }],
    bitrateBps: soundBitrateBps(deliverable),
    ...(deliverable.loudness && { loudnessLufs: deliverable.loudness.value }),
    ...(deliverable.truePeak && { truePeakDbtp: deliverable.truePeak.value }),
  };
  return { sound, faults, notes };
}

class Listener {
  readonly cues: Cue[] = [];
  readonly faults: string[] = [];
  readonly notes: string[] = [];

  constructor(
    private readonly asked: Asked,
    private readonly sampleRate: number,
    private readonly samples: number,
  ) {}

  music(): void {
    const { film, stretch } = this.asked;
    const { music } = film;
    const file = music && this.#file(music.track?.value, 'The music');
    if (!file) return;
    const fromS = music.trimS + stretch.from;
    const leftS = file.lengthS - fromS;
    const wantedS = this.samples / this.sampleRate;
    if (leftS < wantedS - 0.02)
      this.notes.push(
        `The music ends ${secondsText(wantedS - Math.max(0, leftS), 1)} before the film: silence follows, as nothing is repeated.`,
      );
    if (leftS > 0) this.#cue({ path: file.path, of: 'repo', fromS, lengthS: Math.min(leftS, wantedS), atS: 0 });
  }

  sounds(): void {
    const { film, stretch } = this.asked;
    const wantedS = this.samples / this.sampleRate;
    for (const sound of film.sounds) {
      const startS = sound.atS - stretch.from;
      const endS = sound.lengthS === undefined ? wantedS : Math.min(wantedS, startS + sound.lengthS);
      if (endS <= 0 || startS >= wantedS) continue;
      const file = this.#file(sound.track?.value, 'A sound');
      if (!file) continue;
      const skipS = Math.max(0, -startS);
      const lengthS = Math.min(endS - Math.max(0, startS), file.lengthS - skipS);
      if (lengthS > 0)
        this.#cue({
          path: file.path,
          of: 'repo',
          fromS: skipS,
          lengthS,
          atS: Math.max(0, startS),
          gainDb: sound.gain?.value ?? 0,
        });
    }
  }

  /** With the halves of its dissolves, over which it comes and goes. */
  kept({ on, runs, take }: KeptPiece): void {
    const { piece } = on;
    if (piece.sound !== 'keep' || piece.speed === 0) return;
    const fps = rateFps(this.asked.output.rate);
    for (const { file, start, end, fromS, stepS } of runs) {
      const fileFromS = stepS < 0 ? fromS + stepS * (end - 1 - start) : fromS;
      const apart = take?.sound;
      if (apart?.path && !apart.starts) {
        this.faults.push(
          `The sound ${quoted(apart.path.text)} says no \`starts\`: \`shootspec check --decode\` finds it, and offers to write it.`,
        );
        return;
      }
      const source = apart?.path
        ? { path: apart.path.value, fromS: file.startS + fileFromS - apart.starts!.value }
        : { path: file.path, fromS: fileFromS };
      const state = file.of === 'repo' ? this.asked.media(source.path) : this.asked.clip(source.path);
      if (state.kind !== 'facts' || state.facts.audio.length === 0) {
        this.faults.push(
          `${pieceName(piece)} keeps its sound, and ${quoted(apart?.path?.text ?? file.text)} has none.`,
        );
        return;
      }
      this.#cue({
        ...source,
        of: file.of,
        lengthS: Math.abs(stepS) * (end - start),
        atS: start / fps,
        speed: stepS * fps,
        pitchKept: piece.pitch === 'kept',
        fadeInS: start === on.outerStart ? ((on.start - on.outerStart) * 2) / fps : 0,
        fadeOutS: end === on.outerEnd ? ((on.outerEnd - on.end) * 2) / fps : 0,
      });
    }
  }

  #cue(cue: Pick<Cue, 'path' | 'of' | 'fromS' | 'lengthS'> & { readonly atS: Seconds } & Partial<Cue>): void {
    const { atS, fromS, lengthS, ...rest } = cue;
    const early = Math.max(0, -fromS);
    this.cues.push({
      gainDb: 0,
      speed: 1,
      pitchKept: false,
      fadeInS: 0,
      fadeOutS: 0,
      ...rest,
      fromS: fromS + early,
      lengthS: lengthS - early,
      atSample: Math.round((atS + early / Math.abs(rest.speed ?? 1)) * this.sampleRate),
    });
  }

  #file(track: string | undefined, what: string): { path: string; lengthS: Seconds } | undefined {
    const name = quoted(track ?? '');
    const file = track === undefined ? undefined : this.asked.film.rights.get(track)?.media;
    if (!file) {
      this.notes.push(
        `${what}${track === undefined ? '' : ` ${name}`} is not heard: \`rights\` names no \`file\` of it.`,
      );
      return undefined;
    }
    const state = this.asked.media(file.value);
    const audio = state.kind === 'facts' ? state.facts.audio[0] : undefined;
    if (audio) return { path: file.value, lengthS: audio.durationS };
    const why = state.kind === 'missing' ? 'is not there' : state.kind === 'facts' ? 'has no sound' : 'can’t be read';
    this.faults.push(`${quoted(file.text)}, the file of ${name}, ${why}.`);
    return undefined;
  }
}
