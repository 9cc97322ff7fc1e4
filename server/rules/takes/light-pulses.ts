import { beatHz, lampRippleHz, swingStops } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import type { PulseFound } from '../../calc/pulse.ts';
import { decodedTake, isMeantToChange, plannedAt, takeAgain } from '../../core/derived/decoded-takes.ts';
import { mainsLight, pulsedLights, screenPulses } from '../../core/derived/pulses.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listFirst, num, percentText, quoted } from '../../core/say.ts';
import type { Hertz } from '../../core/units.ts';

export default defineRule({
  id: 'light-pulses',
  family: 'takes',
  summary: 'The brightness of a recorded clip pulses, as light does that the shutter does not average.',
  severity: 'warning',
  sources: [
    'discrete Fourier transform under Hann’s window, of the brightness of each part of the picture',
    'aliasing: a ripple of F at a frame rate R beats |F − nR| times a second',
    'how much is seen: common practice, no source',
  ],
  limits: {
    note: { quantity: 'share', default: '2 %', meaning: 'Swing of the brightness from which it is worth knowing.' },
    allow: { quantity: 'share', default: '5 %', meaning: 'Swing of the brightness from which it is a warning.' },
  },
  messages: {
    pulses:
      '{clip}: the picture gets brighter and darker by {swing} ({stops} stop), {beat} times a second. {cause} Find a shutter with which a test stands still, and {again}.',
  },
  take(take, { film, footage, limits, report }) {
    const found = decodedTake(take, footage);
    const pulse = found?.decoded.picture?.pulse;
    if (!found || !pulse || pulse.swing < limits.note) return;
    const shot = take.asSet ?? take.shot;
    if (shot && (isMeantToChange(shot) || shot.interval)) return;
    report({
      message: 'pulses',
      data: {
        clip: quoted(found.clip.text),
        swing: percentText(pulse.swing, 1),
        stops: num(swingStops(pulse.swing), 2),
        beat: num(pulse.hz, 1),
        cause: shot ? causeText(shot, film, pulse, found.decoded.picture!.fps) : '',
        again: takeAgain,
      },
      at: found.clip,
      severity: pulse.swing < limits.allow ? 'info' : 'warning',
      excess: pulse.swing,
      shot: take.shot,
      related: plannedAt(shot?.camera.shutter),
    });
  },
});

interface Expected {
  readonly name: string;
  readonly hz: Hertz;
  readonly beat: Hertz;
}

/** What of the plan beats at this rate, beside what was measured. */
function causeText(shot: Shot, film: Film, { hz }: PulseFound, fps: number): string {
  // A camera that slows the clip itself plays the beat slower, too.
  const taken = shot.camera.rate ? rateFps(shot.camera.rate.value) : fps;
  const all = sources(shot, film).map((one): Expected => ({ ...one, beat: (beatHz(one.hz, taken) * fps) / taken }));
  const cause = all.find(({ beat }) => Math.abs(beat - hz) < Math.max(0.3, 0.05 * hz));
  if (cause) {
    const at = `${num(cause.hz, 1)} times a second at ${num(taken, 2)} frames a second`;
    return `That is the beat of ${cause.name}: ${at}.`;
  }
  const others = all.map(({ name, beat }) => `${name} would beat ${num(beat, 1)} times`);
  const planned = others.length > 0 ? ` (${listFirst(others, 3)})` : '';
  return `Nothing that is planned beats so${planned}: look for another lamp, a screen or a window.`;
}

function sources(shot: Shot, film: Film): { readonly name: string; readonly hz: Hertz }[] {
  const mains = mainsLight(shot);
  const screen = screenPulses(shot);
  const ofMains =
    film.mainsHz === undefined || !mains ? [] : [{ name: 'light on mains', hz: lampRippleHz(film.mainsHz) }];
  const ofLamps = pulsedLights(shot).map(({ lamp, hz }) => ({ name: quoted(lamp.name), hz }));
  return [...ofMains, ...ofLamps, ...(screen ? [{ name: 'the screen', hz: screen.hz }] : [])];
}
