import { directionOf, dot, subtract } from '../../calc/geometry.ts';
import { dims, faceLight, type LampLight, lampPosition, luxToward, measuredLux } from '../../core/derived/light.ts';
import { facedShare } from '../../core/derived/faced-share.ts';
import { faceLookedAt } from '../../core/derived/face-seen.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { productAs } from '../../core/derived/showings.ts';
import { turnedDeg } from '../../core/derived/time.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { defineRule } from '../../core/rule.ts';
import { luxText, quoted, stopsText } from '../../core/say.ts';
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
    off: '{shot}: measured toward each lamp, {key} gives {keyLux} and {fill} {fillLux}, {found} where the plan says {wanted}. {fill} should give {should}.{how}',
    reversed:
      '{shot}: {fill} is the fill and gives {fillLux}, more than the {keyLux} of {key}, which is the key. {less}.',
  },
  shot(shot, { film, limits, report }) {
    const key = strongest(shot, 'key');
    const fill = strongest(shot, 'fill');
    if (!key || !fill || !showsFront(shot) || isBehind(key.lamp, shot)) return;
    const found = Math.log2(key.lux / fill.lux);
    // On a part that is nearer to one of the lamps nobody sets the ratio.
    const both = new Set([shot, productAs(shot, film, shot.productMiddleMm)]);
    const read = [found, ...[...both].flatMap((one) => ratiosOnFace(one, key.lamp, fill.lamp))];
    const wanted = shot.keyToFill?.value;
    const data = () => ({
      shot: shot.name,
      key: quoted(key.lamp.name),
      keyLux: luxOf(key, shot),
      fill: quoted(fill.lamp.name),
      fillLux: luxOf(fill, shot),
    });
    const at = fill.lamp.level ?? fill.lamp;
    if (wanted !== undefined) {
      if (read.some((one) => Math.abs(one - wanted) <= limits.allow + 1e-6)) return;
      const way = fillTo(fill, key.lux / 2 ** wanted, shot, film);
      const should = luxText(key.lux / 2 ** wanted);
      const more = { found: apart(found), wanted: stopsText(wanted), should, how: way.how };
      report({
        message: 'off',
        data: { ...data(), ...more },
        at,
        severity: Math.abs(found - wanted) <= limits.plain ? 'info' : undefined,
        excess: Math.abs(found - wanted),
        fixes: way.fixes,
      });
    } else if (Math.max(...read) < -0.1) {
      report({
        message: 'reversed',
        data: { ...data(), less: lessText(fill.lamp) },
        at,
        excess: -found,
        fixes: () => fillTo(fill, key.lux / 2, shot, film).fixes(),
      });
    }
  },
});

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

/** The ratio with the meter at the product, pointed at the camera, or held upright before the product as its front stands. */
function ratiosOnFace(shot: Shot, key: LampPlace, fill: LampPlace): Stops[] {
  const { lamps } = faceLight(shot, 0);
  const [a, b] = [key, fill].map((lamp) => lamps.find((one) => one.lamp === lamp));
  if (!a || !b) return [];
  const upright = [a, b].map((one) => towardLamp(one, shot) * uprightShare(shot, one.lamp));
  const both = [
    [a.lux, b.lux],
    [upright[0]!, upright[1]!],
  ] as const;
  return both.flatMap(([one, other]) => (one > 0 && other > 0 ? [Math.log2(one / other)] : []));
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
function luxOf({ lamp, lux }: { lamp: LampPlace; lux: Lux }, { measured }: Shot): string {
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
