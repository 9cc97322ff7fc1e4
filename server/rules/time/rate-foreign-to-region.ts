import { lampRippleHz } from '../../calc/flicker.ts';
import { isRateOfMains, ratesOfMains, televisionOfCountry } from '../../calc/mains.ts';
import { type Rate, rateFps, sameRate } from '../../calc/rate.ts';
import { mainsLight, mainsSwing } from '../../core/derived/pulses.ts';
import { angleInFilm, halfFrameS, mainsShuttersS, type Stepping, stepping } from '../../core/derived/shutters.ts';
import { moves, shutterSeconds } from '../../core/derived/time.ts';
import type { Deliverable, Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, num, quoted, shutterText } from '../../core/say.ts';
import { framesAlike } from './frames-alike.ts';
import { ratesOfRaster, stepsEvenly } from './rates.ts';
import { shutterFix } from './shutter-fix.ts';
import { mainsNames, withoutMains } from './without-mains-light.ts';

export default defineRule({
  id: 'rate-foreign-to-region',
  family: 'time',
  summary: 'At this frame rate no usable shutter is steady under the lamps, or a broadcaster will not take it.',
  severity: 'warning',
  sources: [
    'ITU-R BT.709-6 (frame rates)',
    'IEC World Plugs (mains by country)',
    'which rates go with which mains: from memory; half a frame: common practice, no source',
  ],
  limits: {
    share: {
      quantity: 'share',
      default: '5 %',
      meaning: 'Part of the light that pulses with the mains, from which it counts.',
    },
    note: { quantity: 'share', default: '2 %', meaning: 'Swing of the brightness from which it counts.' },
    allow: { quantity: 'angle', default: '40°', meaning: 'How far the shutter angle may be from 180°.' },
  },
  messages: {
    lamps:
      '{shot}: at {rate} no shutter {which} is steady under {hz} Hz mains, as {why}, and {lamps} would flicker. Light it with lamps that do not pulse, or record at another rate.',
    broadcast:
      '{deliverable}: for broadcast at {rate}, but broadcasters in {where} usually take {wanted}. Ask them before you shoot, or change the rate.',
  },
  shot(shot, { film, limits, report }) {
    const { rate } = shot.camera;
    const light = mainsLight(shot);
    const step = stepping(shot, film);
    if (!rate || !light || !step || film.mainsHz === undefined || light.share < limits.share) return;
    if (framesAlike(shot, film.mainsHz) || hasSteady(shot, film, step, limits.allow)) return;
    const half = halfFrameS(step);
    const now = shutterSeconds(shot) ?? Math.min(half, 1 / step.fps);
    const off = moves(shot) && Math.abs(angleInFilm(now, step) - 180) > limits.allow + 1e-6;
    const swings = (timeS: number) => mainsSwing(shot, film, timeS)! >= limits.note;
    // Where no shutter at all reaches half a frame, or half a frame is steady enough, the lamps are not to blame.
    if (moves(shot) && (angleInFilm(1 / step.fps, step) < 180 - limits.allow || !swings(half))) return;
    if (!swings(now) && !off) return;
    report({
      message: 'lamps',
      data: {
        shot: shot.name,
        rate: rate.text,
        which: moves(shot) ? 'near half a frame' : 'that the camera has',
        hz: film.mainsHz,
        why: why(step, film.mainsHz),
        lamps: mainsNames(light),
      },
      at: rate,
      fixes: () => [...otherRates(shot, film, limits.allow), ...withoutMains(shot, light)],
      // A steady shutter far from half a frame is a choice that these words explain.
      explainedBy: swings(now) ? [] : angleInFilm(now, step) < 180 ? ['staccato-motion'] : ['smeared-motion'],
    });
  },
  deliverable(deliverable, { film, report }) {
    const { rate, shownOn } = deliverable;
    if (!rate || !shownOn.includes('broadcast')) return;
    const refusing = families(deliverable, film).find(({ hz }) => !isRateOfMains(rate.value, hz));
    if (!refusing) return;
    const wanted = refusing.hz === 50 ? '25 or 50' : '23.976, 29.97 or 59.94';
    report({
      message: 'broadcast',
      data: { deliverable: deliverable.name, rate: rate.text, where: refusing.where, wanted },
      at: rate,
      fixes: () => nearestRate(deliverable, film, refusing.hz),
    });
  },
});

/** Is there a shutter of whole pulses; near half a frame where something moves? */
function hasSteady(shot: Shot, film: Film, step: Stepping, allow: number): boolean {
  const all = mainsShuttersS(shot, film, step.fps);
  return all.some((timeS) => !moves(shot) || Math.abs(angleInFilm(timeS, step) - 180) <= allow + 1e-6);
}

function why(step: Stepping, mainsHz: number): string {
  const pulse = 1 / lampRippleHz(mainsHz);
  if (pulse * step.fps > 1 + 1e-9) return `${shutterText(pulse)}, one pulse, is longer than the frame`;
  const most = Math.min(10_000, Math.floor(lampRippleHz(mainsHz) / step.fps + 1e-9));
  const nearest = Array.from({ length: most }, (_, index) => (index + 1) * pulse).sort(
    (a, b) => Math.abs(angleInFilm(a, step) - 180) - Math.abs(angleInFilm(b, step) - 180),
  )[0]!;
  return `${shutterText(nearest)} is ${angleText(angleInFilm(nearest, step))}`;
}

/** The nearest rates of the kit with a steady shutter near half a frame, at which no piece lacks frames. */
function otherRates(shot: Shot, film: Film, allow: number): FixIdea[] {
  const now = stepping(shot, film)!;
  const apart = (rate: Rate) => Math.abs(Math.log2(rateFps(rate) / now.fps));
  return [...ratesOfRaster(shot)]
    .sort((a, b) => apart(a.value) - apart(b.value))
    .filter((one) => !sameRate(one.value, shot.camera.rate!.value) && stepsEvenly(shot, film, one.value))
    .flatMap((one) => {
      const step = { ...now, fps: rateFps(one.value), k: (now.k * rateFps(one.value)) / now.fps };
      const near = mainsShuttersS(shot, film, step.fps)
        .map((timeS) => ({ timeS, off: Math.abs(angleInFilm(timeS, step) - 180) }))
        .filter(({ off }) => off <= allow + 1e-6)
        .sort((a, b) => a.off - b.off)[0];
      return near ? [shutterFix(shot, film, step, near.timeS, one.text)] : [];
    })
    .slice(0, 2);
}

/** The families of rates that count for a deliverable: of the countries it names, else of the region. */
function families({ territory }: Deliverable, film: Film): { where: string; hz: number }[] {
  const named = territory.flatMap((code) => {
    const hz = code === 'EEA' ? 50 : televisionOfCountry(code);
    return hz === undefined ? [] : [{ where: code, hz }];
  });
  if (named.length > 0) return named;
  const country = film.region?.value.country;
  const hz = (country === undefined ? undefined : televisionOfCountry(country)) ?? film.mainsHz;
  return hz === undefined ? [] : [{ where: country ?? `places with ${num(hz)} Hz mains`, hz }];
}

function nearestRate(deliverable: Deliverable, film: Film, hz: number): FixIdea[] {
  const now = rateFps(deliverable.rate!.value);
  const others = families(deliverable, film);
  const able = ratesOfMains(hz).filter((one) => others.every((family) => isRateOfMains(one, family.hz)));
  const best = able.sort((a, b) => Math.abs(Math.log2(rateFps(a) / now)) - Math.abs(Math.log2(rateFps(b) / now)))[0];
  if (!best) return [];
  const text = num(rateFps(best), 3);
  return [set(`Set rate of ${quoted(deliverable.name)} to ${text}`, [deliverable, 'rate', text])];
}
