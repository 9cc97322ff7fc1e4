/** What is said of music that is heard: numbers reckoned by hand beside each. */
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Finding } from '../../server/core/finding.ts';
import { musicNumbers } from '../../server/features/hover-lines.ts';
import { firstBeat, musicLength, tempo } from '../../server/features/completion/edit-values.ts';
import { drawTimeline } from '../../server/views/timeline/index.ts';
import { elements, wordsOf } from '../helpers/drawing.ts';
import { heardOf, heardRow, type Row } from '../helpers/music.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

const file = 'music/tune.wav';
const even: Row = { bpm: 100, firstS: 0.412, seconds: 48 };

const film = (music: string, cut = '  - { shot: box, length: 24 s }\n') =>
  spec(`deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, loudness: -14 LUFS }
shots:
  box: { record: 60 s }
  lid: { record: 60 s, camera: { angle: 60° } }
music: { track: tune, ${music} }
rights:
  tune: { kind: music, owner: own, file: ${file} }
cut:
${cut}`);

const about = ['music-not-as-heard', 'cut-off-beat', 'music-too-short'];

function found(text: string, row: Row): Finding[] {
  const { findings } = checkerFor({ [file]: '' }, { music: heardOf({ [file]: row }) }).checkAs('shoot', text);
  return findings.filter(({ rule }) => about.includes(rule));
}
const said = (text: string, row: Row) => found(text, row).map(({ rule, message }) => `${rule}: ${message}`);
/** With the first fix of the first finding. */
const mended = (text: string, row: Row) => applyEdits(text, found(text, row)[0]!.fixes[0]!.edits)!;

describe('tempo and first beat', () => {
  test('what is heard is silent, to a frame', () => {
    expect(said(film('tempo: 100 bpm, first-beat: 0.4 s, length: 48 s'), even)).toEqual([]);
    expect(said(film('tempo: 100.1 bpm, first-beat: 0.45 s'), even)).toEqual([]);
  });

  test('a tempo that is a little off runs away: 24 s × (101 ÷ 100 − 1) is 0.24 s, six frames', () => {
    expect(said(film('tempo: 101 bpm, first-beat: 0.4 s'), even)).toEqual([
      'music-not-as-heard: `music/tune.wav` is heard at 100 bpm, not 101 bpm: at the end of the film (24 s) the beats that are counted are 6 frames (240 ms) from those that are played.',
    ]);
  });

  test.each([200, 50, 300])('counted as %d it is the same music', (bpm) => {
    expect(said(film(`tempo: ${bpm} bpm, first-beat: 0.412 s`), even)).toEqual([]);
  });

  test('a tempo that nothing of it has is asked about, not warned of', () => {
    const [finding] = found(film('tempo: 130 bpm, first-beat: 0.4 s'), even);
    expect(finding!.severity).toBe('info');
    expect(finding!.message).toContain('the likeliest is 100 bpm, its first beat at 0.412 s');
  });

  test('without a first beat the film starts 0.412 s, ten frames, before it; the fix writes it', () => {
    const text = film('tempo: 100 bpm');
    expect(said(text, even)).toEqual([
      'music-not-as-heard: The beat at 0 s (no `first-beat` is said) is 10.3 frames (412 ms) before the one that is heard in `music/tune.wav`: that is at 0.412 s. All cuts on beats are off by as much.',
    ]);
    expect(said(mended(text, even), even)).toEqual([]);
  });

  test('any beat may be the first: 0.412 + 20 × 0.6 s', () => {
    expect(said(film('tempo: 100 bpm, first-beat: 12.412 s'), even)).toEqual([]);
    expect(said(film('tempo: 100 bpm, first-beat: 12.6 s'), even)[0]).toContain('that is at 12.412 s');
  });

  test('both off are one finding with one fix', () => {
    const text = film('tempo: 101 bpm');
    expect(found(text, even)).toHaveLength(1);
    expect(mended(text, even)).toContain('tempo: 100 bpm, first-beat: 0.412 s');
  });

  test('without a beat, and where nobody listened, nothing is said', () => {
    const { findings } = checkerFor({ [file]: '' }, { music: () => ({ ...heardRow(even), rows: [] }) }).checkAs(
      'shoot',
      film('tempo: 87 bpm'),
    );
    expect(findings.filter(({ rule }) => about.includes(rule))).toEqual([]);
    expect(said(film('tempo: 87 bpm').replace(`, file: ${file}`, ''), even)).toEqual([]);
  });
});

describe('length', () => {
  test('is that of the file where that is known: too short, and once', () => {
    const text = film('tempo: 100 bpm, first-beat: 0.4 s, length: 48 s');
    expect(said(text, { ...even, seconds: 20 })).toEqual([
      'music-too-short: The music is 20 s long and starts 0.4 s in, so it ends after 19.6 s; the film runs 24 s: 4.4 s of silence at the end. Repeat a few bars of it, or take longer music.',
    ]);
  });

  test('that is said otherwise is written as it is', () => {
    const text = film('tempo: 100 bpm, first-beat: 0.4 s, length: 60 s');
    expect(said(text, even)).toEqual(['music-not-as-heard: `music/tune.wav` is 48 s long, not 60 s.']);
    expect(mended(text, even)).toContain('length: 48 s');
  });
});

describe('music that slows down', () => {
  // Steps from 0.582 to 0.618 s: in the middle beats are 0.36 s from where an even 100 would have them.
  const slows: Row = { ...even, slows: 0.06 };
  const cuts = `  - { shot: box, length: 16 beats }\n  - { shot: lid, length: 8 beats }\n  - { shot: box, length: 10 beats }\n`;
  const text = film('tempo: 100 bpm, first-beat: 0.412 s', cuts);

  test('is one finding about all cuts, and its fix puts them on the beats that are played', () => {
    const [finding, ...more] = found(text, slows);
    expect(more).toEqual([]);
    expect(finding!.message).toMatch(/^2 of 2 cuts are off the beats of `music\/tune.wav` by up to \d/);
    const after = mended(text, slows);
    expect(said(after, slows)).toEqual([]);
    // Steps of the first 9.4 s are 0.6 × (1 + 0.06 × (5.1 ÷ 48 − 0.5)) = 0.5858 s on average: beat 16 is at 9.37 s, frame 234.3.
    expect(after).toContain('length: 234 frames');
  });

  test('with one cut off says which', () => {
    const one = film(
      'tempo: 100 bpm, first-beat: 0.412 s',
      '  - { shot: box, length: 16 beats }\n  - { shot: lid, length: 8 beats }\n',
    );
    expect(said(one, slows)[0]).toMatch(
      /^cut-off-beat: box \(piece 1\) ends at frame 240, the beat is played at 234\.\d+: /,
    );
  });
});

describe('what is heard is shown', () => {
  const resultOf = (text: string, row: Row) =>
    checkerFor({ [file]: '' }, { music: heardOf({ [file]: row }) }).checkAs('shoot', text);

  test('on hovering and in completion, which offers no other tempo then', () => {
    const film101 = resultOf(film('tempo: 101 bpm'), even).film!;
    expect(musicNumbers(film101).map((one) => one.text)).toEqual([
      'A beat is 0.594 s: 14.851 frames at 25',
      'Heard: 100 bpm, 80 beats, even',
      'Heard: the first beat at 0.412 s',
      'The file is 48 s long',
    ]);
    const context = { film: film101, path: ['music'], shots: [] };
    expect(tempo.texts(context)).toEqual(['100 bpm']);
    expect(tempo.note(context, '100 bpm')).toBe('heard in its file · 15 frames a beat');
    expect(firstBeat.texts(context)).toEqual(['0.412 s']);
    expect(musicLength.texts(context)).toEqual(['48 s']);
  });

  test('in the film in time: its wave, and beats where they are played', () => {
    const result = resultOf(film('tempo: 100 bpm, first-beat: 0.412 s'), { ...even, slows: 0.06 });
    const picture = drawTimeline(result, result.film!);
    expect(wordsOf(picture)).toContain('Music');
    const waves = elements(picture.body).filter(({ attrs }) => String(attrs['d']).length > 2000);
    expect(waves).toHaveLength(1);
    const beats = elements(picture.body).filter(
      ({ name, children }) => name === 'text' && /^\d+$/.test(String(children[0])),
    );
    const x = (beat: number) => Number(beats.find(({ children }) => children[0] === String(beat))!.attrs['x']);
    // The first 23.6 s have steps of 0.6 × (1 + 0.06 × (12 ÷ 48 − 0.5)) = 0.591 s on average: beat 40 is at 23.64 s, not at 24 s.
    const [zero, end] = picture.axis ? [picture.axis.left, picture.axis.right] : [0, 0];
    expect(((x(40) - zero) / (end - zero)) * 24).toBeCloseTo(23.64, 1);
  });
});
