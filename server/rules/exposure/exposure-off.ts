import { exposureError, faceLight, wantedLux } from '../../core/derived/light.ts';
import type { Film, Shot, Val } from '../../core/film.ts';
import type { Related } from '../../core/finding.ts';
import { type Cause, type Context, defineRule, type PurposeWord } from '../../core/rule.ts';
import {
  apertureText,
  asPlannedStops,
  listText,
  luxText,
  num,
  quoted,
  shutterText,
  stopsText,
  timesText,
} from '../../core/say.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';
import { magnificationOf } from '../../core/derived/optics.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Stops } from '../../core/units.ts';
import { exposureFixes, fixesForAll, isTurnedFromKey } from './exposure-fixes.ts';
import { asideText } from './aside-text.ts';
import { isUnlit, judgedError } from './judged-exposure.ts';
import { farthestOff, shorterWay, waysOf, whenText } from './on-the-way.ts';
import { isOfShutter } from './of-shutter.ts';
import { type UnderOneLamp, underOneLamp } from './under-one-lamp.ts';

const allowed = {
  allow: { quantity: 'stops', default: '1 stop', meaning: 'How far the exposure may be from what is meant.' },
} as const;

const messages = {
  bright:
    '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too bright.{under} Turn lamps down, put a filter on the lens or lower the ISO.',
  dark: '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too dark.{near}{aside}{under} Bring lamps nearer or up, open the lens or raise the ISO.',
  away: '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too dark.{near}{aside}{under} Bring a lamp round, or turn what is filmed to it.',
  brightByDay:
    '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too bright.{under} Put a filter on the lens or lower the ISO.',
  darkByDay:
    '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too dark.{near}{aside}{under} Open the lens, raise the ISO, or give light back with a card.',
  awayByDay:
    '{shot}: {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too dark.{near}{aside}{under} Turn what is filmed to the light, or give light back with a card.',
  travels:
    '{shot}: {when} {lamps} {give} {found} where {settings}{planned} want {wanted}: {stops} too {side}.{aside} Let it go less far, use another part of the take, or set what suits both ends.',
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
    "Lambert's formula for an outline on a face turned any way (Photometria, 1760)",
  ],
  limits: allowed,
  messages,
  shot(shot, context) {
    const { film, limits, report } = context;
    const { camera } = shot;
    // Somebody is about to write them.
    if (film.fields.isNoBlock('lamps')) return;
    if (camera.meter === 'backdrop') {
      checkBackdrop(shot, context);
      return;
    }
    if (isUnlit(shot)) {
      report({ message: 'unlit', data: { shot: shot.name }, at: shot, explainedBy: ['silhouette', 'low-key'] });
      return;
    }
    const error = judgedError(shot, film);
    const wanted = wantedLux(shot);
    const timeS = shutterSeconds(shot);
    if (wanted === undefined || timeS === undefined || !camera.iso || !camera.aperture) return;
    if (error === undefined || Math.abs(error) <= limits.allow + mirrorStops(shot, film) + 1e-6) {
      checkOnTheWay(shot, context);
      return;
    }
    const under = underOneLamp(shot, film);
    report({
      message: messageOf(shot, film, error),
      data: {
        ...lightText(shot, 0, error),
        near: nearText(shot),
        under: underText(under),
      },
      at: camera.iso,
      cause: causeOf(camera.iso, under, error),
      related: metered(shot),
      excess: Math.abs(error),
      fixes: () => (under ? fixesForAll(under.shots, film, under.error) : exposureFixes(shot, film, error)),
      explainedBy: explains(shot, film, error),
      yieldsTo: [
        ...(error < 0 ? ['lamp-behind-backdrop'] : []),
        ...(isOfShutter(shot, film, error, limits.allow) ? ['shutter-off-half-frame', 'splash-not-frozen'] : []),
      ],
    });
  },
});

/** Nobody turns the sky up, or brings a window round; nor does it help to turn a round thing, or a top. */
function messageOf(shot: Shot, { product }: Film, error: Stops) {
  const isByDay = !shot.lit.some((lamp) => lamp.aim === 'product' && !lamp.bounces && !isWindow(lamp));
  const { faces = product.symmetry?.value === Infinity ? 'up' : undefined } = shot.subject;
  const side = error > 0 ? 'bright' : isTurnedFromKey(shot) && !(isByDay && faces === 'up') ? 'away' : 'dark';
  return isByDay ? (`${side}ByDay` as const) : side;
}

/** What was right at the start may be so no more where a lamp or the camera has gone to. */
function checkOnTheWay(shot: Shot, { film, limits, report }: Ctx): void {
  const worst = farthestOff(shot, film);
  const allow = limits.allow + mirrorStops(shot, film);
  if (!worst || Math.abs(worst.error) <= allow + 1e-6) return;
  const [way] = waysOf(shot);
  report({
    message: 'travels',
    data: {
      ...lightText(shot, worst.moment, worst.error),
      when: whenText(shot, worst),
      side: worst.error > 0 ? 'bright' : 'dark',
    },
    at: way?.lamp[way.measure] ?? shot.camera.iso!,
    shot,
    excess: Math.abs(worst.error),
    fixes: () => shorterWay(shot, worst, allow),
    explainedBy: explains(shot, film, worst.error),
  });
}

/** What falls on the face, and what is wanted there. */
function lightText(shot: Shot, moment: number, error: Stops) {
  const planned = shot.camera.exposure?.value ?? 0;
  const { names, give } = lightNames(shot, moment);
  return {
    shot: shot.name,
    lamps: names,
    give,
    found: luxText(faceLight(shot, moment).totalLux),
    settings: settingsText(shot, shutterSeconds(shot)!),
    planned: planned === 0 ? '' : ` with ${shot.camera.exposure!.text} planned`,
    wanted: luxText(wantedLux(shot)! * 2 ** planned),
    stops: stopsText(error),
    aside: asideText(shot, moment),
  };
}

/** The lamp of several shots, else the ISO that some take over: those that are off by much the same are mended together. */
function causeOf(iso: Val<unknown>, under: UnderOneLamp | undefined, error: Stops): Cause {
  const side = error > 0 ? 'bright' : 'dark';
  if (!under) return { start: iso.start, end: iso.end, as: `${side} ${num(error, 0)}` };
  const { start, end, file } = under.lamp;
  return { start, end, file, as: side };
}

function settingsText({ camera }: Shot, timeS: number): string {
  const filters = camera.filters.filter((one) => one.loses > 0).map((one) => quoted(one.name));
  return listText([
    apertureText(Number(camera.aperture!.value)),
    shutterText(timeS),
    `ISO ${camera.iso!.text}`,
    ...filters,
  ]);
}

/** A metal shows what it mirrors more than what falls on it, so that a meter is good to half a stop less there. */
function mirrorStops({ subject }: Shot, { product }: Film): Stops {
  return product.finish === 'metallic' && subject.name === 'product' ? 0.5 : 0;
}

/** How far a word of style carries: no style shows what lies in the black, or in the white. */
const mostStops: Stops = 4;
/** The same for what must be read, or be seen by the brief. */
const mostSeenStops: Stops = 2;

function explains({ subject, camera }: Shot, { brief }: Film, error: Stops): readonly PurposeWord[] {
  // Who says by how much means that much: the word covers what comes near it, and that is not told of.
  const isSaid = error * (camera.exposure?.value ?? 0) > 0;
  const mustBeSeen = subject.letters !== undefined || brief?.mustShow.some((item) => item.value === subject.name);
  if (isSaid || Math.abs(error) > (mustBeSeen ? mostSeenStops : mostStops) + 1e-6)
    return error > 0 ? [] : ['silhouette'];
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

/** From here on the lens is so far out that a reckoning without it goes wrong by a third of a stop. */
const nearStops: Stops = 1 / 3;

function nearText(shot: Shot): string {
  const times = (1 + magnificationOf(shot)) ** 2;
  return Math.log2(times) < nearStops ? '' : ` So near, the lens takes ${timesText(times)} the light.`;
}

function underText(under: UnderOneLamp | undefined): string {
  if (!under) return '';
  const { lamp, shots, error } = under;
  const all = shots.length === 2 ? 'Both' : `All ${shots.length}`;
  return ` ${all} shots under ${quoted(lamp.name)} are too ${error > 0 ? 'bright' : 'dark'}.`;
}

function lightNames(shot: Shot, moment: number): { names: string; give: string } {
  const { lamps, roomShare, measured } = faceLight(shot, moment);
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
