import type { Range } from '../../core/document/node.ts';
import { begins } from '../../core/derived/schedule.ts';
import { brightestLight } from '../../core/derived/white-points.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { hoursText, num, quoted } from '../../core/say.ts';
import type { Seconds, Share } from '../../core/units.ts';
import { aboutShare, subjectText } from './white-text.ts';

export default defineRule({
  id: 'daylight-drifts',
  family: 'colour',
  summary: 'A window is part of the light for longer than daylight stays the same.',
  severity: 'info',
  sources: ['the sun moves 15° an hour (360° in 24 h)', 'common practice, no source (20 minutes, half of the light)'],
  limits: {
    longest: { quantity: 'real-time', default: '20 min', meaning: 'How long daylight may be counted on.' },
    share: { quantity: 'share', default: '50 %', meaning: 'A window that gives less of the light does not count.' },
  },
  messages: {
    meets:
      '{shot}: the window gives {share} of the light on {subject}, and {other}, which it meets in the cut, is filmed {time}: daylight has changed by then. Film them one after the other, or {else}.',
    drifts:
      '{shot}: the window gives {share} of the light on {subject}, and shooting{where} goes on for {time}: a cloud changes daylight by a stop in a minute, and a patch of sun 2 m from the window moves by {creep} in that time. {way}',
    even: '{shot}: the window gives {share} of the light on {subject}, and shooting{where} goes on for {time}: a cloud changes daylight by a stop in a minute. {way}',
    outside:
      '{shot}: daylight gives {share} of the light on {subject}, and shooting{where} goes on for {time}: a cloud changes it by a stop in a minute. Read the light again before each shot, and film in one go what must match.',
  },
  shot(shot, { film, limits, report }) {
    const share = windowShare(shot);
    if (share < limits.share - 1e-6) return;
    const together = setUpShots(shot, film);
    const timeS = together.reduce((sum, one) => sum + shootingS(one), 0);
    const isEven = isEvenSky(shot, film);
    if (timeS <= limits.longest * (isEven ? evenLonger : 1) + 1e-6) {
      const meets = farthestMeeting(shot, film, (one) => windowShare(one) >= limits.share - 1e-6);
      const isPlanned = meets && meets.apartS < Infinity && (isEven || isReadAgain(film));
      if (meets && !isPlanned && meets.apartS > limits.longest * 3 + 1e-6) {
        const data = {
          shot: shot.name,
          share: aboutShare(share),
          subject: subjectText(shot),
          other: meets.other.name,
          time: meets.apartS === Infinity ? 'another day' : `${hoursText(meets.apartS)} apart`,
          else: shot.lit.every(isWindow) ? 'meter again before each' : 'shut it out',
        };
        const at = windowPlace(shot);
        report({ message: 'meets', data, at, cause: placeOf(at), excess: Math.min(meets.apartS, 1e6) });
      }
      return;
    }
    const data = {
      shot: shot.name,
      share: aboutShare(share),
      subject: subjectText(shot),
      where: shot.setUp ? ` in ${quoted(shot.setUp.name)}` : '',
      time: hoursText(timeS),
    };
    const at = windowPlace(shot);
    const common = { at, cause: placeOf(at), excess: timeS };
    if (isOutside(shot)) {
      report({ message: 'outside', data, ...common });
      return;
    }
    const way = shot.lit.every(isWindow)
      ? 'Film in one go what must match.'
      : 'Shut it out, or film in one go what must match.';
    if (isEven) report({ message: 'even', data: { ...data, way }, ...common });
    else report({ message: 'drifts', data: { ...data, creep: `${num(creepCm(timeS), 0)} cm`, way }, ...common });
  },
});

/** A north window, and one under an even sky, keep for so many times as long. */
const evenLonger = 3;

/** Does the plan call the window a north one, or the sky overcast? Then there is no sun to move, and little to drift. */
function isEvenSky({ lit, room }: Shot, film: Film): boolean {
  const names = lit
    .filter(isWindow)
    .flatMap((lamp) => [lamp.bounces ?? lamp].flatMap(({ name, kitName }) => [name, kitName.value]));
  const words = [...names, film.title?.value, room?.fields.text('notes')?.value, film.fields.text('notes')?.value];
  return words.some(
    (one) => one !== undefined && /\b(?:north(?:ern)?[- ](?:window|light|sky|facing)|overcast)\b/i.test(one),
  );
}

/** Do the notes say that the light is measured again? */
function isReadAgain({ fields }: Film): boolean {
  return /\b(?:meter|measure|read)\b[^.;]*\bagain\b/i.test(fields.text('notes')?.value ?? '');
}

/** It stands on what lies under the sky. */
function isOutside({ surface }: Shot): boolean {
  return /snow|grass|lawn|meadow|sand|beach|street|pavement|ground|gravel|moss|heath/i.test(
    surface?.material?.value ?? '',
  );
}

function placeOf({ start, end }: Range): Range {
  return { start, end };
}

/** The shot by the same window before or after it in the cut that is filmed longest before or after it. */
function farthestMeeting(shot: Shot, film: Film, counts: (one: Shot) => boolean) {
  const all = begins(film);
  const own = all.get(shot);
  if (!own) return undefined;
  const beside = shot.pieces.flatMap(({ index }) => [film.cut[index - 1]?.shot, film.cut[index + 1]?.shot]);
  return beside
    .flatMap((other) => {
      const isLapse = (shot.interval ?? other?.interval) !== undefined;
      const begun = other && other !== shot && !isLapse && counts(other) ? all.get(other) : undefined;
      if (!other || !begun) return [];
      // Told at the later of two, once.
      if (begun.plan !== own.plan) return begun.plan.number < own.plan.number ? [{ other, apartS: Infinity }] : [];
      return begun.startS < own.startS ? [{ other, apartS: own.startS - begun.startS }] : [];
    })
    .sort((a, b) => b.apartS - a.apartS)[0];
}

/** How much of the light comes through a window; none where that is not known. */
function windowShare(shot: Shot): Share {
  const { complete, roomShare, lamps } = brightestLight(shot);
  if (!complete) return 0;
  const placed = lamps.reduce((sum, { lamp, share }) => (isWindow(lamp) ? sum + share : sum), 0);
  return placed + (shot.room?.source === 'window' && shot.room.light ? roomShare : 0);
}

/** A board gives back what it gets. */
function isWindow(place: LampPlace): boolean {
  return (place.bounces ?? place).lamp?.kind?.value === 'window';
}

/** Where the window is said: a window that stands in a place, else what it gives the room. */
function windowPlace({ lit, room, start, end }: Shot): Range {
  return lit.find(isWindow) ?? room?.light ?? { start, end };
}

/** How far the sun's patch goes 2 m from the window: 15° an hour, counted for five hours at most. */
function creepCm(timeS: Seconds): number {
  return 200 * Math.tan(((15 * Math.PI) / 180) * Math.min(timeS / 3600, 5));
}

/** The shots that must match in light, because they stand in one set-up. */
function setUpShots(shot: Shot, film: Film): Shot[] {
  return [...film.shots.values()].filter((one) => one.setUpName?.value === shot.setUpName?.value);
}

/** From the first take to the last, with the time between them. */
function shootingS({ takes, record, resetS, interval }: Shot): Seconds {
  // How daylight goes by is what a time-lapse is filmed for.
  return takes * ((interval ? 0 : (record?.value ?? 0)) + resetS);
}
