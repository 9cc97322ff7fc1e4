import { givesDaylight, isOutdoors } from '../../core/derived/daylight.ts';
import {
  isBlackAndWhite,
  neutralMired,
  standsOut,
  warmerBy,
  type White,
  whitesOf,
} from '../../core/derived/white-points.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type Cause, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { kelvinText, listText, num, quoted, stopsText } from '../../core/say.ts';
import type { Kelvin, Mired } from '../../core/units.ts';
import {
  aboutShare,
  filterFix,
  roundKelvin,
  sameWhite,
  subjectText,
  tuned,
  tuneFix,
  whiteAt,
  whiteName,
  whiteText,
} from './white-text.ts';

export default defineRule({
  id: 'mixed-light',
  family: 'colour',
  summary: 'Lights of different white meet on the same side of the subject.',
  severity: 'warning',
  sources: [
    'reciprocal temperature: equal steps in mired look about equal (definition)',
    'common practice, no source (a tenth of the light, 30 mired: a quarter filter is 26 to 35)',
  ],
  limits: {
    allow: { quantity: 'mired', default: '30 mired', meaning: 'How far apart two lights of one face may be.' },
    share: {
      quantity: 'share',
      default: '10 %',
      meaning: 'Lights that give less of the light than this do not count.',
    },
  },
  messages: {
    mixed:
      '{shot}: {odd} is {oddTemperature} and {other} is {otherTemperature}, {apart} mired apart, and {odd} gives {share} of the light on {subject}. No white balance suits both: its side will look {cast}. Give both one white, or leave one out.',
    together:
      '{shot}: {odd} are {oddTemperature} and {other} is {otherTemperature}, {apart} mired apart, and together they give {share} of the light on {subject}. No white balance suits both: their side will look {cast}. Give all one white, or leave them out.',
  },
  shot(shot, { film, limits, report }) {
    const { all, key } = whitesOf(shot);
    if (!key || standsOut(key) || isBlackAndWhite(film)) return;
    const apartFromKey = all.filter(
      (white) =>
        white !== key &&
        !standsOut(white) &&
        !isOneSky(key, white, shot) &&
        gapBetween(key, white) > limits.allow + 1e-6,
    );
    const strong = apartFromKey.filter((white) => white.share >= limits.share - 1e-6);
    for (const white of strong) {
      const [odd, other] = keyIsOdd(shot, key, white) ? [key, white] : [white, key];
      const data = { odd: whiteName(odd), share: aboutShare(odd.share), ...dataOf(shot, odd, other) };
      report({
        message: 'mixed',
        data,
        at: whiteAt(odd, shot),
        cause: causeOf(odd, key, shot),
        excess: gapBetween(odd, key) * odd.share,
        explainedBy: ['mixed-light'],
        fixes: () => fixesFor({ shot, film, odd, other }),
      });
    }
    const weak = apartFromKey.filter((white) => !strong.includes(white));
    for (const alike of ofOneWhite(weak)) {
      const share = alike.reduce((sum, white) => sum + white.share, 0);
      // Beside a strong light of the same white they add nothing to what is said of that one.
      if (share < limits.share - 1e-6 || strong.some((one) => gapBetween(one, alike[0]!) <= sameWhite)) continue;
      const odd = alike[0]!;
      const data = { odd: listText(alike.map(whiteName)), share: aboutShare(share), ...dataOf(shot, odd, key) };
      report({
        message: 'together',
        data,
        at: whiteAt(odd, shot),
        cause: causeOf(odd, key, shot),
        excess: gapBetween(odd, key) * share,
        related: alike.slice(1).map((one) => ({ ...placeOf(whiteAt(one, shot)), message: 'of the same white' })),
        explainedBy: ['mixed-light'],
        fixes: () => tuneAll(alike, key),
      });
    }
  },
});

/** Two whites that meet in several shots are one fault, however much each gives there. */
function causeOf(odd: White, key: White, shot: Shot): Cause {
  return { ...placeOf(whiteAt(odd, shot)), as: `beside ${whiteName(key)}` };
}

function dataOf(shot: Shot, odd: White, other: White) {
  return {
    shot: shot.name,
    oddTemperature: whiteText(odd),
    other: whiteName(other),
    otherTemperature: whiteText(other),
    apart: num(gapBetween(other, odd), 0),
    subject: subjectText(shot),
    cast: odd.mired.from > other.mired.from ? 'orange' : 'blue',
  };
}

/** Mired between two lights, where they change as near as they come to each other. */
function gapBetween(one: White, other: White): Mired {
  return Math.abs(warmerBy(other, nearestEnd(one, other)));
}

/** Lights sorted into those of the same white, the strongest of each first; one alone is no group. */
function ofOneWhite(whites: readonly White[]): White[][] {
  const groups: White[][] = [];
  for (const white of [...whites].sort((a, b) => b.share - a.share)) {
    const group = groups.find(([first]) => gapBetween(first!, white) <= sameWhite);
    if (group) group.push(white);
    else groups.push([white]);
  }
  return groups.filter((group) => group.length > 1);
}

function placeOf({ start, end }: { start: number; end: number }) {
  return { start, end };
}

/** All of them to the key's white, where each can be set to it. */
function tuneAll(alike: readonly White[], key: White): FixIdea[] {
  if (key.mired.from !== key.mired.to) return [];
  const ideas = alike.map((one) => tuneFix(one, key.mired.from)[0]);
  const changes = ideas.flatMap((idea) => idea?.set ?? []);
  if (ideas.includes(undefined)) return [];
  const texts = listText([...new Set(changes.map(({ text }) => text))]);
  return [{ title: `Set ${listText(alike.map(whiteName))} to ${texts}`, set: changes }];
}

/** Sun and sky: in the open, and at two windows, a sunny side and its shadow have both whites. */
function isOneSky(one: White, other: White, shot: Shot): boolean {
  return [one, other].every(({ lamp, room, temperature }) => {
    const isOfSky = lamp ? givesDaylight(lamp) : room?.source === 'window';
    // The light of a room is taken for a window's where nothing is said, and bulbs are no sky.
    return isOfSky && (isOutdoors(shot) || temperature.value.from >= leastDaylightK);
  });
}

/** The sun an hour above the horizon (from memory). */
const leastDaylightK: Kelvin = 4000;

/** The end of a changing light's temperatures that comes nearest to another's. */
function nearestEnd({ mired: { from, to } }: White, other: White): Mired {
  return Math.abs(warmerBy(other, from)) <= Math.abs(warmerBy(other, to)) ? from : to;
}

/** The camera tells which of two is odd: the one that it is not set for. */
function keyIsOdd(shot: Shot, key: White, white: White): boolean {
  const neutral = neutralMired(shot);
  if (neutral === undefined) return false;
  return Math.abs(warmerBy(key, neutral)) > sameWhite && Math.abs(warmerBy(white, neutral)) <= sameWhite;
}

interface Pair {
  readonly shot: Shot;
  readonly film: Film;
  readonly odd: White;
  readonly other: White;
}

function fixesFor({ shot, film, odd, other }: Pair): FixIdea[] {
  if (other.mired.from !== other.mired.to) return [];
  const wanted = other.mired.from;
  return [
    ...tuneFix(odd, wanted),
    ...filterFix(odd, wanted, film),
    ...tuneOther(shot, odd, other),
    ...darken(odd, shot),
  ];
}

/** Where the odd light can't be tuned, the other one and the camera follow it. */
function tuneOther(shot: Shot, odd: White, other: White): FixIdea[] {
  const setting = tuned(other, odd.mired.from);
  if (setting === undefined || !other.lamp || odd.mired.from !== odd.mired.to || tuned(odd, other.mired.from))
    return [];
  const [lamp, balance] = [kelvinText(setting), kelvinText(roundKelvin(odd.mired.from))];
  const lampTitle = `Set ${quoted(other.lamp.name)}`;
  if (!shot.camera.whiteBalance) return [set(`${lampTitle} to ${lamp}`, [other.lamp, 'temperature', lamp])];
  const title = lamp === balance ? `and the camera to ${lamp}` : `to ${lamp}, the camera to ${balance}`;
  const changes = [[other.lamp, 'temperature', lamp] as const, [shot.camera, 'white-balance', balance] as const];
  return [set(`${lampTitle} ${title}`, ...changes)];
}

/** The room's own light can be shut out or switched off; the sky can't. */
function darken(odd: White, shot: Shot): FixIdea[] {
  if (!odd.room || odd.share >= 0.95 || isOutdoors(shot)) return [];
  const what = odd.room.source === 'window' ? 'Shut out the window' : "Switch off the room's own light";
  return [set(`${what} (${stopsText(Math.log2(1 - odd.share))} darker)`, [odd.room, 'light', 'none'])];
}
