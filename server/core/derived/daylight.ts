/** How much of a shot's light is that of the sky, which nobody sets. */
import type { LampPlace, Shot } from '../film.ts';
import type { Share } from '../units.ts';

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
