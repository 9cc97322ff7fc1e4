import { along } from '../../core/derived/moments.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import type { Range } from '../../core/document/node.ts';
import { defineRule } from '../../core/rule.ts';
import { lengthText, listFirst, listText, quoted } from '../../core/say.ts';
import type { Degrees, Grams } from '../../core/units.ts';
import { cameraWeightG } from './placement.ts';
import { allSaid, careful } from './caution-text.ts';

export default defineRule({
  id: 'overhead-without-bond',
  family: 'care',
  summary: 'A lamp or a camera hangs over people or the product with nothing said of a second hold.',
  severity: 'error',
  sources: ['common practice, no source; local rigging rules'],
  limits: {
    tilt: { quantity: 'angle', default: '60°', meaning: 'How far a camera looks down before it counts as overhead.' },
  },
  messages: {
    hangs:
      "{things}. One clamp creeps: a second, independent hold for each and for what is clipped to it, arms locked, and nobody's head below while they are moved. {closing}",
  },
  // One hold is missing from one rig: it is said once, wherever the film uses it.
  film(film, { limits, report }) {
    if (allSaid(film, ['overhead-bond'])) return;
    const shots = [...film.shots.values()];
    const hanging = [...lampsOf(shots), ...camerasOf(shots, limits.tilt)].filter((one) => !isPhone(one));
    const [first] = hanging;
    if (!first) return;
    const { at } = hanging.reduce((top, one) => (one.at.start < top.at.start ? one : top), first);
    const { closing } = careful(film, 'rigging').data;
    // What is light as a phone or a compact camera breaks nothing but itself.
    const isLight = hanging.every(({ grams }) => grams !== undefined && grams < lightG);
    const severity = isLight ? 'info' : undefined;
    report({ message: 'hangs', data: { things: listText(hanging.map(({ text }) => text)), closing }, at, severity });
  },
});

/** So light and so low that a fall is a bump. */
function isPhone({ grams, low }: Hanging): boolean {
  return grams !== undefined && grams < lightG && low === true;
}

const lightG: Grams = 500;

interface Hanging {
  readonly text: string;
  readonly grams?: Grams;
  /** No higher than a head is above a table. */
  readonly low?: boolean;
  readonly at: Range;
}

/** Overhead and boom say so; a clamp does where the lamp is higher than it is to the side of the product. */
function isOverhead({ held, distance, height }: LampPlace): boolean {
  if (held === 'overhead' || held === 'boom') return true;
  const far = along(distance?.value, 0);
  const high = along(height?.value, 0);
  if (held !== 'clamp' || far === undefined || high === undefined) return false;
  return high > far * Math.SQRT1_2;
}

function weightText(grams: Grams | undefined): string {
  if (grams === undefined) return '';
  return grams < 1000 ? ` of ${Math.round(grams)} g` : ` of ${(grams / 1000).toFixed(1).replace(/\.0$/, '')} kg`;
}

/** Legs under the camera hold it, and no clamp or arm. */
function standsOnFloor({ camera: { support } }: Shot): boolean {
  return support?.standsOn === 'floor' && !support.reach;
}

/** So light that nobody is hurt by it: a bulb as large as a grain on its wire. */
const hardlyAnythingG: Grams = 50;

/** Each place of a lamp once. */
function lampsOf(shots: readonly Shot[]): Hanging[] {
  const places = new Set(
    shots.flatMap(({ lit }) =>
      lit.filter(
        (one) =>
          one.role?.value !== 'practical' &&
          isOverhead(one) &&
          (one.lamp?.weight?.value ?? Infinity) >= hardlyAnythingG,
      ),
    ),
  );
  return [...places].map((place) => {
    const height = along(place.height?.value, 0);
    const above = height === undefined ? '' : `, ${lengthText(height)} above the surface`;
    const weight = weightText(place.lamp?.weight?.value);
    return {
      text: `${quoted(place.name)}${weight} hangs overhead${above}`,
      grams: place.lamp?.weight?.value,
      at: place.heldAt ?? place,
    };
  });
}

/** All shots together in which a camera looks down, with the greatest height. */
function camerasOf(shots: readonly Shot[], tilt: Degrees): Hanging[] {
  const down = shots.filter(
    (shot) =>
      !standsOnFloor(shot) &&
      shot.camera.height &&
      shot.camera.distance &&
      Math.max(tiltDeg(shot, 0), tiltDeg(shot, 1)) >= tilt - 1e-6,
  );
  const [first] = down;
  if (!first) return [];
  const heights = down.map(({ camera }) => Math.max(camera.height!.value.from, camera.height!.value.to));
  const names = listFirst(
    down.map(({ name }) => quoted(name)),
    4,
  );
  const text = `a camera${weightText(cameraWeightG(first))} looks down from ${lengthText(Math.max(...heights))} above the surface (${names})`;
  return [{ text, grams: cameraWeightG(first), low: Math.max(...heights) < 600, at: first.camera.height! }];
}
