/** Colour temperature and the light of a lamp at a distance. */
import { candelaFromLumens, cosineShare, luxFromCandela } from '../calc/light.ts';
import { mired, miredShift } from '../calc/temperature.ts';
import { luxText, num } from '../core/say.ts';
import { beam, candela, kelvin, length, lumens, lux, tilt } from './quantities.ts';
import { defineTopic, needed, optional } from './topic.ts';

const miredTopic = defineTopic({
  id: 'mired',
  summary: 'Colour temperature in mired, and the filter between two',
  keys: {
    from: needed(kelvin, 'colour temperature of the light'),
    to: optional({ ...kelvin, example: '5600 K' }, 'temperature wanted'),
  },
  results: {
    mired: { unit: 'mired', meaning: 'the light', say: (value) => `${num(value, 2)} mired` },
    shift: {
      unit: 'mired',
      meaning: 'filter wanted',
      say: (value) => `${num(value, 2)} mired (${value < 0 ? 'toward blue' : value > 0 ? 'toward orange' : 'none'})`,
    },
  },
  formula: 'mired = 10⁶ ÷ K; shift = mired(to) − mired(from), minus is toward blue',
  source: 'definition of the mired; mired tables of photographic handbooks',
  example: ['from=3200K', 'to=5600K'],
  compute({ from, to }) {
    return { results: { mired: mired(from), shift: to === undefined ? null : miredShift(from, to) } };
  },
});

const falloffTopic = defineTopic({
  id: 'falloff',
  summary: 'Light of a lamp at a distance',
  keys: {
    candela: optional(candela, 'intensity on the axis'),
    lumens: optional(lumens, 'light in all, spread evenly over the beam'),
    beam: optional(beam, 'full angle of the beam'),
    lux: optional(lux, 'light measured on the axis'),
    at: optional(length('1 m'), 'distance at which it was measured'),
    distance: needed(length('2 m'), 'distance wanted'),
    angle: optional(tilt('45°', 180), 'how far the lit face is turned away from the lamp; 0° when left out'),
  },
  ways: [['candela'], ['lumens', 'beam'], ['lux', 'at']],
  results: {
    lux: { unit: 'lx', meaning: 'light on the face', say: luxText },
    stops: {
      unit: 'stops',
      meaning: 'against the light where it was measured, or at 1 m',
      say: (value) => `${num(value, 2)} stops`,
      none: 'no light: the face is turned away',
    },
  },
  formula: 'E = I ÷ d² × cos(angle); I = lumens ÷ (2π(1 − cos(beam ÷ 2))), or lux × at²; stops = log2(E ÷ E there)',
  source:
    'inverse square law and Lambert’s cosine law; within 1 % from 5 × the size of the lamp on (photometric rule, from memory)',
  example: ['lux=1000', 'at=1m', 'distance=2m'],
  compute({ candela: cd, lumens: lm, beam: beamDeg, lux: measured, at, distance, angle }) {
    const fromM = (at ?? 1000) / 1000;
    const intensity = cd ?? (lm === undefined ? measured! * fromM * fromM : candelaFromLumens(lm, beamDeg!));
    const found = luxFromCandela(intensity, distance / 1000) * cosineShare(angle ?? 0);
    return { results: { lux: found, stops: Math.log2(found / luxFromCandela(intensity, fromM)) } };
  },
});

export const lightTopics = [miredTopic, falloffTopic];
