import { lengthOf, subtract } from '../../calc/geometry.ts';
import { cosineShare } from '../../calc/light.ts';
import {
  exposureError,
  faceLight,
  type LampLight,
  lampPosition,
  luxToward,
  measuredLux,
  wantedLux,
} from '../../core/derived/light.ts';
import { productPlace, subjectPlace, tiltDeg } from '../../core/derived/optics.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Related } from '../../core/finding.ts';
import { type Context, defineRule, type PurposeWord } from '../../core/rule.ts';
import {
  apertureText,
  asPlannedStops,
  listText,
  luxText,
  num,
  percentText,
  quoted,
  shutterText,
  stopsText,
} from '../../core/say.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Lux, Stops } from '../../core/units.ts';
import { exposureFixes } from './exposure-fixes.ts';
import { isOfShutter } from './of-shutter.ts';

const allowed = {
  allow: { quantity: 'stops', default: '1 stop', meaning: 'How far the exposure may be from what is meant.' },
} as const;

const messages = {
  bright:
    '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too bright. Turn lamps down, put a filter on the lens or lower the ISO.',
  dark: '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too dark.{aside} Bring lamps nearer or up, open the lens or raise the ISO.',
  unlit:
    '{shot}: no lamp is lit and the room gives no light, so nothing will be seen. Name the lamps under `lit`: one that changes is only lit where it is named.',
  screen:
    '{shot}: metered for the backdrop, whose white, {nits} cd/m², comes out {found} middle grey where {planned} is planned: {stops} too {side}. Change `exposure`, or {how}.',
} as const;

type Ctx = Context<typeof messages, typeof allowed>;

export default defineRule({
  id: 'exposure-off',
  family: 'exposure',
  summary: 'The lamps give more or less light than the settings want.',
  severity: 'warning',
  sources: [
    'ISO 2720 (incident light, C = 250)',
    'inverse square law and cosine law; configuration factor of a parallel rectangle (Siegel and Howell)',
  ],
  limits: allowed,
  messages,
  shot(shot, context) {
    const { film, limits, report } = context;
    const { camera } = shot;
    if (camera.meter === 'backdrop') {
      checkBackdrop(shot, context);
      return;
    }
    if (isUnlit(shot)) {
      report({ message: 'unlit', data: { shot: shot.name }, at: shot, explainedBy: ['silhouette', 'low-key'] });
      return;
    }
    const error = leastError(shot);
    const wanted = wantedLux(shot);
    const timeS = shutterSeconds(shot);
    if (error === undefined || wanted === undefined || timeS === undefined || !camera.iso || !camera.aperture) return;
    if (Math.abs(error) <= limits.allow + 1e-6 || isLitFromBehind(shot, film)) return;
    if (error < 0 && (isColoured(shot) || isSeenAgainstScreen(shot, film) || isLitFromAbove(shot, wanted))) return;
    const planned = camera.exposure?.value ?? 0;
    const light = faceLight(shot, 0);
    const { names, give } = lightNames(shot);
    report({
      message: error > 0 ? 'bright' : 'dark',
      data: {
        shot: shot.name,
        lamps: names,
        give,
        found: luxText(light.totalLux),
        settings: `${apertureText(Number(camera.aperture.value))}, ${shutterText(timeS)} and ISO ${camera.iso.text}`,
        planned: planned === 0 ? '' : ` with ${camera.exposure!.text} planned`,
        wanted: luxText(wanted * 2 ** planned),
        stops: stopsText(error),
        aside: asideText(shot),
      },
      at: camera.iso,
      // Shots that take over one ISO and are off by much the same are mended together.
      cause: { start: camera.iso.start, end: camera.iso.end, as: `${error > 0 ? 'bright' : 'dark'} ${num(error, 0)}` },
      related: metered(shot),
      excess: Math.abs(error),
      fixes: () => exposureFixes(shot, film, error),
      explainedBy: explains(shot, film, error),
      yieldsTo: isOfShutter(shot, film, error, limits.allow) ? ['shutter-off-half-frame', 'splash-not-frozen'] : [],
    });
  },
});

/** How far a word of style carries: no style shows what lies in the black, or in the white. */
const mostStops: Stops = 4;
/** The same for what must be read, or be seen by the brief. */
const mostSeenStops: Stops = 2;

function explains({ subject }: Shot, { brief }: Film, error: Stops): readonly PurposeWord[] {
  const mustBeSeen = subject.letters !== undefined || brief?.mustShow.some((item) => item.value === subject.name);
  if (Math.abs(error) > (mustBeSeen ? mostSeenStops : mostStops) + 1e-6) return error > 0 ? [] : ['silhouette'];
  return error > 0 ? ['high-key'] : ['low-key', 'silhouette'];
}

/** Metered for a screen, its white must come out as far over middle grey as planned. */
function checkBackdrop(shot: Shot, { film, limits, report }: Ctx): void {
  const { backdrop, camera } = shot;
  const error = exposureError(shot, 0);
  const white = backdrop?.screen?.white?.value;
  // A black screen can't be metered for.
  if (error === undefined || error === -Infinity || white === undefined) return;
  if (Math.abs(error) <= limits.allow + 1e-6) return;
  report({
    message: 'screen',
    data: {
      shot: shot.name,
      nits: num(white * (backdrop?.brightness?.value ?? 1), 0),
      found: overText(error + (camera.exposure?.value ?? 0)),
      planned: camera.exposure?.text ?? '0 stops (nothing said)',
      stops: stopsText(error),
      side: error > 0 ? 'bright' : 'dark',
      how: error > 0 ? 'turn the screen down' : 'open the lens',
    },
    at: camera.exposure ?? camera.iso ?? shot,
    excess: Math.abs(error),
    fixes: () => exposureFixes(shot, film, error),
    explainedBy: error > 0 ? ['high-key'] : ['low-key'],
    yieldsTo: ['screen-tone-off'],
  });
}

function overText(stops: Stops): string {
  if (Math.abs(stops) < asPlannedStops) return 'as';
  return `${stopsText(stops)} ${stops > 0 ? 'over' : 'under'}`;
}

/** What is off through the whole take: light that changes on purpose may pass through the right amount. */
function leastError(shot: Shot): number | undefined {
  const start = exposureError(shot, 0);
  const end = shot.lit.some((lamp) => lamp.changes) ? exposureError(shot, 1) : start;
  if (start === undefined || end === undefined || start * end < 0) return undefined;
  return Math.abs(end) < Math.abs(start) ? end : start;
}

/** Nothing lights the set, and no screen or lit backdrop stands behind it. */
function isUnlit({ lit, room, backdrop }: Shot): boolean {
  return lit.length === 0 && room?.light?.value === 0 && !backdrop?.screenName;
}

function isOfEdge({ role }: LampPlace): boolean {
  return role?.value === 'rim' || role?.value === 'accent' || role?.value === 'highlight';
}

/**
 * Lamps that only draw the product's edge, or shine through it: its front is dark on purpose. Where the room gives more
 * light than they do, the room is what lights it. What is transparent is seen by the light behind it, whatever falls on
 * its front.
 */
function isLitFromBehind(shot: Shot, { product }: Film): boolean {
  const { lamps, roomLux } = faceLight(shot, 0);
  const isFront = (one: LampLight) => one.offFaceDeg < 90 && !isOfEdge(one.lamp) && one.lux > 0;
  const strongest = (some: readonly LampLight[]) =>
    Math.max(0, ...some.map((one) => towardLamp(one.lamp, shot) ?? Infinity));
  const front = strongest(lamps.filter(isFront));
  const behind = strongest(lamps.filter((one) => !isFront(one)));
  return behind > roomLux && (front === 0 || (product.finish === 'transparent' && behind > front));
}

/**
 * What light passes is seen by the screen behind it, and lamps from the sides draw its edges: nothing is wanted on its
 * front. A part of it, such as its label, is seen by the light that falls on it.
 */
function isSeenAgainstScreen(shot: Shot, { product }: Film): boolean {
  const isClear = product.finish === 'transparent' || product.finish === 'translucent';
  if (!isClear || shot.subject.name !== 'product' || !shot.backdrop?.screenName) return false;
  return faceLight(shot, 0).lamps.every((one) => one.offFaceDeg >= sideDeg);
}

/** From here round a lamp draws an edge of what light passes, rather than lighting its front. */
const sideDeg = 60;

/** On a face that is turned to it. */
function towardLamp(lamp: LampPlace, shot: Shot): Lux | undefined {
  return measuredLux(lamp, shot) ?? luxToward(lamp);
}

/** Under light that is mostly of a colour a meter is no judge: its strongest channel decides, and is checked by itself. */
function isColoured(shot: Shot): boolean {
  const coloured = faceLight(shot, 0).lamps.filter((one) => one.lamp.colour);
  return coloured.reduce((sum, one) => sum + one.share, 0) >= 0.5;
}

/** From here on a lamp lights another side than the one that is filmed, which gets less than a fifth of its light. */
const asideDeg = 80;

/**
 * Light from high up falls on the top of what is filmed from above, or mirrors in it, and the camera sees that as well as
 * its front: where the top gets enough, too little on the front says nothing. Letters lie on one side.
 */
function isLitFromAbove(shot: Shot, wanted: Lux): boolean {
  // Level with a whole product one looks at its front.
  const least = shot.subject.name === 'product' ? 5 : -1;
  if (tiltDeg(shot, 0) < least || shot.subject.letters) return false;
  const subject = subjectPlace(shot);
  const { lamps, roomLux } = faceLight(shot, 0);
  if (!lamps.some((one) => one.offFaceDeg >= asideDeg - 1 && !isOfEdge(one.lamp))) return false;
  const onTop = lamps.reduce((sum, { lamp }) => {
    const at = lampPosition(lamp, productPlace(shot), 0);
    if (!at || lamp.aim === 'backdrop') return sum;
    const way = subtract(at, subject);
    const far = lengthOf(way);
    // Its light is known where the tape from it ends, and a part may be nearer.
    const nearer = ((lamp.distance?.value.from ?? far) / far) ** 2;
    return sum + (towardLamp(lamp, shot) ?? 0) * Math.max(0, way.y / far) * nearer;
  }, roomLux);
  return onTop >= wanted / 2;
}

/** The lamps that one would count on, and that stand so. */
function asideText(shot: Shot): string {
  const aside = faceLight(shot, 0).lamps.filter((one) => !isOfEdge(one.lamp) && one.offFaceDeg > asideDeg);
  if (aside.length === 0) return '';
  const places = aside.map(({ lamp, offFaceDeg }) => {
    const share = percentText(cosineShare(offFaceDeg));
    return `${quoted(lamp.name)} stands ${num(offFaceDeg, 0)}° round from what the camera sees, which gets ${share} of its light`;
  });
  return ` ${listText(places)}.`;
}

function lightNames(shot: Shot): { names: string; give: string } {
  const { lamps, roomShare, measured } = faceLight(shot, 0);
  if (measured) return { names: 'the light was measured and', give: 'is' };
  const lighting = lamps.filter((one) => one.share >= 0.02).map((one) => quoted(one.lamp.name));
  const names = [...lighting, ...(roomShare >= 0.02 ? ["the room's light"] : [])];
  const known = lamps.some(({ lamp }) => shot.measured?.lamps.get(lamp.name)?.light);
  const give = names.length > 1 ? 'give' : 'gives';
  return { names: listText(names), give: known ? `${give}, as measured,` : give };
}

/** Where it was written down what the meter said. */
function metered({ measured }: Shot): Related[] {
  const { light, clock } = measured ?? {};
  const message = clock ? `as measured at ${clock.text}` : 'as measured';
  return light ? [{ start: light.start, end: light.end, file: light.file, message }] : [];
}
