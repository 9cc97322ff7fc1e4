import { renderedStops } from '../../calc/exposure.ts';
import { wantedLux } from '../../core/derived/light.ts';
import { trial, tryShot } from '../../core/derived/showings.ts';
import { type BackdropLight, backdropLight } from '../../core/derived/backdrop-light.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, luxText, percentText, quoted, stopsText, listText } from '../../core/say.ts';
import type { Lux, Share } from '../../core/units.ts';
import { isOfExposure, reflectance, tones } from './backdrop-tone.ts';
import { pastBackdropMm, showsBackdrop } from '../optics/past-edges.ts';

export default defineRule({
  id: 'backdrop-tone-off',
  family: 'exposure',
  summary: 'The backdrop will not come out as the tone that is wanted.',
  severity: 'info',
  sources: ['ISO 2720 (exposure), 18 % as mid-grey', 'reflectances and limits: common practice, no source'],
  messages: {
    unlit:
      '{shot}: no light falls on the front of the backdrop, so it comes out black, not {tone}. Light it from the front: it needs {should}.',
    off: '{shot}: the backdrop gets {lux} and gives back {reflects}{assumed}: it comes out {stops} {side} middle grey, not {tone}. For that it needs {should}.',
  },
  limits: {
    allow: {
      quantity: 'stops',
      default: '0.5 stops',
      meaning: 'How far beyond the edge of its tone the backdrop may come out.',
    },
  },
  shot(shot, { film, limits, report }) {
    const { backdrop } = shot;
    const tone = backdrop?.tone?.value;
    const range = tone === undefined ? undefined : tones[tone];
    const wanted = wantedLux(shot);
    const light = brightest(shot);
    if (!backdrop || !range || !tone || !wanted || !light?.complete || backdrop.screenName) return;
    const reflects = reflectance(backdrop, tone);
    const stops = renderedStops(light.totalLux, reflects.share, wanted);
    const beyond = Math.max(range.from - stops, stops - range.to);
    if (beyond <= limits.allow + 1e-6 || !showsBackdrop(shot, film)) return;
    const should = (wanted * 0.18 * 2 ** range.aim) / reflects.share;
    if (light.totalLux <= 0) {
      const data = { shot: shot.name, tone, should: luxText(should) };
      // No word explains it: who wants it dark wants some light.
      if (isMissed(shot, tone)) report({ message: 'unlit', data, at: backdrop.tone!, severity: 'warning', excess: 10 });
      return;
    }
    report({
      message: 'off',
      data: {
        shot: shot.name,
        lux: luxText(light.totalLux),
        reflects: percentText(reflects.share),
        assumed: reflects.stated ? '' : ' (usual, not stated)',
        stops: stopsText(stops),
        side: stops < 0 ? 'under' : 'over',
        tone,
        should: luxText(should),
      },
      at: backdrop.tone!,
      cause: backdrop.tone!,
      ...(isOfRoom(light, stops > range.aim) && { severity: 'sheet' as const }),
      excess: beyond,
      fixes: () => [...levels(light, should), ...moved(shot, film, should)],
      // Who mends the exposure of the whole shot has mended it.
      yieldsTo: isOfExposure(shot, stops, range, limits.allow) ? ['exposure-off'] : [],
      explainedBy: stops < range.aim ? ['low-key'] : ['high-key'],
    });
  },
});

/** A backdrop whose light comes up is judged when it is up. */
function brightest(shot: Shot): BackdropLight | undefined {
  const start = backdropLight(shot, 0);
  const end = shot.lit.some(({ changes }) => changes) ? backdropLight(shot, 1) : start;
  return start && end && end.totalLux > start.totalLux ? end : start;
}

/** How light the room is that far behind, nobody has read: it may well be darker there. */
function isOfRoom({ roomLux, totalLux }: BackdropLight, isOver: boolean): boolean {
  return isOver && roomLux * 2 >= totalLux;
}

/** Of a room whose light is not said nobody knows that it is dark, and what comes out black as wanted is no fault. */
function isMissed({ room }: Shot, tone: string): boolean {
  return room?.light !== undefined && tone !== 'black';
}

/** The lamps that are aimed at the backdrop, all by the same factor. */
function levels(light: BackdropLight, should: Lux): FixIdea[] {
  const own = light.lamps.filter(({ lamp, lux }) => lamp.aim === 'backdrop' && lux > 0 && !lamp.measured);
  const ownLux = own.reduce((sum, one) => sum + one.lux, 0);
  const factor = (should - (light.totalLux - ownLux)) / ownLux;
  if (own.length === 0 || !(factor > 0)) return [];
  const settings = own.map(({ lamp }) => ({ lamp, to: rounded((lamp.level?.value.from ?? 1) * factor, factor > 1) }));
  if (settings.some(({ lamp, to }) => to > 1 || to < (lamp.lamp?.level?.value.from ?? 0.05) || lamp.changes)) return [];
  return [levelFix(settings)];
}

function levelFix(settings: readonly { lamp: LampPlace; to: Share }[]): FixIdea {
  const names = listText(settings.map(({ lamp, to }) => `${quoted(lamp.name)} to ${percentText(to)}`));
  return set(`Set level of ${names}`, ...settings.map(({ lamp, to }) => [lamp, 'level', percentText(to)] as const));
}

/** To a whole percent, on the safe side. */
function rounded(level: Share, up: boolean): Share {
  return (up ? Math.ceil(level * 100 - 1e-6) : Math.floor(level * 100 + 1e-6)) / 100;
}

/**
 * The backdrop nearer or farther by whole 5 cm, from 30 cm to 3 m behind the product, where that alone is enough and the
 * picture reaches no farther past its edges than now.
 */
function moved(shot: Shot, film: Film, should: Lux): FixIdea[] {
  const backdrop = shot.backdrop!;
  const now = backdrop.behind!;
  const hungAt = (mm: number) => tryShot(shot, { backdrop: { ...backdrop, behind: trial(mm) } });
  const luxAt = (mm: number) => backdropLight(hungAt(mm), 0)?.totalLux ?? 0;
  const brighter = should > luxAt(now.value);
  for (let mm = now.value; mm >= 300 && mm <= 3000; mm += brighter ? -50 : 50) {
    const enough = brighter ? luxAt(mm) >= should : luxAt(mm) <= should;
    if (!enough) continue;
    if (pastBackdropMm(hungAt(mm), film) > pastBackdropMm(shot, film) + 1) return [];
    const text = lengthText(mm);
    return [set(`Hang the backdrop ${text} behind the product`, [backdrop, 'behind', text])];
  }
  return [];
}
