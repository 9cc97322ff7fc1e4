/** Music of known beats, as samples: clicks, and a comb of steel teeth that is plucked. */
import type { MusicHeard } from '../../server/core/decoded.ts';
import { Random } from '../hostile/random.ts';

export interface Note {
  readonly atS: number;
  readonly hz: number;
  readonly gain: number;
  /** Until it is a third as loud. */
  readonly decayS: number;
  readonly attackS?: number;
}

export function played(seconds: number, rateHz: number, notes: readonly Note[]): Float32Array {
  const sound = new Float32Array(Math.round(seconds * rateHz));
  for (const note of notes) pluck(sound, rateHz, note);
  return sound;
}

/** Partials of a bar that is fixed at one end, 1 : 6.27 : 17.5 (Fletcher and Rossing, The Physics of Musical Instruments, 1998, from memory). */
const partials = [
  [1, 1],
  [6.27, 0.25],
] as const;

function pluck(sound: Float32Array, rateHz: number, { atS, hz, gain, decayS, attackS = 0.002 }: Note): void {
  const start = Math.round(atS * rateHz);
  const length = Math.min(sound.length - start, Math.round(5 * decayS * rateHz));
  for (let at = 0; at < length; at++) {
    const s = at / rateHz;
    const loud = gain * Math.exp(-s / decayS) * Math.min(1, s / attackS);
    for (const [times, share] of partials)
      if (hz * times < rateHz / 2) sound[start + at]! += loud * share * Math.sin(2 * Math.PI * hz * times * s);
  }
}

/** A click of 1.5 kHz, 30 ms long. */
export const click = (atS: number, gain = 0.5): Note => ({ atS, hz: 1500, gain, decayS: 0.006 });

export interface Row {
  readonly bpm: number;
  readonly firstS: number;
  readonly seconds: number;
  /** How much longer the last step is than the middle one, twice over, as a share. */
  readonly slows?: number;
}

/** Where the beats are. */
export function beatTimes({ bpm, firstS, seconds, slows = 0 }: Row): number[] {
  const times: number[] = [];
  for (let at = firstS; at < seconds - 0.1; at += (60 / bpm) * (1 + slows * (at / seconds - 0.5))) times.push(at);
  return times;
}

const scale = [523, 587, 659, 784, 880, 1047, 1175, 1319];

/** A waltz of a music box: a strong one, two light ones, eighths here and there; `loose` is how far each note is from its time. */
export function waltz(row: Row & { readonly seed: number; readonly loose?: number; readonly rests?: number }): Note[] {
  const random = randomOf(row.seed);
  const tooth = () => scale[Math.floor(random() * scale.length)]!;
  const off = () => (row.loose ?? 0) * (2 * random() - 1);
  return beatTimes(row).flatMap((atS, index) => {
    const isOne = index % 3 === 0;
    const isRest = random() < (row.rests ?? 0);
    return [
      ...(isRest ? [] : [{ atS: atS + off(), hz: tooth(), gain: isOne ? 0.3 : 0.15, decayS: 0.3 }]),
      ...(isOne && !isRest ? [{ atS: atS + off(), hz: 262, gain: 0.25, decayS: 0.5 }] : []),
      ...(random() < 0.35 ? [{ atS: atS + 30 / row.bpm + off(), hz: tooth(), gain: 0.12, decayS: 0.2 }] : []),
    ];
  });
}

/** Evenly between 0 and 1. */
export function randomOf(seed: number): () => number {
  const numbers = new Random(seed);
  return () => numbers.below(1e6) / 1e6;
}

/** Music by its path: its row of beats, and how long it is. */
export type SaidMusic = Readonly<Record<string, Row>>;

/** What is heard in it, without any being played. */
export function heardOf(said: SaidMusic = {}): (path: string) => MusicHeard | undefined {
  return (path) => said[path] && heardRow(said[path]);
}

export function heardRow(row: Row): MusicHeard {
  const beatsS = beatTimes(row);
  const even = beatsS.map((at, index) => Math.abs(at - row.firstS - (index * 60) / row.bpm));
  const unevenS = row.slows ? Math.max(...even) : 0.004;
  const beats = { bpm: row.bpm, bpmError: 0.005, firstS: row.firstS, beatsS, unevenS };
  const envelope = Array.from({ length: Math.round(row.seconds * 200) }, (_, at) =>
    String.fromCharCode(48 + 30 + (at % 30)),
  );
  return { durationS: row.seconds, rows: [beats], envelope: envelope.join('') };
}
