import type { Vec3 } from '../../calc/geometry.ts';
import { isOwnFlame, lampPosition, luxBefore } from '../../core/derived/light.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { hides, type Hung, hungBackdrop, isWall } from '../../core/derived/past-backdrop.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { lengthText, luxText, num, quoted } from '../../core/say.ts';
import type { Lux, Mm } from '../../core/units.ts';
import { careful } from './caution-text.ts';
import { fromProductMm } from './placement.ts';

const messages = {
  clearance:
    '{shot}: {lamp} is {distance} from {what}, and its maker wants {clearance} to anything that could burn. Move it back, and let nothing hang into that space. {closing}',
  unmarked:
    '{shot}: {lamp} is {distance} from {what}. The kit states no clearance; {clearance} is usual for {kind}. Move it back, and let nothing hang into that space. {closing}',
  melts:
    '{shot}: {lamp} gives the product about {lux}, which as light of {kind} is about {irradiance} W/m². Strong sun is 1000, and half of it softens wax and glue within minutes. Move it back, light only during takes, or take a lamp that heats less. {closing}',
  sun: '{shot}: {lux} of daylight is direct sun, about {irradiance} W/m², on a product that melts. Shade it except during takes. {closing}',
} as const;

type Ctx = Context<typeof messages, { softens: Limit }>;

/** lx for each W/m² of light and heat together: rounded common values, from memory. */
const luxPerWatt = { filament: 20, sun: 100, led: 320 };

export default defineRule({
  id: 'heat-too-near',
  family: 'care',
  summary: 'A hot lamp is nearer to things than its clearance, or too strong for what melts.',
  severity: 'warning',
  sources: [
    'the clearance on the lamp (IEC 60598-1 asks for that marking; from memory)',
    'lux for each W/m²: 20 filament, 100 sun, 320 LED, rounded common values, from memory',
    '1 m for filament (50 cm up to 100 W, 10 cm up to 15 W) and 10 cm for LED over 50 W: common practice, no source',
    'public advice of fire services: 12 inches (30 cm) from a candle to anything that can burn; some ask for four feet',
  ],
  limits: {
    softens: { quantity: 'number', default: '500', meaning: 'W/m² from which things that melt are reported.' },
  },
  messages,
  shot(shot, context) {
    for (const place of shot.lit) checkClearance(shot, place, context);
    if (context.film.product.hazards.some((val) => val.value === 'melts')) checkMelting(shot, context);
  },
});

function checkClearance(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  const { lamp, distance } = place;
  if (!lamp || !distance) return;
  const { what, mm: nearest, tapeMm } = nearestThing(shot, place, film);
  const marked = lamp.clearance?.value;
  // A lamp of the scene, an oven's or a lantern's, is built for where it is.
  const usual = place.role?.value === 'practical' ? undefined : usualClearance(place);
  const wanted = marked ?? usual?.mm;
  // What is usual is a round number along the tape, what a maker states is to whatever is nearest.
  const apart = marked === undefined ? tapeMm : Math.min(tapeMm, nearest + measuredToMm);
  if (wanted === undefined || apart >= wanted * (1 - 1e-6)) return;
  const { closing } = careful(film, 'fire').data;
  const data = {
    shot: shot.name,
    lamp: quoted(place.name),
    distance: lengthText(nearest),
    what,
    clearance: lengthText(wanted),
    closing,
  };
  const excess = wanted / Math.max(nearest, 1);
  if (marked !== undefined) report({ message: 'clearance', data, at: distance, cause: place, excess });
  else if (usual)
    report({ message: 'unmarked', data: { ...data, kind: usual.kind }, at: distance, cause: place, excess });
}

/** A candle lamp is made for its flame, and metal, glass or clay beside one does not burn. */
function bearsFlame({ lamp }: LampPlace, { product }: Film): boolean {
  if (lamp?.kind?.value !== 'flame') return false;
  const has = (...words: readonly string[]) => product.hazards.some(({ value }) => words.includes(value));
  const isFireproof = product.finish === 'metallic' || product.finish === 'transparent' || has('glass');
  return isFireproof && !has('flammable', 'melts');
}

interface Nearest {
  readonly what: string;
  readonly mm: Mm;
  readonly tapeMm: Mm;
}

/** How exactly the middle of a thing and its sides are found with a tape. */
const measuredToMm: Mm = 5;

const nothing: Nearest = { what: 'nothing', mm: Infinity, tapeMm: Infinity };

/** What it is aimed at, or the backdrop that hangs nearer to it; a wall is not set alight. */
function nearestThing(shot: Shot, place: LampPlace, film: Film): Nearest {
  const spared = place.aim !== 'backdrop' && (isOwnFlame(place, film) || bearsFlame(place, film));
  const aimed = spared ? nothing : aimedAt(shot, place, film);
  const hung = isWall(shot.backdrop) ? undefined : hungBackdrop(shot, film);
  if (!hung || !isHot(place) || place.aim === 'backdrop' || place.role?.value === 'practical') return aimed;
  const middle = productPlace(shot);
  const toHung = [0, 1].flatMap((moment) => {
    const at = lampPosition(place, middle, moment);
    // One behind it is to come out from there: a finding of its own.
    return at && !hides(hung, at, middle) ? [awayFrom(hung, at)] : [];
  });
  const mm = Math.min(...toHung);
  return mm < aimed.mm ? { what: 'the backdrop', mm, tapeMm: mm } : aimed;
}

/** The tape reaches to the middle of the product, which is as deep as it is. */
function aimedAt(shot: Shot, place: LampPlace, film: Film): Nearest {
  const { from, to } = place.distance!.value;
  const tapeMm = Math.min(from, to);
  if (place.aim === 'backdrop') return { what: 'the backdrop', mm: tapeMm, tapeMm };
  const stands = [0, 1].flatMap((moment) => lampPosition(place, productPlace(shot), moment) ?? []);
  // In its own box it stands where its maker put it.
  const mm = Math.min(tapeMm, ...stands.map((at) => fromProductMm(at, shot, film) || tapeMm));
  const isShort = tapeMm - mm < 1;
  return { what: isShort ? 'the product' : `the product (${lengthText(tapeMm)} from its middle)`, mm, tapeMm };
}

/** All round: what an LED lamp throws is warm before it alone, and its back a hand's breadth off. */
function isHot({ lamp }: LampPlace): boolean {
  const kind = lamp?.kind?.value;
  return kind === 'filament' || kind === 'flame';
}

function awayFrom({ behindMm, halfWidthMm, bottomMm, topMm }: Hung, { x, y, z }: Vec3): Mm {
  const aside = Math.max(0, Math.abs(x) - halfWidthMm);
  return Math.hypot(aside, Math.max(0, bottomMm - y, y - topMm), behindMm - z);
}

/** Where no clearance is marked: filament lamps are hot in front, LED lamps from about 50 W on at their backs. */
function usualClearance({ lamp }: LampPlace): { mm: Mm; kind: string } | undefined {
  const kind = lamp?.kind?.value;
  if (kind === 'filament') return usualOfFilament(lamp?.draw?.value);
  if (kind === 'flame') return { mm: 300, kind: 'open flames' };
  return kind === 'led' && (lamp?.draw?.value ?? 0) > 50 ? { mm: 100, kind: 'LED lamps over 50 W' } : undefined;
}

function usualOfFilament(watts = Infinity): { mm: Mm; kind: string } {
  if (watts > 100) return { mm: 1000, kind: 'filament lamps' };
  return watts > 15
    ? { mm: 500, kind: 'filament lamps of up to 100 W' }
    : { mm: 100, kind: 'filament lamps of up to 15 W' };
}

function checkMelting(shot: Shot, { film, limits, report }: Ctx): void {
  const { closing } = careful(film, 'fire').data;
  const base = { shot: shot.name, closing };
  for (const place of shot.lit.filter(({ aim }) => aim === 'product')) {
    const lux = mostLux(place);
    const kind = place.lamp?.kind?.value;
    const isFilament = kind === 'filament';
    const irradiance = lux / (isFilament ? luxPerWatt.filament : luxPerWatt.led);
    // A flame heats by its gas, upwards: the clearance is what counts.
    if (kind === 'flash' || kind === 'laser' || kind === 'flame' || irradiance <= limits.softens * (1 + 1e-6)) continue;
    report({
      message: 'melts',
      data: {
        ...base,
        lamp: quoted(place.name),
        kind: isFilament ? 'filament' : kind ? 'LED' : 'LED (taken so, the kit says no `kind`)',
        ...heat(lux, irradiance),
      },
      at: place.distance ?? place,
    });
  }
  const room = shot.room;
  if (!room?.light || room.source !== 'window') return;
  const irradiance = room.light.value / luxPerWatt.sun;
  if (irradiance > limits.softens) {
    report({ message: 'sun', data: { ...base, ...heat(room.light.value, irradiance) }, at: room.light });
  }
}

const tenths = Array.from({ length: 11 }, (_, index) => index / 10);

/** The most light in the take on the side that is turned to the lamp, whichever the camera sees; 0 where it is not known. */
function mostLux(place: LampPlace): Lux {
  if (place.measured) return place.measured.value;
  const moments = place.changes ? tenths : [0];
  const lux = (moment: number) => luxBefore(place, along(place.distance?.value, moment) ?? 0, moment) ?? 0;
  return Math.max(...moments.map(lux));
}

function heat(lux: Lux, irradiance: number): { lux: string; irradiance: string } {
  return { lux: luxText(lux), irradiance: num(Number(irradiance.toPrecision(2)), 0) };
}
