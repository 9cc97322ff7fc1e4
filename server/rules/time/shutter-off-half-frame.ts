import { cleanShuttersS, lampRippleHz } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import { effectiveAngleDeg, framesPerStep, shutterForEffectiveAngleS } from '../../calc/shutter.ts';
import { moves, shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, num, shutterText } from '../../core/say.ts';

export default defineRule({
  id: 'shutter-off-half-frame',
  family: 'time',
  summary: 'The exposure of each frame is far from half a frame, so motion stutters or smears.',
  severity: 'warning',
  sources: [
    'common practice, no source (half a frame, 180°)',
    '172.8° at 24 frames/s under 50 Hz lamps is published practice',
  ],
  limits: {
    allow: { quantity: 'angle', default: '40°', meaning: 'How far the shutter angle may be from 180°.' },
  },
  messages: {
    short: '{shot}: {shutter} at {rate} is {angle} where 180° is usual: what moves will stutter.',
    long: '{shot}: {shutter} at {rate} is {angle} where 180° is usual: what moves will smear.',
    played:
      '{shot}: {shutter} at {rate}, played at {speed} in a {edit} film, is {angle} where 180° is usual: what moves will {look}.',
  },
  yieldsTo: ['rate-foreign-to-region'],
  shot(shot, { film, limits, report }) {
    const timeS = shutterSeconds(shot);
    const { rate, shutter } = shot.camera;
    if (timeS === undefined || !rate || !shutter || !moves(shot)) return;
    const fps = rateFps(rate.value);
    // A shutter as long as the frame, or longer, is a setting that no camera has: another rule's business.
    if (timeS * fps > 1 + 1e-9) return;
    const step = stepInFilm(shot, film);
    const angle = effectiveAngleDeg(timeS, fps, step.k);
    if (Math.abs(angle - 180) <= limits.allow + 1e-6) return;
    const short = angle < 180;
    const data = { shot: shot.name, shutter: shutter.text, rate: rate.text, angle: angleText(angle) };
    const common = {
      at: shutter,
      fixes: fixes(shot, film, { fps, k: step.k, timeS, allow: limits.allow }),
      explainedBy: short
        ? (['staccato-motion', 'frozen-motion'] as const)
        : (['smeared-motion', 'flowing-motion'] as const),
    };
    if (step.k > 1) {
      const more = { speed: step.speedText, edit: step.editText, look: short ? 'stutter' : 'smear' };
      report({ message: 'played', data: { ...data, ...more }, ...common });
    } else {
      report({ message: short ? 'short' : 'long', data, ...common });
    }
  },
});

/** The largest step over recorded frames in any piece that uses the shot: it decides what the viewer sees. */
function stepInFilm(shot: Shot, film: Film): { k: number; speedText: string; editText: string } {
  const recorded = shot.camera.rate;
  const edit = film.timeline.rate;
  if (!recorded || !edit) return { k: 1, speedText: '', editText: '' };
  const fastest = shot.pieces.reduce<number>((most, piece) => Math.max(most, Math.abs(piece.speed)), 0) || 1;
  const k = framesPerStep(fastest, rateFps(recorded.value), rateFps(edit.value));
  return { k, speedText: `${num(fastest * 100, 2)} %`, editText: edit.text };
}

/** The shutters nearest to 180° that the camera has: first those without pulses of mains light, then 180° itself. */
function fixes(shot: Shot, film: Film, now: { fps: number; k: number; timeS: number; allow: number }): FixIdea[] {
  const half = shutterForEffectiveAngleS(180, now.fps, now.k);
  const clean = film.mainsHz === undefined ? [] : cleanShuttersS(lampRippleHz(film.mainsHz), now.fps);
  const able = (timeS: number) => inCamera(shot, timeS) && timeS * now.fps <= 1 + 1e-9;
  const near = (timeS: number) => Math.abs(effectiveAngleDeg(timeS, now.fps, now.k) - 180) <= now.allow;
  const best = clean
    .filter((timeS) => able(timeS) && near(timeS))
    .sort((a, b) => Math.abs(a - half) - Math.abs(b - half))[0];
  const choices = [best, half].filter((timeS) => timeS !== undefined && able(timeS));
  const texts = new Set<string>();
  return choices.flatMap((timeS) => {
    const text = shutterText(timeS!);
    if (texts.has(text)) return [];
    texts.add(text);
    const angle = angleText(effectiveAngleDeg(timeS!, now.fps, now.k));
    const steady = timeS === best && film.mainsHz !== undefined ? `, flicker-free at ${film.mainsHz} Hz` : '';
    const price = brighterText(Math.log2(timeS! / now.timeS));
    return [set(`Set shutter to ${text} (${angle}${steady}, ${price})`, [shot.camera, 'shutter', text])];
  });
}

function inCamera(shot: Shot, timeS: number): boolean {
  const range = shot.camera.body?.shutter?.value;
  if (!range || range.from.kind !== 'time' || range.to.kind !== 'time') return true;
  const [least, most] = [Math.min(range.from.s, range.to.s), Math.max(range.from.s, range.to.s)];
  return timeS >= least * 0.93 && timeS <= most * 1.07;
}
