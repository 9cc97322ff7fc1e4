import { along } from '../../core/resolve/shots.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { lengthText, quoted } from '../../core/say.ts';
import type { Grams } from '../../core/units.ts';
import { cameraWeightG } from './aim.ts';
import { careful } from './closing.ts';

const messages = {
  lamp: "{shot}: {lamp}{weight} hangs overhead{height}. One clamp creeps: a second, independent hold for the lamp and for what is clipped to it, and nobody's head below while it is moved.{said} {closing}",
  camera:
    "{shot}: a camera{weight} looks down from {height} above the surface. One clamp creeps: a second, independent hold for camera and lens, the arm locked, and nobody's head below while it is moved.{said} {closing}",
} as const;

type Ctx = Context<typeof messages, { tilt: Limit }>;

export default defineRule({
  id: 'overhead-without-bond',
  family: 'care',
  summary: 'A lamp or a camera hangs over people or the product with nothing said of a second hold.',
  severity: 'error',
  sources: ['common practice, no source; local rigging rules'],
  limits: {
    tilt: { quantity: 'angle', default: '60°', meaning: 'How far a camera looks down before it counts as overhead.' },
  },
  messages,
  shot(shot, context) {
    for (const place of shot.lit) if (isOverhead(place)) checkLamp(shot, place, context);
    checkCamera(shot, context);
  },
});

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

function checkLamp(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  const { severity, data } = careful(film, 'rigging', ['overhead-bond']);
  const height = along(place.height?.value, 0);
  report({
    message: 'lamp',
    severity,
    data: {
      shot: shot.name,
      lamp: quoted(place.name),
      weight: weightText(place.lamp?.weight?.value),
      height: height === undefined ? '' : `, ${lengthText(height)} above the surface`,
      ...data,
    },
    at: place.heldAt ?? place,
  });
}

function checkCamera(shot: Shot, { film, limits, report }: Ctx): void {
  const { camera } = shot;
  if (!camera.height || !camera.distance) return;
  if (Math.max(tiltDeg(shot, 0), tiltDeg(shot, 1)) < limits.tilt - 1e-6) return;
  const { severity, data } = careful(film, 'rigging', ['overhead-bond']);
  const height = lengthText(Math.max(camera.height.value.from, camera.height.value.to));
  report({
    message: 'camera',
    severity,
    data: { shot: shot.name, weight: weightText(cameraWeightG(shot)), height, ...data },
    at: camera.height,
  });
}
