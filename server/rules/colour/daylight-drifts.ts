import type { Range } from '../../core/document/node.ts';
import { daylightShare, givesDaylight, ruling } from '../../core/derived/daylight.ts';
import { type Begin, begins, dayPlans, resetsS } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { hoursText, num, quoted } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { aboutShare, subjectText } from './white-text.ts';

export default defineRule({
  id: 'daylight-drifts',
  family: 'colour',
  summary: 'What must match in daylight is filmed so far apart that the light is another by then.',
  severity: 'sheet',
  sources: ['the sun moves 15° an hour (360° in 24 h)', 'common practice, no source (an hour, half of the light)'],
  limits: {
    longest: { quantity: 'real-time', default: '1 h', meaning: 'How long daylight may be counted on.' },
    share: {
      quantity: 'share',
      default: `${ruling * 100} %`,
      meaning: 'Daylight that is less of the light does not count.',
    },
  },
  messages: {
    meets:
      '{shot}: daylight is {share} of the light on {subject}, and {other}, which it meets in the cut, is begun {time} before, while the sun moves by {sun}. Film one after the other, or read the light again before each.',
    drifts:
      '{shot}: daylight is {share} of the light on {subject}, and shooting{where} goes on for {time}, while the sun moves by {sun}. Film in one go what must match, and read the light again before each shot.',
  },
  shot(shot, { film, limits, report }) {
    const rules = (one: Shot) => daylightShare(one) >= limits.share - 1e-6;
    if (!rules(shot)) return;
    const goesOnS = longestVisitS(shot, film);
    const meets = goesOnS > limits.longest + 1e-6 ? undefined : farthestMeeting(shot, film, rules);
    const timeS = meets?.apartS ?? goesOnS;
    if (timeS <= limits.longest * (meets ? acrossCuts : 1) + 1e-6) return;
    const at = windowPlace(shot);
    const data = {
      shot: shot.name,
      share: aboutShare(daylightShare(shot)),
      subject: subjectText(shot),
      time: hoursText(timeS),
      sun: `${num((15 * timeS) / 3600, 0)}°`,
    };
    const common = { at, cause: { start: at.start, end: at.end }, excess: timeS };
    if (meets) report({ message: 'meets', data: { ...data, other: meets.other.name }, ...common });
    else
      report({
        message: 'drifts',
        data: { ...data, where: shot.setUp ? ` in ${quoted(shot.setUp.name)}` : '' },
        ...common,
      });
  },
});

/** To another view less is seen of it, so that light may be older by so many times (common practice, no source). */
const acrossCuts = 3;

/** The shot in the same light beside it in the cut that is begun longest before it on the same day. Days apart are planned. */
function farthestMeeting(shot: Shot, film: Film, counts: (one: Shot) => boolean) {
  const all = begins(film);
  const own = all.get(shot);
  const beside = shot.pieces.flatMap(({ index }) => [film.cut[index - 1]?.shot, film.cut[index + 1]?.shot]);
  return beside
    .flatMap((other) => {
      const begun = other && counts(other) && !isOtherDaylight(shot, other) ? all.get(other) : undefined;
      return own && other && begun && isBefore(begun, own) ? [{ other, apartS: own.startS - begun.startS }] : [];
    })
    .sort((a, b) => b.apartS - a.apartS)[0];
}

/** The room's light is said for each by itself: morning and evening are meant to differ. */
function isOtherDaylight({ room }: Shot, { room: other }: Shot): boolean {
  return room?.light?.value !== other?.light?.value || room?.temperature?.value !== other?.temperature?.value;
}

function isBefore(one: Begin, other: Begin): boolean {
  return one.plan === other.plan && one.startS < other.startS;
}

/** Where daylight is said: a window that stands in a place, else what it gives the room. */
function windowPlace({ lit, room, start, end }: Shot): Range {
  return lit.find(givesDaylight) ?? room?.light ?? { start, end };
}

/**
 * How long the shots that must match in light, because they stand in one set-up, are filmed on one day. Where it comes up on
 * several and nothing says what is filmed on which, each day has its part of all.
 */
function longestVisitS(shot: Shot, film: Film): Seconds {
  const plans = dayPlans(film).filter(({ shots }) => shots.length > 0);
  const days = (one: Shot) => plans.filter(({ shots }) => shots.includes(one)).length;
  const visits = plans.map(({ shots }) =>
    [...new Set(shots)]
      .filter((one) => one.setUpName?.value === shot.setUpName?.value)
      .reduce((sum, one) => sum + shootingS(one, film) / days(one), 0),
  );
  return Math.max(0, ...visits);
}

/** From the first take to the last, with the time between them; how daylight goes by is what a time-lapse is filmed for. */
function shootingS(shot: Shot, film: Film): Seconds {
  const { takes, record, interval } = shot;
  return resetsS(shot, film) + (interval ? 0 : takes * (record?.value ?? 0));
}
