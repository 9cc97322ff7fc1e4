import { addScaled, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { within } from '../../calc/plane.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { faceLight, lampPosition } from '../../core/derived/light.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { still, trial, tryLamp } from '../../core/derived/showings.ts';
import { isOnSurface, type SurfaceOutline, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { groupBy } from '../../core/group-by.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, listText, num, quoted } from '../../core/say.ts';
import type { Box, Mm, Share, Stops } from '../../core/units.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';
import { isSeen, nearest } from './lamp-clearance.ts';

export default defineRule({
  id: 'lamp-in-surface',
  family: 'optics',
  summary: 'A lamp or a board over the surface is so large, or so low, that it would reach into it.',
  severity: 'info',
  sources: ['geometry'],
  limits: {
    into: {
      quantity: 'length',
      default: '5 cm',
      meaning: 'How far it may reach into the surface: that is put right where it stands.',
    },
    light: {
      quantity: 'stops',
      default: '0.33 stops',
      meaning: 'How much the light that a board gives may change when it stands on the surface.',
    },
  },
  messages: {
    into: '`height` counts to the middle: {lamp}, {high} high with its middle {height} above the surface, would reach {by} into it{others}. {way}, or set it beside the surface.',
  },
  film(film, { limits, report }) {
    for (const all of cutting(film, limits.into)) {
      // A board is stood on the surface by whoever holds it: that matters where the shadows come out otherwise, or it is seen.
      const isAnother = (one: Into, way: Way) => !one.lamp.bounces || changesMuch(one, way, film, limits.light);
      if (!all.some((one) => isAnother(one, upright(one)))) continue;
      // Laid down it may do as planned: whoever sets it up does that without being told.
      const isHandled = all.every((one) => isStoodOn(one) || !isAnother(one, onLongSide(one) ?? upright(one)));
      const [worst, ...others] = worstEach(all);
      const { lamp } = worst;
      const also = others.map((one) => `${quoted(one.lamp.name)} ${wholeCm(one.byMm)}`);
      report({
        message: 'into',
        data: {
          lamp: quoted(lamp.name),
          high: wholeCm(worst.highMm),
          height: lengthText(worst.middleMm),
          by: wholeCm(worst.byMm),
          others: also.length > 0 ? ` (${listText(also)})` : '',
          way: wayText(worst),
        },
        at: lamp.height!,
        severity: isHandled ? 'sheet' : undefined,
        excess: worst.byMm,
        fixes: () => [...laid([worst, ...others]), ...raised([worst, ...others])],
      });
    }
  },
});

/** What is held by the surface stands on it, whatever was reckoned as its middle. */
function isStoodOn({ lamp }: Into): boolean {
  return lamp.bounces !== undefined && lamp.heldAt?.value === 'surface';
}

/** Half a millimetre comes of a board that leans by a degree. */
function wholeCm(mm: Mm): string {
  return `${num(mm / 10, 0)} cm`;
}

interface Into {
  readonly lamp: LampPlace;
  readonly shot: Shot;
  /** As it stands: a face that looks down is lower than it is long. */
  readonly highMm: Mm;
  readonly middleMm: Mm;
  readonly byMm: Mm;
}

/** All that reach into the surface in any shot, those of one board together: it is mended once. */
function cutting({ shots }: Film, leastMm: Mm): Iterable<Into[]> {
  const all = [...shots.values()].flatMap((shot) => shot.lit.flatMap((lamp) => into(lamp, shot) ?? []));
  const told = all.filter(({ byMm }) => byMm > leastMm);
  return groupBy(told, ({ lamp }) => [(lamp.size ?? lamp.height!).start]).values();
}

/** Of each place the shot in which it is deepest, the deepest place first. */
function worstEach(all: readonly Into[]): [Into, ...Into[]] {
  const places = new Set<LampPlace>();
  const sorted = all.toSorted((a, b) => b.byMm - a.byMm);
  return sorted.filter(({ lamp }) => !places.has(lamp) && places.add(lamp)) as [Into, ...Into[]];
}

/** How far its lower edge is below the surface that it stands over; undefined where it stands beside it, or has no size. */
function into(lamp: LampPlace, shot: Shot): Into | undefined {
  const outline = surfaceOutline(shot);
  const product = productPlace(shot);
  const at = lampPosition(lamp, product, 0);
  // Where no height is said nobody has measured one.
  if (!outline || !at || !lamp.height || lamp.aim === 'backdrop' || isWindow(lamp)) return undefined;
  const face = lampFace(lamp, at, shot, 0);
  if (!isOnSurface(outline, at) && shareOver(outline, face) < leastOver) return undefined;
  const heights = face.map(({ y }) => y);
  const highMm = Math.max(...heights) - Math.min(...heights);
  return highMm > 0 ? { lamp, shot, highMm, middleMm: at.y, byMm: highMm / 2 - at.y } : undefined;
}

/** What overlaps with less of its width is moved that little aside by whoever stands it there (common practice, no source). */
const leastOver: Share = 0.4;

/** How much of the width of a face passes through the surface at its level, rather than beside it. */
function shareOver({ halfWidthMm, frontMm, backMm }: SurfaceOutline, face: readonly Vec3[]): Share {
  const [a, b, c, d] = face as [Vec3, Vec3, Vec3, Vec3];
  if (a.y >= 0 || d.y <= 0) return 0;
  // Its lower side is level.
  const cut = a.y / (a.y - d.y);
  const line = [addScaled(a, subtract(d, a), cut), addScaled(b, subtract(c, b), cut)].map(({ x, z }) => ({ x, y: z }));
  const over = within(line, { from: { x: -halfWidthMm, y: frontMm }, to: { x: halfWidthMm, y: backMm } });
  const lengths = over.map(({ x, y }) => Math.hypot(x - over[0]!.x, y - over[0]!.y));
  return Math.max(0, ...lengths) / lengthOf(subtract(b, a));
}

/** How a board can stand on the surface. */
type Way = Pick<LampPlace, 'size' | 'height'>;

/** Is it another picture with the board on the surface? */
function changesMuch(one: Into, way: Way, film: Film, limit: Stops): boolean {
  const { lamp, shot } = one;
  const stood = tryLamp(shot, lamp, way);
  return Math.abs(lightChange(one, stood)) > limit || isSeenIn(stood, lamp, film) !== isSeenIn(shot, lamp, film);
}

function upright({ lamp: { size }, middleMm, byMm }: Into): Way {
  return { size, height: still(middleMm + byMm) };
}

function onLongSide(one: Into): Way | undefined {
  const { size } = one.lamp;
  const heightMm = laidHeight(one);
  return size && heightMm !== undefined ? { size: trial(laidSize(size.value)), height: still(heightMm) } : undefined;
}

function laidSize(size: Box): Box {
  return { ...size, widthMm: size.heightMm, heightMm: size.widthMm };
}

/** How many stops more a board gives the subject in a shot where it stands otherwise: without end where it can't. */
function lightChange({ lamp, shot }: Into, stood: Shot): Stops {
  const [was, is] = [shot, stood].map((one) => {
    return faceLight(one, 0).lamps.find((other) => other.lamp.name === lamp.name)?.lux ?? 0;
  });
  return was === 0 && is === 0 ? 0 : Math.log2(is! / was!);
}

function isSeenIn(shot: Shot, { name }: LampPlace, film: Film): boolean {
  const lamp = shot.lit.find((other) => other.name === name);
  const found = lamp && nearest(shot, film, lamp);
  return found !== undefined && isSeen(found, lamp!);
}

/** Its lower edge on the surface, as far from the product as now; where that is all but over it, straight above where it is. */
function standing({ lamp, shot, middleMm, byMm }: Into): { heightMm: Mm; distanceMm: Mm } {
  const { y } = productPlace(shot);
  const nowMm = lamp.distance!.value.from;
  const heightMm = Math.ceil((middleMm + byMm) / 10 - 1e-6) * 10;
  if (Math.abs(heightMm - y) <= nowMm * steep) return { heightMm, distanceMm: nowMm };
  const distanceMm = Math.sqrt(nowMm ** 2 - (middleMm - y) ** 2 + (heightMm - y) ** 2);
  return { heightMm, distanceMm: Math.ceil(distanceMm / 10 - 1e-6) * 10 };
}

/** Higher than this part of its distance, 64° up, it is a light from above. */
const steep: Share = 0.9;

function wayText(one: Into): string {
  const { heightMm, distanceMm } = standing(one);
  const raise = `Raise its middle to ${wholeCm(heightMm)}`;
  if (distanceMm === one.lamp.distance!.value.from) return raise;
  const lay = laidHeight(one) === undefined ? '' : ', lay it on its long side';
  return `${raise} and move it to ${wholeCm(distanceMm)}${lay}`;
}

/** As low as a board that would stand upright lies on the surface, or where it is if that is high enough; undefined where it can't. */
function laidHeight({ lamp, shot, middleMm }: Into): Mm | undefined {
  const size = lamp.size?.value;
  if (!size || size.heightMm <= size.widthMm) return undefined;
  const lying = { ...lamp, size: trial(laidSize(size)) };
  const found = into(lying, shot);
  if (!found || found.byMm <= 1) return middleMm;
  const heightMm = Math.ceil((found.middleMm + found.byMm) / 10 - 1e-6) * 10;
  return lampPosition({ ...lying, height: still(heightMm) }, productPlace(shot), 0) && heightMm;
}

/** One board on its long side, in each of its places as low as it then can. */
function laid(all: readonly Into[]): FixIdea[] {
  const { lamp } = all[0]!;
  const size = lamp.size?.value;
  const lows = all.map(laidHeight);
  const isRaised = all.map(({ middleMm }, index) => lows[index] !== middleMm);
  if (!size || lows.includes(undefined) || all.some((one, index) => one.lamp.changes && isRaised[index])) return [];
  const text = `${num(size.heightMm / 10)} x ${num(size.widthMm / 10)} cm`;
  const heights = all.flatMap((one, index) =>
    isRaised[index] ? [[one.lamp, 'height', wholeCm(lows[index]!)] as const] : [],
  );
  const what = [`size of ${quoted(lamp.name)} to ${text}`, ...heights.map(changeText)];
  return [set(`Set ${listText(what)} (it lies on its long side)`, [lamp, 'size', text], ...heights)];
}

/** Each place straight up, until it stands on the surface. */
function raised(all: readonly Into[]): FixIdea[] {
  if (all.some(({ lamp }) => lamp.changes)) return [];
  const changes = all.flatMap((one) => {
    const { heightMm, distanceMm } = standing(one);
    const higher = [one.lamp, 'height', wholeCm(heightMm)] as const;
    const isMoved = distanceMm !== one.lamp.distance!.value.from;
    return isMoved ? [higher, [one.lamp, 'distance', wholeCm(distanceMm)] as const] : [higher];
  });
  return [set(`Set ${listText(changes.map(changeText))} (on the surface)`, ...changes)];
}

function changeText([{ name }, key, text]: readonly [LampPlace, string, string]): string {
  return `${key} of ${quoted(name)} to ${text}`;
}
