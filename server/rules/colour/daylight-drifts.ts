import { brightestLight } from '../../core/derived/whites.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { hoursText, num, quoted, stopsText } from '../../core/say.ts';
import type { Seconds, Share } from '../../core/units.ts';
import { aboutShare, subjectText } from './words.ts';

export default defineRule({
  id: 'daylight-drifts',
  family: 'colour',
  summary: 'A window is part of the light for longer than daylight stays the same.',
  severity: 'info',
  sources: [
    'the sun moves 15° an hour (360° in 24 h)',
    'common practice, no source (20 minutes, a tenth of the light)',
  ],
  limits: {
    longest: { quantity: 'real-time', default: '20 min', meaning: 'How long daylight may be counted on.' },
    share: { quantity: 'share', default: '10 %', meaning: 'A window that gives less of the light does not count.' },
  },
  messages: {
    drifts:
      '{shot}: the window gives {share} of the light on {subject}, and shooting{where} goes on for {time}: a cloud changes daylight by a stop in a minute, and a patch of sun 2 m from the window moves by {creep} in that time. Shut it out, or film in one go what must match.',
  },
  looksAround: (shot, { limits }) => windowShare(shot) >= limits.share - 1e-6,
  shot(shot, { film, limits, report }) {
    const share = windowShare(shot);
    if (share < limits.share - 1e-6) return;
    const together = setUpShots(shot, film);
    const timeS = together.reduce((sum, one) => sum + shootingS(one), 0);
    if (timeS <= limits.longest + 1e-6) return;
    const data = {
      shot: shot.name,
      share: aboutShare(share),
      subject: subjectText(shot),
      where: shot.setUp ? ` in ${quoted(shot.setUp.name)}` : '',
      time: hoursText(timeS),
      creep: `${num(creepCm(timeS), 0)} cm`,
    };
    report({ message: 'drifts', data, at: shot.room?.light ?? shot, fixes: () => shutOut(shot, share, limits.share) });
  },
});

/** How much of the light comes through a window; none where that is not known. */
function windowShare(shot: Shot): Share {
  if (shot.room?.source !== 'window' || !shot.room.light) return 0;
  const { complete, roomShare } = brightestLight(shot);
  return complete ? roomShare : 0;
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
function shootingS({ takes, record, resetS }: Shot): Seconds {
  return takes * ((record?.value ?? 0) + resetS);
}

/** So far that what is left of the window (blinds are never tight) is under the limit. */
function shutOut({ room }: Shot, share: number, allow: number): FixIdea[] {
  if (!room?.light || share >= 0.95) return [];
  const left = 0.9 * allow;
  const exact = (room.light.value * (left / (1 - left)) * (1 - share)) / share;
  const step = 10 ** Math.max(0, Math.floor(Math.log10(exact)) - 1);
  const lux = Math.floor(exact / step) * step;
  if (lux < 1) return [];
  const price = stopsText(Math.log2((1 - share) / (1 - left)));
  return [set(`Shut out the window but for ${lux} lx (${price} darker)`, [room, 'light', `${lux} lx`])];
}
