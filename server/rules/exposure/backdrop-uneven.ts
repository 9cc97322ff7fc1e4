import { renderedStops, stopsOver } from '../../calc/exposure.ts';
import { backdropLight, lampStand, wallMiddle } from '../../core/derived/backdrop-light.ts';
import { type BackdropPlace, backdropPlaces, placeShare } from '../../core/derived/backdrop-places.ts';
import { wantedLux } from '../../core/derived/light.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { luxText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Lux } from '../../core/units.ts';
import { isOfExposure, reflectance, tones } from './backdrop-tone.ts';

export default defineRule({
  id: 'backdrop-uneven',
  family: 'exposure',
  summary: 'A backdrop that is to be white comes out grey at an edge of the picture, or in the shadow of the product.',
  severity: 'info',
  sources: [
    'inverse square law, cosine law and the edge of a beam at each place; ISO 2720 (exposure)',
    'common practice, no source (half a stop across a white ground)',
  ],
  limits: {
    allow: { quantity: 'stops', default: '0.5 stops', meaning: 'How far under white the backdrop may come out.' },
    uneven: {
      quantity: 'stops',
      default: '0.5 stops',
      meaning: 'How much less light than the middle of the picture, or than without the shadow, a place may get.',
    },
    part: { quantity: 'share', default: '3 %', meaning: 'Grey that takes less of the picture than this is not told.' },
  },
  messages: {
    uneven:
      '{shot}: the backdrop comes out white in the middle of the picture, and grey in {share} of it, worst at the {where}: {stops} {side} middle grey. {lux} fall there, {apart} less than in the middle, and {should} are needed. Light it from both sides or from farther away, or turn its lamp up.',
    through:
      '{shot}: {lamp} shines through the backdrop as a bright spot: white in the middle of the picture, and grey in {share} of it, worst at the {where}: {stops} {side} middle grey. {lux} fall there, {apart} less than in the middle, and {should} are needed. Go farther behind with it, or put another sheet that scatters between them.',
    shadow:
      '{shot}: {lamp} throws the shadow of the product onto the white backdrop: {share} of the picture gets up to {apart} less light there and comes out grey, {stops} {side} middle grey. Move the product away from the backdrop or the lamp to the side, or light the backdrop by itself.',
  },
  yieldsTo: ['backdrop-tone-off'],
  shot(shot, { film, limits, report }) {
    const { backdrop, room } = shot;
    const wanted = wantedLux(shot);
    const middle = backdropLight(shot, 0);
    // The light of the room fills shadows, and nobody knows of one that is not said.
    if (!room?.light || backdrop?.tone?.value !== 'white' || backdrop.screenName || !wanted || !middle?.complete)
      return;
    const { share } = reflectance(backdrop, 'white');
    const stopsAt = (lux: Lux) => renderedStops(lux, share, wanted);
    const least = tones.white!.from - limits.allow;
    // A middle that is not white is told by itself, and whatever lies round it with it.
    if (stopsAt(middle.totalLux) < least) return;
    const isGrey = (lux: Lux, plain: Lux) => stopsAt(lux) < least - 1e-6 && stopsOver(plain, lux) > limits.uneven;
    const told = (grey: readonly Grey[], one: Grey) => ({
      shot: shot.name,
      share: percentText(grey.length * placeShare),
      stops: stopsText(Math.abs(stopsAt(one.lux))),
      side: stopsAt(one.lux) < 0 ? 'under' : 'over',
      apart: stopsText(stopsOver(one.plain, one.lux)),
    });
    const common = (as: string, { lux }: Grey) => ({
      at: backdrop.tone!,
      cause: { ...backdrop.tone!, as },
      excess: least - stopsAt(lux),
      explainedBy: ['uneven-light', 'low-key'] as const,
      yieldsTo: isOfExposure(shot, stopsAt(lux), tones.white!, limits.allow) ? ['exposure-off'] : [],
    });
    const { uneven, shadow } = worstOf(shot, film, middle.totalLux, isGrey);
    const [edge, dark] = [darkest(uneven), darkest(shadow)];
    if (edge && uneven.length * placeShare >= limits.part) {
      const should = luxText((wanted * 0.18 * 2 ** tones.white!.aim) / share);
      const data = { ...told(uneven, edge), where: whereIn(edge), lux: luxText(edge.lux), should };
      const lamp = lampBehind(shot);
      const all = common('uneven', edge);
      // How much a sheet scatters is read on the set, and no plan knows it.
      if (lamp) report({ message: 'through', severity: 'sheet', data: { ...data, lamp: quoted(lamp.name) }, ...all });
      // A hint, so that what makes the middle white can be offered.
      else report({ message: 'uneven', severity: 'hint', data, ...all });
    }
    if (dark?.lamp && shadow.length * placeShare >= limits.part) {
      const data = { ...told(shadow, dark), lamp: quoted(dark.lamp.name) };
      report({ message: 'shadow', data, ...common('shadow', dark) });
    }
  },
});

/** The strongest of the lamps that are aimed at the backdrop from behind. */
function lampBehind(shot: Shot): LampPlace | undefined {
  const { lamps = [] } = backdropLight(shot, 0) ?? {};
  const behind = lamps.filter(
    // A window is as large as what hangs before it.
    ({ lamp }) =>
      lamp.aim === 'backdrop' &&
      !isWindow(lamp) &&
      (lampStand(lamp, shot, 0)?.z ?? 0) > (wallMiddle(shot)?.z ?? Infinity),
  );
  return behind.sort((a, b) => b.lux - a.lux)[0]?.lamp;
}

/** A place that comes out grey, and the light that it is held against. */
interface Grey {
  readonly x: number;
  readonly y: number;
  readonly lux: Lux;
  readonly plain: Lux;
  readonly lamp?: LampPlace;
}

/** The showing with the most grey of each kind. */
function worstOf(shot: Shot, film: Film, middleLux: Lux, isGrey: (lux: Lux, plain: Lux) => boolean) {
  let [uneven, shadow]: [Grey[], Grey[]] = [[], []];
  for (const showing of showingsOf(shot, film)) {
    const places = backdropPlaces(showing, film);
    const far = places.filter(({ lux }) => isGrey(lux, middleLux)).map((one) => greyOf(one, one.lux, middleLux));
    const shaded = isSeeThrough(film)
      ? []
      : places.filter(({ lux, shadedLux }) => isGrey(shadedLux, lux)).map((one) => greyOf(one, one.shadedLux, one.lux));
    if (far.length > uneven.length) uneven = far;
    if (shaded.length > shadow.length) shadow = shaded;
  }
  return { uneven, shadow };
}

function greyOf({ x, y, shadowOf }: BackdropPlace, lux: Lux, plain: Lux): Grey {
  return { x, y, lux, plain, lamp: shadowOf };
}

/** What is clear throws bright lines and no plain shadow. */
function isSeeThrough({ product: { finish } }: Film): boolean {
  return finish === 'transparent' || finish === 'translucent';
}

function darkest(grey: readonly Grey[]): Grey | undefined {
  return grey.reduce<Grey | undefined>((most, one) => (one.lux < (most?.lux ?? Infinity) ? one : most), undefined);
}

/** As the camera sees it. */
function whereIn({ x, y }: Grey): string {
  const across = x < 1 / 3 ? 'left' : x > 2 / 3 ? 'right' : '';
  const up = y < 1 / 3 ? 'lower' : y > 2 / 3 ? 'upper' : '';
  if (across && up) return `${up} ${across}`;
  return across || (up ? `${up} edge` : 'sides');
}
