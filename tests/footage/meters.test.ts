/** Our meter beside that of ffmpeg, which others wrote. */
import { spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';
import { LoudnessMeter } from '../../server/calc/loudness.ts';
import { Random } from '../hostile/random.ts';

const rate = 48_000;
const seconds = 6;

/** Four voices of any pitch and loudness that come in one after another and swell, in stereo. */
function mix(random: Random): Float32Array {
  const voices = Array.from({ length: 4 }, () => ({
    hz: 60 * 2 ** (random.below(700) / 100),
    gain: 10 ** (-(10 + random.below(40)) / 20),
    from: random.below(40) / 10,
    swell: random.below(300) / 100,
  }));
  return Float32Array.from({ length: seconds * rate * 2 }, (_, at) => {
    const s = Math.floor(at / 2) / rate;
    return voices.reduce((sum, { hz, gain, from, swell }, index) => {
      const loud = s < from ? 0.02 : 0.6 + 0.4 * Math.sin(2 * Math.PI * swell * s);
      return sum + gain * loud * (index % 2 === at % 2 ? 1 : 0.5) * Math.sin(2 * Math.PI * hz * s);
    }, 0);
  });
}

function theirs(samples: Float32Array): number {
  const raw = ['-f', 'f32le', '-ar', String(rate), '-ac', '2', '-i', 'pipe:0'];
  const meter = 'ebur128=metadata=1,ametadata=print:key=lavfi.r128.I:file=-';
  const run = spawnSync('ffmpeg', ['-loglevel', 'error', ...raw, '-af', meter, '-f', 'null', '-'], {
    input: new Uint8Array(samples.buffer),
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  return Number([...run.stdout.matchAll(/lavfi\.r128\.I=(\S+)/g)].at(-1)?.[1]);
}

test('eight mixes read as ffmpeg’s meter reads them, within 0.1 LU', () => {
  const random = new Random(1770);
  const apart = Array.from({ length: 8 }, () => {
    const samples = mix(random);
    const meter = new LoudnessMeter(rate, [1, 1]);
    meter.push(samples);
    return Math.abs(meter.read().integratedLufs - theirs(samples));
  });
  expect(Math.max(...apart)).toBeLessThanOrEqual(0.1);
});
