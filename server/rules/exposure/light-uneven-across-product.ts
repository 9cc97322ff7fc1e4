import { dot, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { distanceGain, fallOffStops, type LampSize } from '../../calc/light.ts';
import { faceLight, lampPosition, lampSize, type LampLight } from '../../core/derived/light.ts';
import { cameraPose, productPlace, subjectPlace, subjectSeen } from '../../core/derived/optics.ts';
import type { Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { brighterText, lengthText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';

/** A lamp with less of the light than this shapes nothing. */
const counts = 0.25;

export default defineRule({
  id: 'light-uneven-across-product',
  family: 'exposure',
  summary: 'The main lamp is so near that one side of the product is much brighter than the other.',
  severity: 'info',
  sources: [
    'inverse square law; configuration factor of a parallel rectangle (Siegel and Howell)',
    'one stop from edge to edge: common practice, no source',
  ],
  limits: {
    allow: { quantity: 'stops', default: '1 stop', meaning: 'How much brighter the near side may be.' },
  },
  messages: {
    uneven:
      '{shot}: {lamp} at {distance} is so near that one side of {subject} is {stops} brighter than the other, {across} farther from the lamp. At {even} it is half a stop.',
  },
  shot(shot, { limits, report }) {
    for (const one of faceLight(shot, 0).lamps) {
      const { lamp, share } = one;
      const role = lamp.role?.value;
      if ((role && role !== 'key' && role !== 'fill') || share < counts || lamp.changes || !lamp.distance) continue;
      const seen = seenBy(shot, one);
      if (!seen) continue;
      const { acrossMm: across, awayMm: distanceMm } = seen;
      const size = lampSize(lamp);
      const stops = fallOffStops(size, distanceMm / 1000, across / 1000);
      if (stops <= limits.allow + 1e-6 || !Number.isFinite(stops)) continue;
      // A part is nearer to the lamp, or farther from it, than what the tape is held to.
      const evenMm = wholeCm(lamp.distance.value.from + evenDistance(size, across) - distanceMm);
      report({
        message: 'uneven',
        data: {
          shot: shot.name,
          lamp: quoted(lamp.name),
          distance: lamp.distance.text,
          subject: shot.subject.name === 'product' ? 'the product' : quoted(shot.subject.name),
          stops: stopsText(stops),
          across: lengthText(across),
          even: lengthText(evenMm),
        },
        at: lamp.distance,
        fixes: () => farther(one, size, evenMm),
        explainedBy: ['uneven-light'],
      });
    }
  },
});

/** How far the subject is from the lamp, and how far what is seen of it reaches along that line: nothing for a lamp straight in front. */
function seenBy(shot: Shot, { lamp }: LampLight): { acrossMm: Mm; awayMm: Mm } | undefined {
  const middle = subjectPlace(shot);
  const at = lampPosition(lamp, productPlace(shot), 0);
  const pose = cameraPose(shot, 0);
  const seen = subjectSeen(shot, shot.handlesS, shot.handlesS);
  if (!at || !pose || !seen) return undefined;
  const way = subtract(at, middle);
  const awayMm = lengthOf(way);
  const along = (axis: Vec3) => Math.abs(dot(way, axis)) / awayMm;
  return { acrossMm: seen.widthMm * along(pose.right) + seen.heightMm * along(pose.up), awayMm };
}

/** Distance at which the fall-off is half a stop. */
function evenDistance(size: LampSize, acrossMm: Mm): Mm {
  let near = acrossMm / 2000 + 1e-4;
  let far = 50;
  for (let step = 0; step < 60; step++) {
    const middle = (near + far) / 2;
    if (fallOffStops(size, middle, acrossMm / 1000) > 0.5) near = middle;
    else far = middle;
  }
  return far * 1000;
}

function wholeCm(mm: Mm): Mm {
  return Math.ceil(mm / 10 - 1e-6) * 10;
}

/** Moves the lamp back; its level pays where it can. */
function farther({ lamp }: LampLight, size: LampSize, evenMm: Mm): FixIdea[] {
  const now = lamp.distance!.value.from;
  const ratio = distanceGain(size, evenMm / 1000) / distanceGain(size, now / 1000);
  const level = (lamp.level?.value.from ?? 1) / ratio;
  const text = lengthText(evenMm);
  if (level > 1) {
    const title = `Move ${quoted(lamp.name)} to ${text} (its light ${brighterText(Math.log2(ratio))})`;
    return [set(title, [lamp, 'distance', text])];
  }
  const to = percentText(level);
  const title = `Move ${quoted(lamp.name)} to ${text} and set its level to ${to} (as bright)`;
  return [set(title, [lamp, 'distance', text], [lamp, 'level', to])];
}
