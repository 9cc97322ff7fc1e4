import { angleInFilm, stepping, steadyShuttersS } from '../../core/derived/shutters.ts';
import { type Smear, smearOf, turnSeenDegS } from '../../core/derived/motion.ts';
import { shutterSeconds, turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { lengthText, listText, num, pixelsText, quoted, shutterText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { sayMeant } from '../say-meant.ts';
import { shutterFix } from '../time/shutter-fix.ts';
import { shorterSlide, slowerTurn, speedText, subjectText } from './movement-fixes.ts';

export default defineRule({
  id: 'moving-detail-smears',
  family: 'movement',
  summary: 'The turn or the slide smears detail in one exposure that must be seen.',
  severity: 'warning',
  sources: [
    'speed at a radius: 2πr × turns a minute ÷ 60',
    '"Motion Picture", chapter 4: a full picture width in 7 s or more; half of each step is smear at 180°',
    'common practice, no source (a turn of a product in 6 s is everyday; a circle of confusion of 1/1500 of the diagonal for letters)',
    'DOD-HDBK-791(AM), 6-5.3.2.3 (strokes are a sixth to an eighth of the height of letters)',
  ],
  limits: {
    detail: {
      quantity: 'number',
      default: '12',
      meaning: 'Pixels of blur that detail without letters bears, at a picture 1920 pixels long.',
    },
    letters: { quantity: 'number', default: '1.5', meaning: 'Pixels of blur that letters bear, likewise.' },
  },
  messages: {
    smears:
      '{shot}: {subject} moves {px} in {shutter} ({how}; {scale} pixels for each mm in {deliverable}): from {limit} on {detail} goes soft. {way}',
  },
  shot(shot, { film, limits, report }) {
    const { shutter } = shot.camera;
    const smear = smearOf(shot, film, limits.detail, limits.letters);
    if (!shutter || !smear || smear.px <= smear.limitPx * tolerance) return;
    report({
      message: 'smears',
      data: {
        shot: shot.name,
        subject: subjectText(shot),
        px: pixelsText(smear.px),
        shutter: shutter.text,
        how: how(shot, smear),
        scale: num(smear.pxPerMm, 1),
        deliverable: quoted(smear.deliverable.name),
        limit: pixelsText(smear.limitPx),
        detail: shot.subject.letters ? 'what is written on it' : 'its detail',
        way: wayText(shot, film, smear),
      },
      at: culprit(shot, smear),
      excess: smear.px / smear.limitPx,
      // Whoever turns a thing without letters wants to see it turn.
      severity: !shot.subject.letters || isSlight(shot, smear) ? 'info' : undefined,
      explainedBy: ['smeared-motion', 'flowing-motion'],
      fixes: () => fixes(shot, film, smear),
    });
  },
});

/** Letters can be read through a blur of half their strokes, which are an eighth of their height. */
function isSlight({ subject: { letters } }: Shot, { px, pxPerMm }: Smear): boolean {
  return letters !== undefined && px <= (letters.value * pxPerMm) / 16 + 1e-6;
}

/** A seventh more is seen by nobody, and a seventh less of a move is no cure. */
const tolerance = 1.15;

function how(shot: Shot, { radiusMm, turnMmS, slideMmS }: Smear): string {
  const rpm = Math.abs(turnSeenDegS(shot)) / 6;
  const turn = `${num(rpm, 2)} rpm, ${lengthText(radiusMm)} from the axis`;
  const slide = `${shot.action?.moves === 'subject' ? 'it passes' : 'the camera slides'} at ${speedText(slideMmS)}`;
  return listText([...(turnMmS > 0 ? [turn] : []), ...(slideMmS > 0 ? [slide] : [])]);
}

/** A shutter that is short enough makes what moves stutter where it is far from half a frame. */
function wayText(shot: Shot, film: Film, smear: Smear): string {
  const step = stepping(shot, film);
  const longest = longestS(shot, smear);
  const meant = 'or say that the blur is meant (`smeared-motion`)';
  if (!step || 180 - angleInFilm(longest, step) <= allowDeg) return `Move it slower, expose shorter, ${meant}.`;
  const sharp = shutterText(1 / Math.ceil(1 / longest));
  return `Move it slower, ${meant}: a shutter of ${sharp} is sharp, but makes it stutter.`;
}

/** How far from half a frame a shutter may be before that is seen. */
const allowDeg = 40;

/** The longest shutter that keeps the detail. */
function longestS(shot: Shot, { px, limitPx }: Smear): Seconds {
  return (shutterSeconds(shot) ?? 0) * (limitPx / px);
}

/** The faster of the movements. */
function culprit(shot: Shot, { turnMmS, slideMmS }: Smear) {
  const { turn, camera } = shot;
  if (slideMmS >= turnMmS && camera.slide) return camera.slide;
  if (turningRpm(shot) !== 0) return turn?.speed ?? turn?.by ?? shot;
  return camera.angle ?? shot;
}

/** The faster movement slowed down until the sum holds, then a shutter that still is about half a frame. */
function fixes(shot: Shot, film: Film, smear: Smear): FixIdea[] {
  const { turnMmS, slideMmS, px, limitPx } = smear;
  const allowed = (turnMmS + slideMmS) * (limitPx / px);
  const slower =
    slideMmS >= turnMmS
      ? slowed(shot, (allowed - turnMmS) / slideMmS, shorterSlide)
      : shot.camera.angle
        ? []
        : slowed(shot, (allowed - slideMmS) / turnMmS, slowerTurn);
  return [...slower, ...shorterShutter(shot, film, smear), ...sayMeant(shot, 'smeared-motion', 'the blur')];
}

/** What is slowed down by much is another shot, unless it is there to be read: a top that spins is not to creep. */
function slowed(shot: Shot, part: number, make: (shot: Shot, part: number) => FixIdea[]): FixIdea[] {
  return part > (shot.subject.letters ? 0 : leastPart) ? make(shot, part) : [];
}

const leastPart = 0.2;

/** As far from half a frame as nobody sees. */
function shorterShutter(shot: Shot, film: Film, smear: Smear): FixIdea[] {
  const step = stepping(shot, film);
  const longest = longestS(shot, smear) * (1 + 1e-9);
  const timeS = step && steadyShuttersS(shot, film, step, allowDeg).find((one) => one <= longest);
  return step && timeS !== undefined ? [shutterFix(shot, film, step, timeS)] : [];
}
