import { straightUpTo } from '../../calc/geometry.ts';
import type { Block, Subject, Val } from '../../core/film.ts';
import { productMiddleMm } from '../../core/product-place.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Ends, Mm } from '../../core/units.ts';
import { subjectText } from './framing-text.ts';

export default defineRule({
  id: 'height-beyond-distance',
  family: 'framing',
  summary: 'A camera or lamp is said to be higher above what it aims at than it is away from it.',
  severity: 'error',
  sources: ['geometry: no side of a right triangle is longer than the one opposite the right angle'],
  messages: {
    camera:
      '{shot}: the lens is {rise} {way} the middle of {subject} and only {distance} away from it: that place does not exist. The distance counts along the straight line, so straight {straight} it equals the difference in height.',
    lamp: '{lamp} is {rise} {way} the middle of the product and only {distance} away from it: that place does not exist. The distance counts along the straight line, so straight {straight} it equals the difference in height.',
  },
  shot(shot, { report }) {
    const { height, distance } = shot.camera;
    const found = impossible(height, distance, shot.subject.heightMm);
    if (!found) return;
    const data = { shot: shot.name, subject: subjectText(shot), ...words(found) };
    const at = height!;
    const mends = () => [
      ...fixes(shot.camera, found, shot.subject.heightMm),
      ...level(shot.camera, found, shot.subject),
    ];
    report({ message: 'camera', data, at, fixes: mends });
  },
  lamp(lamp, { film, report }) {
    // What aims at the backdrop is measured to the backdrop.
    if (lamp.aim === 'backdrop') return;
    const shots = [...film.shots.values()].filter(({ lit }) => lit.includes(lamp));
    const middles = shots.length > 0 ? shots.map((one) => one.productMiddleMm) : [productMiddleMm(film.product)];
    const middle = middles.find((mm) => !impossible(lamp.height, lamp.distance, mm)) ?? middles[0]!;
    const found = impossible(lamp.height, lamp.distance, middle);
    if (!found) return;
    const data = { lamp: quoted(lamp.name), ...words(found) };
    report({ message: 'lamp', data, at: lamp.height!, fixes: () => fixes(lamp, found, middle) });
  },
});

interface Impossible {
  readonly riseMm: Mm;
  readonly distanceMm: Mm;
  /** Neither height nor distance changes. */
  readonly still: boolean;
}

/** The first end of a change at which the rise is more than the distance. */
function impossible(height: Val<Ends> | undefined, distance: Val<Ends> | undefined, aimMm: Mm): Impossible | undefined {
  if (!height || !distance) return undefined;
  const still = height.value.from === height.value.to && distance.value.from === distance.value.to;
  const ends = (['from', 'to'] as const).map((end) => ({
    riseMm: height.value[end] - aimMm,
    distanceMm: distance.value[end],
    still,
  }));
  return ends.find((end) => Math.abs(end.riseMm) > end.distanceMm * straightUpTo);
}

function words({ riseMm, distanceMm }: Impossible) {
  return {
    rise: lengthText(Math.abs(riseMm)),
    way: riseMm > 0 ? 'above' : 'below',
    straight: riseMm > 0 ? 'above' : 'below',
    distance: lengthText(distanceMm),
  };
}

function fixes(block: Block, { riseMm, distanceMm, still }: Impossible, aimMm: Mm): FixIdea[] {
  if (!still) return [];
  const way = riseMm > 0 ? 'straight above' : 'straight below';
  // To the millimetre on the side that exists.
  const away = `${num(Math.ceil(Math.abs(riseMm)) / 10)} cm`;
  const height = `${num((riseMm > 0 ? Math.floor(aimMm + distanceMm) : Math.ceil(aimMm - distanceMm)) / 10)} cm`;
  return [
    set(`Set height to ${height} (${way}, as far away as now)`, [block, 'height', height]),
    set(`Set distance to ${away} (${way}, as high as now)`, [block, 'distance', away]),
  ];
}

/** Whoever forgot to say the height of a near shot looks straight at its subject. */
function level(camera: Block, { still }: Impossible, { heightMm }: Subject): FixIdea[] {
  const height = `${num(heightMm / 10)} cm`;
  return still ? [set(`Set height to ${height} (level with it, as far away as now)`, [camera, 'height', height])] : [];
}
