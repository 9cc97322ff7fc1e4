/** What a lens shows, and what of it is sharp. */
import { depthOfField, fieldMm, hyperfocalMm, imageDistanceMm } from '../calc/optics.ts';
import { angleOfViewDeg, circleOfConfusionMm, diagonalMm } from '../calc/sensor.ts';
import { lengthText } from '../core/say.ts';
import { aperture, length, sensor } from './quantities.ts';
import { defineTopic, needed, optional, type Problem } from './topic.ts';

/** Nearer than the focal length a lens makes no picture. */
function tooNear(focalMm: number, distanceMm: number): Problem | undefined {
  if (distanceMm > focalMm) return undefined;
  return {
    problem: `A ${lengthText(focalMm)} lens makes no picture of what is ${lengthText(distanceMm)} away: give a distance beyond the focal length.`,
  };
}

const depthOfFieldTopic = defineTopic({
  id: 'depth-of-field',
  summary: 'From where to where a picture is sharp',
  keys: {
    focal: needed(length('50 mm'), 'focal length of the lens'),
    aperture: needed(aperture, 'f-number set'),
    coc: optional(length('0.03 mm'), 'circle of confusion on the sensor'),
    sensor: optional(sensor, 'the sensor as far as it makes the picture, whose diagonal ÷ 1500 is the circle'),
    distance: needed(length('3 m'), 'distance focused on, from the front of the lens'),
  },
  ways: [['coc'], ['sensor']],
  results: {
    coc_mm: { unit: 'mm', meaning: 'circle of confusion' },
    hyperfocal_mm: { unit: 'mm', meaning: 'hyperfocal distance (to focus on)' },
    near_mm: { unit: 'mm', meaning: 'sharp from' },
    far_mm: { unit: 'mm', meaning: 'sharp to', none: 'infinity' },
    total_mm: { unit: 'mm', meaning: 'depth of field', none: 'without end' },
  },
  formula:
    'h = f² ÷ (N·c); hyperfocal H = h + f, the distance to focus on: then all from H ÷ 2 to infinity is sharp ' +
    '(h alone, without + f, is where sharpness begins with the lens set to infinity); ' +
    'near = h·s ÷ (h + (s − f)), far = h·s ÷ (h − (s − f)), infinite from s = H on. Exact for a thin lens, close up too',
  source: 'Photographic Lenses FAQ, no. 10; encyclopaedia article "Hyperfocal distance"',
  example: ['focal=50mm', 'aperture=f/8', 'coc=0.03mm', 'distance=3m'],
  compute({ focal: focalMm, aperture: fNumber, coc, sensor: size, distance: distanceMm }) {
    const near = tooNear(focalMm, distanceMm);
    if (near) return near;
    // One of the two is there.
    const circleMm = coc ?? circleOfConfusionMm(size!);
    const zone = depthOfField({ focalMm, fNumber, distanceMm }, circleMm);
    return {
      results: {
        coc_mm: circleMm,
        hyperfocal_mm: hyperfocalMm(focalMm, fNumber, circleMm),
        near_mm: zone.nearMm,
        far_mm: zone.farMm,
        total_mm: zone.totalMm,
      },
    };
  },
});

const fieldOfViewTopic = defineTopic({
  id: 'field-of-view',
  summary: 'How much a lens shows, as angles and at a distance',
  keys: {
    focal: needed(length('50 mm'), 'focal length of the lens'),
    width: needed(length('36 mm'), 'width of the sensor, as far as it makes the picture'),
    height: needed(length('24 mm'), 'height of it'),
    distance: optional(length('30 cm'), 'distance focused on, from the front of the lens; infinity when left out'),
  },
  results: {
    horizontal_deg: { unit: '°', meaning: 'angle of view across' },
    vertical_deg: { unit: '°', meaning: 'angle of view upright' },
    diagonal_deg: { unit: '°', meaning: 'angle of view corner to corner' },
    width_mm: { unit: 'mm', meaning: 'width seen at the distance' },
    height_mm: { unit: 'mm', meaning: 'height seen at the distance' },
  },
  formula:
    'angle = 2·atan(d ÷ (2v)), d the side or diagonal of the sensor and v the image distance: v = f for focus at ' +
    'infinity, v = s·f ÷ (s − f) for focus at s; side seen at s = side × s ÷ v',
  source: 'geometry of a thin lens; the standard textbook table of angles of view',
  example: ['focal=50mm', 'width=36mm', 'height=24mm', 'distance=30cm'],
  compute({ focal, width: widthMm, height: heightMm, distance }) {
    const near = distance === undefined ? undefined : tooNear(focal, distance);
    if (near) return near;
    const imageMm = imageDistanceMm(focal, distance ?? Infinity);
    return {
      results: {
        horizontal_deg: angleOfViewDeg(widthMm, imageMm),
        vertical_deg: angleOfViewDeg(heightMm, imageMm),
        diagonal_deg: angleOfViewDeg(diagonalMm({ widthMm, heightMm }), imageMm),
        width_mm: distance === undefined ? null : fieldMm(widthMm, focal, distance),
        height_mm: distance === undefined ? null : fieldMm(heightMm, focal, distance),
      },
    };
  },
});

export const lensTopics = [depthOfFieldTopic, fieldOfViewTopic];
