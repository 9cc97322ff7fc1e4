import { directionOf, dot, subtract } from '../../calc/geometry.ts';
import { dims, faceLight, type LampLight, lampPosition, luxToward, measuredLux } from '../../core/derived/light.ts';
import { facedShare } from '../../core/derived/faced-share.ts';
import { faceLookedAt } from '../../core/derived/face-seen.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { productAs } from '../../core/derived/showings.ts';
import { turnedDeg } from '../../core/derived/time.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { groupBy } from '../../core/group-by.ts';
import { once, onceIn } from '../../core/memo.ts';
import { along } from '../../core/derived/moments.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { listFirst, luxText, quoted, stopsText } from '../../core/say.ts';
import type { Lux, Share, Stops } from '../../core/units.ts';
import { fillTo } from './fill-to.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';

export default defineRule({
  id: 'lamp-ratio-off',
  family: 'exposure',
  summary: 'Key and fill are not as far apart as the plan says.',
  severity: 'warning',
  sources: [
    'inverse square law',
    'common practice, no source (half a stop changes the modelling; ratio of key to fill alone)',
  ],
  yieldsTo: ['lamp-behind-backdrop'],
  limits: {
    plain: { quantity: 'stops', default: '1 stop', meaning: 'Up to here it is a note: one moves a lamp by eye.' },
    allow: { quantity: 'stops', default: '0.5 stops', meaning: 'How far the ratio may be from what is wanted.' },
  },
  messages: {
    off: '{shot}: measured {held}, {key} gives {keyLux} and {fill} {fillLux}, {found} where the plan says {wanted}. {fill} should give {should}.{how}',
    reversed:
      '{shot}: {fill} is the fill and gives {fillLux}, more than the {keyLux} of {key}, which is the key. {less}.',
  },
  shot(shot, { film, limits, report }) {
    const wanted = shot.keyToFill?.value;
    if (wanted === undefined && !isReversed(shot)) return;
    const read = readings(shot, film);
    const [toward] = read;
    if (!toward) return;
    const { key, fill } = toward;
    const names = { shot: shot.name, key: quoted(key.name), fill: quoted(fill.name) };
    const data = (one: Reading) => ({
      ...names,
      keyLux: luxOf(key, one.keyLux, shot),
      fillLux: luxOf(fill, one.fillLux, shot),
    });
    const at = fill.level ?? fill;
    if (wanted !== undefined) {
      if (isAsPlanned(read, shot, wanted, limits.allow) || waysDisagree(read, wanted)) return;
      const nearest = read.reduce((a, b) => {
        return Math.abs(b.stops - wanted) < Math.abs(a.stops - wanted) - muchAlike ? b : a;
      });
      const by = nearest.stops - wanted;
      const should = nearest.fillLux * 2 ** by;
      const sharing = asPlannedWith(shot, by, film, limits.allow);
      const way =
        sharing.length > 0 ? forThisAlone(sharing) : fillTo({ lamp: fill, lux: nearest.fillLux }, should, shot, film);
      const { held, stops } = nearest;
      const more = { held, found: apart(stops), wanted: stopsText(wanted), should: luxText(should), how: way.how };
      report({
        message: 'off',
        data: { ...data(nearest), ...more },
        at,
        severity: Math.abs(by) <= limits.plain ? 'info' : undefined,
        excess: Math.abs(by),
        fixes: way.fixes,
      });
    } else if (read.every(({ stops }) => stops < reversedFrom)) {
      const by = toward.stops - 1;
      const sharing = asPlannedWith(shot, by, film, limits.allow);
      const way =
        sharing.length > 0
          ? forThisAlone(sharing)
          : fillTo({ lamp: fill, lux: toward.fillLux }, toward.keyLux / 2, shot, film);
      report({
        message: 'reversed',
        data: { ...data(toward), less: sharing.length > 0 ? way.how.trim() : lessText(fill) },
        at,
        excess: -toward.stops,
        fixes: way.fixes,
      });
    }
  },
});

/** What a meter says of the key and of the fill, each alone, held in one way. */
interface AsHeld {
  /** In words: measured so. */
  readonly held: string;
  readonly keyLux: Lux;
  readonly fillLux: Lux;
}

interface Reading extends AsHeld {
  readonly key: LampPlace;
  readonly fill: LampPlace;
  /** By which the key is over the fill. */
  readonly stops: Stops;
}

/** With what a meter says toward each; undefined where there is no ratio to read. */
function keyAndFill(shot: Shot) {
  const [key, fill] = [strongest(shot, 'key'), strongest(shot, 'fill')];
  return key && fill && showsFront(shot) && !isBehind(key.lamp, shot) ? { key, fill } : undefined;
}

/** Toward each lamp, which is asked first: what is right there is no fault however else the meter is held. */
function isReversed(shot: Shot): boolean {
  const lamps = keyAndFill(shot);
  return lamps !== undefined && Math.log2(lamps.key.lux / lamps.fill.lux) < reversedFrom;
}

/** All ways that people have to hold a meter, toward each lamp first; none where there is no ratio to read. */
const readings = onceIn((shot: Shot, film: Film): readonly Reading[] => {
  const lamps = keyAndFill(shot);
  if (!lamps) return [];
  const { key, fill } = lamps;
  const reading = ({ held, keyLux, fillLux }: AsHeld): Reading[] => {
    if (keyLux <= 0 || fillLux <= 0) return [];
    return [{ key: key.lamp, fill: fill.lamp, held, keyLux, fillLux, stops: Math.log2(keyLux / fillLux) }];
  };
  // On a part that is nearer to one of the lamps nobody sets the ratio.
  const both = new Set([shot, productAs(shot, film, shot.productMiddleMm)]);
  const onFace = [...both].flatMap((one) => litOnFace(one, key.lamp, fill.lamp));
  return [{ held: 'toward each lamp', keyLux: key.lux, fillLux: fill.lux }, ...onFace].flatMap(reading);
});

/** As planned by any of the ways, or with the key put out and the meter toward the fill, which then reads the room as well? */
function isAsPlanned(read: readonly Reading[], { room }: Shot, wanted: Stops, allow: Stops): boolean {
  const inRoom = read
    .slice(0, 1)
    .map(({ keyLux, fillLux }) => Math.log2(keyLux / (fillLux + (room?.light?.value ?? 0))));
  return [...read.map(({ stops }) => stops), ...inRoom].some((one) => Math.abs(one - wanted) <= allow + 1e-6);
}

/** One way to hold the meter asks for more fill and another for less: nobody knows what is seen. */
function waysDisagree(read: readonly Reading[], wanted: Stops): boolean {
  return read.some(({ stops }) => stops < wanted) && read.some(({ stops }) => stops > wanted);
}

/** Two ways that differ by less say the same, and that toward each lamp is the usual one. */
const muchAlike: Stops = 0.3;

/** Below this the fill outshines the key. */
const reversedFrom: Stops = -0.1;

/** The other shots that have its fill and are right with it as it is, and would not be with so many stops more. */
function asPlannedWith(shot: Shot, by: Stops, film: Film, allow: Stops): Shot[] {
  const { fill } = readings(shot, film)[0]!;
  const suits = (other: Shot, change: Stops) => {
    const wanted = other.keyToFill?.value;
    const read = readings(other, film);
    if (wanted !== undefined) return isAsPlanned(read, other, wanted + change, allow);
    return change === 0 && read.some(({ stops }) => stops >= reversedFrom);
  };
  return (shotsUnder(film).get(fill) ?? []).filter((other) => other !== shot && suits(other, 0) && !suits(other, by));
}

const shotsUnder = once((film: Film): ReadonlyMap<LampPlace, readonly Shot[]> => {
  return groupBy([...film.shots.values()], ({ lit }) => lit);
});

/** What all share is not turned for one: the film has a way to say so. */
function forThisAlone(sharing: readonly Shot[]): { how: string; fixes: () => readonly FixIdea[] } {
  const names = listFirst(
    sharing.map(({ name }) => quoted(name)),
    3,
  );
  const share = sharing.length === 1 ? 'shares it and is' : 'share it and are';
  return {
    how: ` ${names} ${share} as planned: give this shot a place of its own for it (\`moved-from\`).`,
    fixes: () => [],
  };
}

/** A ratio is of a front, upright: on what looks up, lamps from both sides lie one over the other. */
function showsFront(shot: Shot): boolean {
  const pose = cameraPose(shot, 0);
  if (!pose) return shot.subject.faces !== 'up';
  return faceLookedAt(shot.subject, turnedDeg(shot, 0), subtract(pose.at, subjectPlace(shot))) !== 'up';
}

/** From behind a key draws edges, or steam: the front, which the camera sees, is another's. */
function isBehind(key: LampPlace, shot: Shot): boolean {
  const middle = productPlace(shot);
  const [pose, at] = [cameraPose(shot, 0), lampPosition(key, middle, 0)];
  return pose !== undefined && at !== undefined && dot(subtract(at, middle), subtract(pose.at, middle)) < 0;
}

/** With the meter at the product, pointed at the camera, or held upright before the product as its front stands. */
function litOnFace(shot: Shot, key: LampPlace, fill: LampPlace): AsHeld[] {
  const { lamps } = faceLight(shot, 0);
  const [a, b] = [key, fill].map((lamp) => lamps.find((one) => one.lamp === lamp));
  if (!a || !b) return [];
  const upright = (one: LampLight) => towardLamp(one, shot) * uprightShare(shot, one.lamp);
  return [
    { held: 'on what the camera sees', keyLux: a.lux, fillLux: b.lux },
    { held: 'upright before it', keyLux: upright(a), fillLux: upright(b) },
  ];
}

/** On a face that is turned to it, also where the one that is filmed is turned away. */
function towardLamp({ lamp, lux, faced }: LampLight, shot: Shot): Lux {
  return lux > 0 && faced > 0 ? lux / faced : (measuredLux(lamp, shot) ?? luxToward(lamp) ?? 0);
}

/** How much of a lamp's light falls on the upright side of the product that is filmed. */
function uprightShare(shot: Shot, lamp: LampPlace): Share {
  const place = lampPosition(lamp, productPlace(shot), 0);
  if (!place) return 0;
  const ends = { from: place, aimedAt: productPlace(shot), to: subjectPlace(shot) };
  const side = Math.round((along(shot.camera.angle?.value, 0) ?? 0) / 90) * 90;
  return facedShare(lamp, ends, directionOf(side));
}

/** `820 lx`, or `820 lx (measured)` where it was on the set. */
function luxOf(lamp: LampPlace, lux: Lux, { measured }: Shot): string {
  return `${luxText(lux)}${measured?.lamps.get(lamp.name)?.light ? ' (measured)' : ''}`;
}

function apart(stops: Stops): string {
  return `${stopsText(stops)} apart${stops < -0.05 ? ', the wrong way round,' : ''}`;
}

/** The lamp of a role that gives most, measured toward the lamp, as a meter in the hand is pointed. */
function strongest(shot: Shot, role: string): { lamp: LampPlace; lux: Lux } | undefined {
  const all = shot.lit
    .filter((lamp) => lamp.role?.value === role && lamp.aim === 'product' && !lamp.changes)
    .map((lamp) => ({ lamp, lux: measuredLux(lamp, shot) ?? luxToward(lamp) }));
  if (all.length === 0 || all.some((one) => one.lux === undefined || one.lux <= 0)) return undefined;
  return all.reduce((best, one) => (one.lux! > best.lux! ? one : best)) as { lamp: LampPlace; lux: Lux };
}

/** What makes less of a fill that outshines the key. */
function lessText(fill: LampPlace): string {
  if (isWindow(fill)) return 'Exchange their roles';
  return `${dims(fill) && !fill.bounces ? 'Turn it down' : 'Move it farther off'}, or exchange their roles`;
}
