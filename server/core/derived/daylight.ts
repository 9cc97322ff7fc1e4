/** How much of a shot's light is that of the sky, which nobody sets. */
import type { Film, LampPlace, Shot } from '../film.ts';
import type { Lux, Share } from '../units.ts';
import { brightestLight } from './white-points.ts';
import { isWindow } from './lamp-size.ts';

/** From here on lamps can't hold the picture together; less is a fill, which changes the shadows a little. Common practice, no source. */
export const ruling: Share = 0.5;

/** What comes through windows, or from the sky where `source: window` stands in the open; none where that is not known. */
export function daylightShare(shot: Shot): Share {
  const { complete, roomShare, lamps } = brightestLight(shot);
  if (!complete) return 0;
  const placed = lamps.reduce((sum, { lamp, share }) => (givesDaylight(lamp) ? sum + share : sum), 0);
  return placed + (shot.room?.source === 'window' && shot.room.light ? roomShare : 0);
}

/** A board gives back what it gets. */
export function givesDaylight(place: LampPlace): boolean {
  return isWindow(place.bounces ?? place);
}

/** No room is so light by its windows: the open shade of a clear day gives 10 000 lx and more (from memory). */
const outdoorsLx: Lux = 5000;

/** Under leaves or an awning it is so light yet, where other shots of the film are in the open. */
const underLeavesLx: Lux = 2500;

/** Is it filmed under the open sky? A plan has no word for it, but says how light it is. */
export function isOutdoors(shot: Shot, film?: Film): boolean {
  const lux = skyLux(shot);
  const others = lux >= underLeavesLx && film ? [...film.shots.values()] : [];
  return [shot, ...others].some((one) => skyLux(one) >= outdoorsLx);
}

function skyLux({ room }: Shot): Lux {
  return (room?.source === 'window' && room.light?.value) || 0;
}
