import { distanceGain } from '../../calc/light.ts';
import { type Hung, hungBackdrop, letsLightThrough } from '../../core/derived/past-backdrop.ts';
import { dims, lampPosition, lampSize } from '../../core/derived/light.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { productPlace } from '../../core/derived/optics.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Share } from '../../core/units.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, percentText, quoted } from '../../core/say.ts';
import { hides } from './hidden-by-backdrop.ts';
import { hasRoomAt } from './lamp-clearance.ts';

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
      report({ message: 'hidden', data, at: lamp.distance ?? lamp, fixes: () => fixes(shot, film, lamp, hung) });
    }
  },
});

function isHot({ lamp }: LampPlace): boolean {
  const kind = lamp?.kind?.value;
  return lamp?.clearance !== undefined || kind === 'filament' || kind === 'flame';
}

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
  const reaches = (mm: number) => {
    const moved = { ...lamp, distance: { ...lamp.distance!, value: { from: mm, to: mm } } };
    const at = lampPosition(moved, productPlace(shot), 0);
    return at && lampFace(moved, at, shot, 0).every(({ z }) => z <= hung.behindMm - 50);
  };
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
