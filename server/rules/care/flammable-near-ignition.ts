import { isOwnFlame } from '../../core/derived/light.ts';
import type { Film, LampPlace } from '../../core/film.ts';
import type { Range } from '../../core/document/node.ts';
import type { Level, Severity } from '../../core/finding.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { lengthText, listFirst, listText, num, quoted } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';
import { leastFromProductMm } from './placement.ts';
import { allSaid, careful } from './caution-text.ts';

const messages = {
  ignition:
    '{what}, and {sources}. Vapour travels low and far: take one of them out of the set-up, keep air moving and sparks away, have a fitting extinguisher and somebody who only watches.{said} {closing}',
  solid:
    '{what}, and {sources}. Keep them well apart, have a fitting extinguisher and somebody who only watches.{said} {closing}',
  vapour:
    '{shots}: {what}, and something happens to it. Keep air moving through the room, open no more than the shot needs, close it between takes, and keep flames, chargers and hot lamps away.{said} {closing}',
} as const;

type Ctx = Context<typeof messages, { flashPoint: Limit; distance: Limit }>;

export default defineRule({
  id: 'flammable-near-ignition',
  family: 'care',
  summary: 'Something flammable is near a hot lamp, a charger or other sparks, or its vapour can gather.',
  severity: 'error',
  sources: ['GHS flammable liquids, flash point up to 60 °C (from memory)', '1 m: common practice, no source'],
  limits: {
    flashPoint: {
      quantity: 'number',
      default: '60',
      meaning: 'Flash point in °C under which a liquid counts as flammable.',
    },
    distance: { quantity: 'length', default: '1 m', meaning: 'Distance to hot lamps that is asked for.' },
  },
  messages,
  film(film, context) {
    const found = flammable(film, context);
    if (!found) return;
    checkIgnition(film, found, context);
    if (!found.isSolid) checkVapour(film, found, context);
  },
});

interface Found {
  readonly what: string;
  readonly at: Range;
  /** Card, cloth, wood: it burns, and gives off no vapour that travels. */
  readonly isSolid: boolean;
}

function flammable({ product }: Film, { limits }: Ctx): Found | undefined {
  const { flashPoint, hazards, fields } = product;
  if (flashPoint && flashPoint.value < limits.flashPoint) {
    const what = `The product's vapour can catch fire from ${num(flashPoint.value)} °C on`;
    return { what, at: flashPoint, isSolid: false };
  }
  const said = hazards.find((val) => val.value === 'flammable');
  const contents = fields.text('contents')?.value;
  const has = (hazard: string) => hazards.some((val) => val.value === hazard);
  const isOther = contents !== undefined && !solid.test(contents);
  // Wax that is poured is liquid, and gives off no vapour to speak of so far below its flash point.
  const isWet = isOther || (has('liquid') && !(has('melts') && contents !== undefined));
  return said && { what: 'The product is flammable', at: said, isSolid: flashPoint !== undefined || !isWet };
}

/** Contents that burn and give off no vapour. */
const solid =
  /wax|candle|tealight|match|paper|card|wood|cotton|wool|felt|straw|hay|dried|petal|leaf|leaves|herb|soap|yarn|cloth|crayon|pencil|charcoal|incense|feather|down\b/i;

function checkIgnition(film: Film, { what, at, isSolid }: Found, { limits, report }: Ctx): void {
  const { care } = film;
  const lamps = [...hotLamps(film, isSolid)].filter(([, mm]) => mm < limits.distance * (1 - 1e-6));
  const charging = care?.charging && care.charging.value !== 'none' && !(isSolid && care.charging.value === 'watched');
  const isHeated = isHot(film) && !isWatched(film) && !(isSolid && isMolten(film));
  // Where the chargers stand is not said: somebody who stays with them keeps them away.
  const atCharger = care?.charging?.value === 'watched' ? 'info' : 'warning';
  const gravity = isSolid ? 'warning' : lamps.length > 0 || isHeated ? 'error' : atCharger;
  const sources = [
    ...lamps.map(([{ name, lamp }, mm]) => {
      const how = lamp?.kind?.value === 'flame' ? 'with an open flame' : 'hot';
      return `${quoted(name)} burns ${how} ${lengthText(mm)} from it`;
    }),
    ...(charging ? ['batteries are charged during the shoot'] : []),
    ...(isHeated ? ['it is hot itself'] : []),
  ];
  if (sources.length === 0) return;
  const { severity, data } = careful(film, 'fire', ['flame-kept-away']);
  report({
    message: isSolid ? 'solid' : 'ignition',
    severity: severity ? answered(gravity) : gravity,
    data: { what, sources: listText(sources), ...data },
    at,
  });
}

/** What the plan itself puts beside it is not kept away by a word. */
function answered(gravity: Severity): Level {
  return gravity === 'error' ? 'info' : 'sheet';
}

/** Filament lamps and flames that are lit in any shot, with how near they come to the product. */
function hotLamps(film: Film, isSolid: boolean): Map<LampPlace, Mm> {
  const nearest = new Map<LampPlace, Mm>();
  for (const shot of film.shots.values()) {
    for (const place of shot.lit.filter((one) => burnsHot(one, isSolid) && !isWatchedFlame(one, film, isSolid))) {
      nearest.set(place, Math.min(leastFromProductMm(shot, place) ?? Infinity, nearest.get(place) ?? Infinity));
    }
  }
  return nearest;
}

/**
 * A flame that somebody watches and keeps other things away from: the product's own, or another's beside what burns itself. A
 * candle is lit: it is what is filmed.
 */
function isWatchedFlame(place: LampPlace, film: Film, isSolid: boolean): boolean {
  if (place.lamp?.kind?.value !== 'flame' || !isWatched(film)) return false;
  return isOwnFlame(place, film) || (isSolid && isHot(film));
}

function isHot({ product }: Film): boolean {
  return product.hazards.some((val) => val.value === 'hot');
}

/** Poured hot, and not lit. */
function isMolten({ product: { hazards } }: Film): boolean {
  return ['melts', 'liquid'].every((hazard) => hazards.some((val) => val.value === hazard));
}

function isWatched(film: Film): boolean {
  return allSaid(film, ['flame-watched', 'flame-kept-away']);
}

/** How far a lamp that lights the product is from what is solid is told by `heat-too-near`; a fairy light is hardly warm. */
function burnsHot({ lamp, aim, role }: LampPlace, isSolid: boolean): boolean {
  if (lamp?.kind?.value !== 'filament') return lamp?.kind?.value === 'flame';
  if (!isSolid) return true;
  const isToldThere = lamp.clearance !== undefined || (aim === 'product' && role?.value !== 'practical');
  return !isToldThere && (lamp.draw?.value ?? Infinity) > 15;
}

/** Something that happens to a flammable liquid lets it evaporate; closed and cold it does not. */
function checkVapour(film: Film, { what }: Found, { report }: Ctx): void {
  const shots = [...film.shots.values()].filter(({ action }) => action);
  const [first] = shots;
  if (!first || allSaid(film, ['air-moving', 'flame-kept-away'])) return;
  const { severity = 'warning', data } = careful(film, 'fire', ['air-moving']);
  const names = listFirst(
    shots.map(({ name }) => name),
    4,
  );
  report({ message: 'vapour', severity, data: { shots: names, what, ...data }, at: first.action! });
}
