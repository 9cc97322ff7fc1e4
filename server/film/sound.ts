/** The sound of a film: mixed once, measured, and then as loud as it is planned by one gain. */
import { createReadStream, createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { LoudnessMeter } from '../calc/loudness.ts';
import { TruePeakMeter } from '../calc/true-peak.ts';
import { num as said } from '../core/say.ts';
import { inputOf } from '../footage/decode/ffmpeg.ts';
import type { Cue, SoundPlan } from './assembly.ts';
import { type Places, quiet } from './graph.ts';
import { num } from './graph-number.ts';

/** Raw 32-bit floats in the working folder: of the whole deliverable, and of what the film has of it. */
export const [mixName, soundName] = ['mix.f32', 'sound.f32'];

/** Sound is read from so long before where it is cut, so that the decoder has found its feet. */
const beforeS = 1;

export function mixArgs(sound: SoundPlan, { fileOf }: Pick<Places, 'fileOf'>): string[] {
  const { cues, samples, sampleRate, channels } = sound;
  const inputs = cues.flatMap((cue) => {
    const fromS = Math.max(0, cue.fromS - beforeS);
    return inputOf(fileOf(cue), ['-vn', '-sn', '-dn', ...(fromS > 0 ? ['-ss', num(fromS)] : [])]);
  });
  const layout = channels === 1 ? 'mono' : 'stereo';
  const shape = `aformat=sample_fmts=fltp:sample_rates=${sampleRate}:channel_layouts=${layout}`;
  const silence = `anullsrc=r=${sampleRate}:cl=${layout},${shape},atrim=end_sample=${samples}[c${cues.length}]`;
  const chains = cues.map((cue, index) => `[${index}:a:0]${cueChain(cue, sound, shape).join(',')}[c${index}]`);
  const all = [...cues, undefined].map((_, index) => `[c${index}]`).join('');
  const mix = `${all}amix=inputs=${cues.length + 1}:duration=longest:normalize=0,apad=whole_len=${samples},atrim=end_sample=${samples}[a]`;
  const raw = ['-c:a', 'pcm_f32le', '-f', 'f32le', '-ac', String(channels), `file:${mixName}`];
  return [...quiet, '-y', ...inputs, '-filter_complex', [...chains, silence, mix].join(';'), '-map', '[a]', ...raw];
}

function cueChain(cue: Cue, { sampleRate, samples }: SoundPlan, shape: string): string[] {
  const { fromS, lengthS, speed, atSample, gainDb, fadeInS, fadeOutS } = cue;
  const startS = fromS - Math.max(0, fromS - beforeS);
  const pace = Math.abs(speed);
  const count = Math.min(samples - atSample, Math.round((lengthS / pace) * sampleRate));
  const fade = (way: 'in' | 'out', seconds: number) => {
    const length = Math.min(count, Math.round(seconds * sampleRate));
    return length > 0 ? [`afade=t=${way}:ss=${way === 'in' ? 0 : count - length}:ns=${length}:curve=qsin`] : [];
  };
  return [
    `aresample=${sampleRate}:async=1:first_pts=0`,
    shape,
    `atrim=start_sample=${Math.round(startS * sampleRate)}:end_sample=${Math.round((startS + lengthS) * sampleRate)}`,
    'asetpts=PTS-STARTPTS',
    ...(speed < 0 ? ['areverse'] : []),
    ...paced(pace, cue.pitchKept, sampleRate),
    `apad=whole_len=${count}`,
    `atrim=end_sample=${count}`,
    ...fade('in', fadeInS),
    ...fade('out', fadeOutS),
    ...(gainDb === 0 ? [] : [`volume=${num(gainDb)}dB:precision=float`]),
    ...(atSample > 0 ? [`adelay=delays=${atSample}S:all=1`] : []),
  ];
}

/** One step of the filter takes half to a hundred times. */
function paced(pace: number, pitchKept: boolean, sampleRate: number): string[] {
  if (pace === 1) return [];
  if (!pitchKept) return [`asetrate=${Math.round(sampleRate * pace)}`, `aresample=${sampleRate}`];
  const steps: string[] = [];
  let left = pace;
  for (; left < 0.5; left *= 2) steps.push('atempo=0.5');
  return [...steps, `atempo=${num(left)}`];
}

// -- loudness --------------------------------------------------------------------------------------------------------

export interface Levels {
  /** −∞ for silence. */
  readonly integratedLufs: number;
  readonly truePeakDbtp: number;
}

export async function levelsOf(file: string, { sampleRate, channels }: SoundPlan): Promise<Levels> {
  const loudness = new LoudnessMeter(sampleRate, channels === 1 ? [1] : [1, 1]);
  const peak = new TruePeakMeter(channels);
  for await (const chunk of createReadStream(file, {
    highWaterMark: sampleRate * channels * 4,
  }) as AsyncIterable<Buffer>) {
    const samples = new Float32Array(Uint8Array.from(chunk).buffer);
    loudness.push(samples);
    peak.push(samples);
  }
  return { integratedLufs: loudness.read().integratedLufs, truePeakDbtp: peak.readDbtp() };
}

/** Coding lets peaks come out a little higher: common practice, no source. */
const codingDb = 0.5;

/** One gain for all of it; where the peak forbids as much, less, and a note says by how much. Unplanned sound is left as it is. */
export function gainOf(sound: SoundPlan, levels: Levels): { readonly gainDb: number; readonly note?: string } {
  const { loudnessLufs, truePeakDbtp } = sound;
  if (!Number.isFinite(levels.truePeakDbtp)) return { gainDb: 0 };
  const most = (truePeakDbtp === undefined ? 0 : truePeakDbtp - codingDb) - levels.truePeakDbtp;
  const isMeant = loudnessLufs !== undefined && Number.isFinite(levels.integratedLufs);
  const wanted = isMeant ? loudnessLufs - levels.integratedLufs : 0;
  if (wanted <= most) return { gainDb: wanted };
  const limit = truePeakDbtp === undefined ? 'full scale' : `${said(truePeakDbtp)} dBTP`;
  const note = isMeant
    ? `The sound is ${said(wanted - most)} LU quieter than ${said(loudnessLufs)} LUFS: its peaks would go over ${limit}. Limit the peaks of the music, or plan it quieter.`
    : `The sound is ${said(-most)} dB quieter than its files: its peaks would go over ${limit}.`;
  return { gainDb: most, note };
}

/** What the film has of the mix, in one file. */
export async function writeStretches(folder: string, { stretches, channels }: SoundPlan): Promise<void> {
  const out = createWriteStream(join(folder, soundName));
  const bytes = channels * 4;
  for (const { from, to } of stretches)
    await pipeline(createReadStream(join(folder, mixName), { start: from * bytes, end: to * bytes - 1 }), out, {
      end: false,
    });
  await new Promise<void>((done) => out.end(done));
}
