/** What a film lets hear: in step to the sample, and as loud as planned. */
import { execFileSync, spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { madeClip, madeFile } from '../helpers/clips.ts';
import { assembled, planned, type Said } from '../helpers/assembled.ts';
import { playedSound, type Sound, tune } from '../helpers/film-clips.ts';
import { planOf } from '../helpers/filmed.ts';

const rate = 48_000;
/** Silence but for a click at a moment. */
const click =
  (atS: number): Sound =>
  (s) =>
    Math.round(s * rate) === Math.round(atS * rate) ? 0.9 : 0;

/** A clip of 4 s at 25 frames a second with a sound beside the picture. */
function heardClip(sound: Sound): string {
  const samples = Float32Array.from({ length: 4 * rate }, (_, at) => sound(at / rate, 0));
  const raw = madeFile('f32', new Uint8Array(samples.buffer));
  const picture = ['-f', 'lavfi', '-i', 'color=gray:s=320x180:r=25:d=4'];
  const wav = ['-f', 'f32le', '-ar', String(rate), '-ac', '1', '-i', raw];
  return madeClip('mov', [...picture, ...wav, '-c:v', 'libx264', '-preset', 'ultrafast', '-c:a', 'pcm_s24le']);
}

interface Film {
  readonly deliver?: string;
  readonly more: string;
  readonly takes?: string;
  readonly clips?: Readonly<Record<string, string>>;
  readonly files?: Readonly<Record<string, string>>;
}

function filmOf({ deliver = '', more, takes, clips, files }: Film): Said {
  const film = `deliver:\n  film: { raster: 160x90, rate: 25, codec: h264, sound: stereo${deliver} }\n`;
  const shots = 'shots:\n  box: { record: 4 s, handles: 0 s }\n';
  const plan = planOf({}, `${film}${shots}${more}`);
  return { plan, ...(takes && { takes }), ...(clips && { clips }), ...(files && { files }) };
}

function samplesOf(file: string): Float32Array {
  const args = ['-v', 'error', '-i', file, '-map', '0:a', '-ac', '1', '-ar', String(rate), '-f', 'f32le', 'pipe:1'];
  return new Float32Array(Uint8Array.from(execFileSync('ffmpeg', args, { maxBuffer: 1e9 })).buffer);
}

/** The loudest samples that lie apart, in order. */
function clicksIn(file: string): number[] {
  const samples = samplesOf(file);
  const loud = [...samples.keys()].filter((at) => Math.abs(samples[at]!) > 0.25);
  const groups: number[][] = [];
  for (const at of loud) {
    if (groups.length > 0 && at - groups.at(-1)!.at(-1)! < 500) groups.at(-1)!.push(at);
    else groups.push([at]);
  }
  return groups.map((group) =>
    group.reduce((best, at) => (Math.abs(samples[at]!) > Math.abs(samples[best]!) ? at : best)),
  );
}

const black = (seconds: number) => `cut:\n  - { colour: "#000000", length: ${seconds} s }\n`;
const music = (trim: string) =>
  `music: { track: tune, tempo: 120 bpm, trim: ${trim} }\nrights:\n  tune: { kind: music, owner: own, file: music/tune.wav }\n`;

describe('in step to the sample', () => {
  it('music from where it is trimmed, and in a section from where that starts', async () => {
    const files = { 'music/tune.wav': playedSound(click(1.75), 4) };
    expect(clicksIn(await assembled(filmOf({ more: black(2) + music('0.5 s'), files })))).toEqual([1.25 * rate]);
    const section = filmOf({ deliver: ', section: 1 s to 2 s', more: black(3) + music('0.5 s'), files });
    expect(clicksIn(await assembled(section))).toEqual([0.25 * rate]);
  });

  it('sound that is kept, with the clip, backwards, and from a recorder of its own', async () => {
    const cut =
      'cut:\n  - { shot: box, length: 1 s, from: 1 s, sound: keep }\n  - { shot: box, length: 1 s, from: 2 s, speed: -100 %, sound: keep }\n';
    const takes = 'takes:\n  box: { clip: A.MOV, judged: best }\n';
    const clips = { 'A.MOV': heardClip(click(1.25)) };
    const [first, second] = clicksIn(await assembled(filmOf({ more: cut, takes, clips })));
    expect(first).toBe(0.25 * rate);
    // Played from its end, its sample 0.25 s after the start is heard 0.25 s before the end.
    expect(second).toBe(1.75 * rate - 1);
    const apart = 'takes:\n  box: { clip: A.MOV, judged: best, sound: { file: S.WAV, starts: -0.5 s } }\n';
    const recorder = { ...clips, 'S.WAV': playedSound(click(2), 4) };
    expect(clicksIn(await assembled(filmOf({ more: cut, takes: apart, clips: recorder })))[0]).toBe(0.5 * rate);
  });

  it('as long as the picture, to within a frame', async () => {
    const files = { 'music/tune.wav': playedSound(tune, 4) };
    const samples = samplesOf(await assembled(filmOf({ more: black(2) + music('0 s'), files })));
    expect(Math.abs(samples.length - 2 * rate)).toBeLessThanOrEqual(rate / 25);
  });
});

describe('as loud as planned', () => {
  /** By the meter of another program. */
  function loudnessOf(file: string): number {
    const { stderr } = spawnSync(
      'ffmpeg',
      ['-hide_banner', '-nostats', '-i', file, '-af', 'ebur128', '-f', 'null', '-'],
      { encoding: 'utf8' },
    );
    return Number(/I:\s+(-?[\d.]+) LUFS/.exec(stderr.slice(stderr.lastIndexOf('Summary')))?.[1]);
  }

  it('by one gain', async () => {
    const files = { 'music/tune.wav': playedSound(tune, 5) };
    const said = filmOf({ deliver: ', loudness: -20 LUFS, true-peak: -1 dBTP', more: black(4) + music('0 s'), files });
    expect(Math.abs(loudnessOf(await assembled(said)) + 20)).toBeLessThan(0.5);
  });

  it('or quieter where the peak forbids it, and it says by how much', async () => {
    const files = { 'music/tune.wav': playedSound((s, channel) => tune(s, channel) / 10 + click(2)(s, channel), 5) };
    const notes: string[] = [];
    const said = filmOf({ deliver: ', loudness: -14 LUFS, true-peak: -1 dBTP', more: black(4) + music('0 s'), files });
    const loudness = loudnessOf(await assembled(said, { say: (note) => notes.push(note) }));
    expect(notes).toHaveLength(1);
    const less = Number(
      /^The sound is ([\d.]+) LU quieter than -14 LUFS: its peaks would go over -1 dBTP\./.exec(notes[0]!)![1],
    );
    expect(Math.abs(loudness - (-14 - less))).toBeLessThan(0.5);
  });
});

it('says what is not heard, and stops where kept sound is not there', async () => {
  const { notes } = await planned(filmOf({ more: `${black(2)}music: { track: tune, tempo: 120 bpm }\n` }));
  expect(notes).toEqual(['The music `tune` is not heard: `rights` names no `file` of it.']);
  const short = await planned(
    filmOf({ more: black(2) + music('0 s'), files: { 'music/tune.wav': playedSound(tune, 1) } }),
  );
  expect(short.notes).toEqual(['The music ends 1 s before the film: silence follows, as nothing is repeated.']);
  const clips = {
    'A.MP4': madeClip('mp4', [
      '-f',
      'lavfi',
      '-i',
      'color=gray:s=320x180:r=25:d=4',
      '-c:v',
      'libx264',
      '-preset',
      'ultrafast',
    ]),
  };
  const kept = filmOf({
    more: 'cut:\n  - { shot: box, length: 1 s, sound: keep }\n',
    takes: 'takes:\n  box: { clip: A.MP4, judged: best }\n',
    clips,
  });
  expect((await planned(kept)).faults).toEqual(['Piece 1 (`box`) keeps its sound, and `A.MP4` has none.']);
});
