/** Shutter times and angles, and what a shutter leaves of a lamp's flicker. */
import { bands, beatHz, cleanShuttersS, lampRippleHz, rippleLeft } from '../calc/flicker.ts';
import { rate as exactRate, type Rate, rateFps } from '../calc/rate.ts';
import { shutterAngleDeg, shutterS } from '../calc/shutter.ts';
import { angleText, num, percentText, secondsText, shutterText } from '../core/say.ts';
import { exposureTime, hertz, rate, realTime, shutterAngle } from './quantities.ts';
import { defineTopic, needed, optional, type Problem } from './topic.ts';

/** Longer than the frame no shutter stands open. */
function tooLong(timeS: number, frames: Rate): Problem | undefined {
  const fps = rateFps(frames);
  const angle = shutterAngleDeg(timeS, fps);
  if (angle <= 360 * (1 + 1e-9)) return undefined;
  const frame = shutterText(1 / fps);
  return {
    problem: `${shutterText(timeS)} is longer than a frame at ${num(fps, 3)} frames/s: that would be ${angleText(angle, 2)}, and a whole frame is 360°. Give ${frame} or less, or a lower rate.`,
  };
}

const shutterTopic = defineTopic({
  id: 'shutter',
  summary: 'Shutter time and shutter angle at a frame rate',
  keys: {
    rate: needed(rate, 'frames a second; 23.976, 29.97 and 59.94 are taken as 24000/1001 and so on'),
    time: optional(exposureTime('1/50 s'), 'exposure time, to get the angle'),
    angle: optional(shutterAngle, 'shutter angle, to get the time'),
  },
  ways: [['time'], ['angle']],
  results: {
    angle_deg: { unit: '°', meaning: 'shutter angle', say: (value) => angleText(value, 3) },
    time_s: { unit: 's', meaning: 'shutter time', say: shutterText },
  },
  formula: 't = angle ÷ 360 ÷ rate',
  source: 'definition of the shutter angle; rates as fractions of 1001: ITU-R BT.709-6',
  example: ['rate=24', 'time=1/50s'],
  compute({ rate: frames, time, angle }) {
    const fps = rateFps(frames);
    const timeS = time ?? shutterS(angle!, fps);
    return tooLong(timeS, frames) ?? { results: { angle_deg: angle ?? shutterAngleDeg(timeS, fps), time_s: timeS } };
  },
});

/** The slowest usual rate, where none is given. */
const slowest = exactRate(24);

const flickerTopic = defineTopic({
  id: 'flicker',
  summary: "What a shutter leaves of a lamp's flicker, and how it moves",
  keys: {
    mains: optional(hertz('50 Hz'), 'mains frequency: lamps on it ripple at twice that'),
    light: optional(hertz('20 kHz'), "the light's own frequency (dimmed LED, screen)"),
    time: needed(exposureTime('1/60 s'), 'exposure time of one frame'),
    rate: optional(rate, 'frames a second'),
    readout: optional({ ...realTime, example: '14 ms' }, 'time the sensor takes to read a frame from top to bottom'),
  },
  ways: [['mains'], ['light']],
  results: {
    residual: { unit: '', meaning: "left of the light's ripple", say: (value) => percentText(value, 2) },
    beat_hz: { unit: 'Hz', meaning: 'beat with the frame rate' },
    bands: { unit: '', meaning: "light and dark bands over the picture's height" },
    safe_times_s: {
      unit: 's',
      meaning: 'times that average it out',
      say: shutterText,
      none: 'none: one pulse is longer than a frame',
    },
  },
  formula:
    'F = 2 × mains, or the light’s own; left = |sin(πFt) ÷ (πFt)| of a sinusoidal ripple; beat = |F − round(F ÷ rate) × ' +
    'rate|; bands = F × readout; times n ÷ F no longer than a frame (1/24 s where no rate is given)',
  source:
    'mean of a sinusoid over a rectangular pulse; aliasing; clean times n/100 s and n/120 s: common practice, no source',
  example: ['mains=50Hz', 'time=1/60s', 'rate=30'],
  compute({ mains, light, time, rate: frames, readout }) {
    const frequency = light ?? lampRippleHz(mains!);
    const long = frames && tooLong(time, frames);
    if (long) return long;
    const fps = rateFps(frames ?? slowest);
    const beat = beatHz(frequency, fps);
    return {
      results: {
        residual: rippleLeft(frequency, time),
        beat_hz: frames ? beat : null,
        bands: readout === undefined ? null : bands(frequency, readout),
        safe_times_s: cleanShuttersS(frequency, fps),
      },
      notes: frames && beat > 1e-9 && beat < 1 ? [`The beat rolls once in ${secondsText(1 / beat)}.`] : [],
    };
  },
});

export const shutterTopics = [shutterTopic, flickerTopic];
