/** What is around the product in a shot, as names and values. */
import { daylightShare, ruling } from '../../core/derived/daylight.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { percentText } from '../../core/say.ts';
import { filled, joined, names, plain } from './words.ts';

export function placeRows(shot: Shot): (readonly [string, string])[] {
  return filled([
    ['Backdrop', backdropWords(shot)],
    ['Surface', surfaceWords(shot)],
    ['Room light', roomWords(shot)],
    ['Daylight', daylightWords(shot)],
  ]);
}

function backdropWords({ backdrop }: Shot): string {
  if (!backdrop) return '';
  const { screenName, material, size, behind, bottom, brightness, refresh } = backdrop;
  return joined(
    screenName?.value ?? material?.value,
    size?.text,
    behind && `${behind.text} behind`,
    bottom && edgeText(bottom.text),
    brightness && `brightness ${brightness.text}`,
    refresh?.text,
  );
}

/** What comes from a lamp and what is put before it; of a board, whose light it turns. */
export function lampWords(lamp: LampPlace): string {
  const { colour, temperature, level, modifierNames, bouncesName, size, fields, longSide, keptOff } = lamp;
  const light = bouncesName
    ? joined(size?.text, `gives back ${bouncesName.value}`)
    : joined((colour ?? temperature)?.text, level?.text, names(modifierNames));
  return joined(
    light,
    fields.said('long-side') && `long side ${longSide}`,
    keptOff.length > 0 && `kept off the ${names(keptOff).replace(', ', ' and the ')}`,
  );
}

/** Where a backdrop ends below. */
export function edgeText(bottom: string): string {
  return bottom === 'sweep' ? 'running on under the product' : `lower edge at ${bottom}`;
}

function surfaceWords({ surface }: Shot): string {
  if (!surface) return '';
  const { material, finish, size, height } = surface;
  return joined(
    material?.value,
    finish,
    size?.text,
    height && (height.value === 0 ? 'on the floor' : `${height.text} above the floor`),
  );
}

function roomWords({ room }: Shot): string {
  if (!room) return '';
  const isLit = room.light?.value !== 0;
  return joined(room.light?.text, isLit && plain(room.source), isLit && room.temperature?.text);
}

/** Who films by a window meters it; how much hangs on that is not seen at once. In tens, as a sky is known no better. */
function daylightWords(shot: Shot): string {
  const share = daylightShare(shot);
  if (share < ruling - 1e-6) return '';
  const tenths = Math.round(share * 10);
  return `${tenths === 10 ? 'all' : `about ${percentText(tenths / 10)}`} of the light: read it again before each shot`;
}
