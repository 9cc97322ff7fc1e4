import { distanceGain } from '../../calc/light.ts';
import { type Hung, hungBackdrop, letsLightThrough, hides } from '../../core/derived/past-backdrop.ts';
import { dims, lampPosition } from '../../core/derived/light.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { productPlace } from '../../core/derived/optics.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Share } from '../../core/units.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, percentText, quoted } from '../../core/say.ts';
import { hasRoomAt, nearest } from './lamp-clearance.ts';
import { sideText } from './side-text.ts';
import { standSeen } from './stand-seen.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';

export default defineRule({
  id: 'lamp-behind-backdrop',
  family: 'optics',
  summary: 'A lamp that should light the product stands behind the backdrop.',
  severity: 'warning',
  sources: ['geometry'],
  messages: {
    hidden:
      '{shot}: {lamp} stands {behind} behind the backdrop, which hides the product from it: it lights nothing that is seen. Bring it in front of the backdrop{clear}.',
  },
  shot(shot, { film, report }) {
    const hung = hungBackdrop(shot, film);
    if (!hung || letsLightThrough(shot.backdrop)) return;
    const middle = productPlace(shot);
    for (const lamp of shot.lit) {
      if (lamp.aim === 'backdrop' || lamp.role?.value === 'backdrop') continue;
      const moments = lamp.changes ? [0, 0.5, 1] : [0];
      const at = moments
        .flatMap((moment) => lampPosition(lamp, middle, moment) ?? [])
        .find((place) => hides(hung, place, middle));
      if (!at) continue;
      const behind = lengthText(at.z - hung.behindMm);
      const clearance = lamp.lamp?.clearance;
      const clear = clearance ? `, and no nearer to it than ${clearance.text}` : '';
      const data = { shot: shot.name, lamp: quoted(lamp.name), behind, clear };
      report({
        message: 'hidden',
        data,
        at: lamp.distance ?? lamp,
        fixes: () => [...fixes(shot, film, lamp, hung), ...forward(shot, film, lamp, hung)],
      });
    }
  },
});

function isHot({ lamp }: LampPlace): boolean {
  const kind = lamp?.kind?.value;
  return lamp?.clearance !== undefined || kind === 'filament' || kind === 'flame';
}

/** Is all of it in front of the backdrop, with room for what holds it? */
function isBefore({ behindMm }: Hung, shot: Shot, lamp: LampPlace): boolean {
  const at = lampPosition(lamp, productPlace(shot), 0);
  return at !== undefined && lampFace(lamp, at, shot, 0).every(({ z }) => z <= behindMm - 50);
}

/** The least turn, at its distance, that brings it before the backdrop: its light stays as bright, and comes less from behind. */
function forward(shot: Shot, film: Film, lamp: LampPlace, hung: Hung): FixIdea[] {
  const { angle } = lamp;
  if (lamp.changes || !angle || isHot(lamp)) return [];
  for (const step of turnsDeg.flatMap((by) => [-by, by])) {
    const now = (((angle.value.from + step) % 360) + 360) % 360;
    const moved = { ...lamp, angle: { ...angle, value: { from: now, to: now } } };
    if (!isBefore(hung, shot, moved) || (nearest(shot, film, moved, true)?.clearDeg ?? 1) < 0) continue;
    if (standSeen(shot, film, moved)) continue;
    const text = sideText(angle, now);
    return [set(`Set angle of ${quoted(lamp.name)} to ${text} (in front of the backdrop)`, [lamp, 'angle', text])];
  }
  return [];
}

/** Farther round it is no light from behind any more (common practice, no source). */
const turnsDeg = [5, 10, 15, 20, 25, 30, 35, 40, 45];

/** To a hundredth, and of little to a thousandth, which is a twentieth of a stop at 3 %. */
function roundLevel(level: Share): Share {
  const steps = level < 0.1 ? 1000 : 100;
  return Math.round(level * steps) / steps;
}

/** No lamp of a table stands farther off, so nothing beyond is tried. */
const farthestMm = 10_000;

/** As far away as it can stand in front of the backdrop, all of it 5 cm from it; how near a hot one may stand, only its owner decides. */
function fixes(shot: Shot, film: Film, lamp: LampPlace, hung: Hung): FixIdea[] {
  if (lamp.changes || !lamp.distance || isHot(lamp)) return [];
  const reaches = (mm: number) =>
    isBefore(hung, shot, { ...lamp, distance: { ...lamp.distance!, value: { from: mm, to: mm } } });
  for (let mm = Math.floor(Math.min(lamp.distance.value.from, farthestMm) / 10) * 10; mm >= 200; mm -= 10) {
    if (!reaches(mm) || !hasRoomAt(film, lamp, mm)) continue;
    const text = lengthText(mm);
    const size = lampSize(lamp);
    const brighter = distanceGain(size, mm / 1000) / distanceGain(size, lamp.distance.value.from / 1000);
    const level = roundLevel((lamp.level?.value.from ?? 1) / brighter);
    const title = `Set distance of ${quoted(lamp.name)} to ${text}`;
    if (lamp.measured || !dims(lamp) || level < (lamp.lamp?.level?.value.from ?? 0.05))
      return [set(`${title} (in front of the backdrop, and brighter)`, [lamp, 'distance', text])];
    return [
      set(
        `${title} and its level to ${percentText(level, 1)} (in front of the backdrop, as bright as it was meant)`,
        [lamp, 'distance', text],
        [lamp, 'level', percentText(level, 1)],
      ),
    ];
  }
  return [];
}
