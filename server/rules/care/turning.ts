/** What breaks and turns: the finding says it once, the sheet lists what is asked for whatever was said. */
import { turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { quoted } from '../../core/say.ts';

/** What holds it, by its words under `care.precautions`. */
export const heldWhileTurning: readonly string[] = ['non-slip-mat', 'load-centred'];

/** What breaks as it turns, in words; undefined where nothing does, or slower than a hand would turn it. */
export function breaksTurning(shot: Shot, film: Film): string | undefined {
  const { turn, surface } = shot;
  if (!turn || turningRpm(shot) === 0 || isSlow(shot)) return undefined;
  if (film.product.hazards.some((val) => val.value === 'glass')) return 'a product that breaks';
  return /\bglass\b/i.test(surface?.material?.value ?? '') ? quoted(surface!.material!.value) : undefined;
}

/** Less than half a round, and slower than a hand would turn it (common practice, no source). */
function isSlow(shot: Shot): boolean {
  const by = shot.turn?.by?.value;
  return by !== undefined && Math.abs(by) < 180 && Math.abs(turningRpm(shot)) <= 1;
}
