import { bands } from '../../calc/flicker.ts';
import { type PulsedLight, pulsedLights, pulsedSwing, untestedPulses, worstDim } from '../../core/derived/pulses.ts';
import { stepping, steadyShuttersS } from '../../core/derived/shutters.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { groupedText, num, percentText, quoted } from '../../core/say.ts';
import type { Seconds, Share } from '../../core/units.ts';
import { shutterFix } from './shutter-fix.ts';

export default defineRule({
  id: 'pulsed-light-bands',
  family: 'time',
  summary: 'A lamp that pulses is cut unevenly by the shutter: bands or flicker.',
  severity: 'warning',
  sources: [
    'arithmetic of a rectangular wave',
    'the 1.25 kHz and 3 kHz of IEEE 1789-2015 are about eyes, not cameras',
    'lamp clocks are good to about 1 %: common practice, no source',
  ],
  limits: {
    note: { quantity: 'share', default: '2 %', meaning: 'Swing of the brightness from which it is worth knowing.' },
    allow: { quantity: 'share', default: '5 %', meaning: 'Swing of the brightness from which it is a warning.' },
  },
  messages: {
    bands:
      '{shot}: {lamp} at {level} pulses {hz} times a second, and {shutter} holds {pulses} of its pulses: {whose} brightness swings by up to {swing}{bands}. {cure}',
    untested:
      '{shot}: {lamp} pulses {hz} times a second where it is dimmed, and {shutter} is less than one pulse. At full level it may be steady, which the kit does not say: make a test take, or leave it out. It gives {share} of the light.',
    split:
      '{shot}: {lamp} flashes for less than the {readout} ms in which the sensor is read: some frames are lit in part only, others not at all. Use a steady lamp, or a camera that reads all lines at once.',
  },
  shot(shot, { film, limits, report }) {
    const timeS = shutterSeconds(shot);
    const { shutter, mode } = shot.camera;
    if (timeS === undefined || !shutter) return;
    const readoutS = mode?.readout?.value;
    for (const lamp of shot.lit.filter(isStrobe)) {
      if (!readoutS) continue;
      const data = { shot: shot.name, lamp: quoted(lamp.name), readout: num(readoutS * 1000, 1) };
      report({ message: 'split', data, at: lamp.flashes!, related: [] });
    }
    for (const { lamp, hz, share } of untestedPulses(shot, timeS)) {
      if (share < untestedShare) continue;
      const data = { shot: shot.name, lamp: quoted(lamp.name), hz: groupedText(hz), shutter: shutter.text };
      report({
        message: 'untested',
        severity: 'info',
        data: { ...data, share: `about ${num(share * 100, 0)} %` },
        at: shutter,
        cause: { start: shutter.start, end: shutter.end, as: `untested ${lamp.name}` },
      });
    }
    for (const light of pulsedLights(shot).filter((one) => !isStrobe(one.lamp))) {
      const { duty, ripple, swing } = worstDim(light, timeS);
      const isSeen = light.lamp.role?.value === 'practical';
      if (swing < limits.note * (1 - 1e-6)) continue;
      const count = readoutS === undefined ? 0 : bands(light.hz, readoutS);
      report({
        message: 'bands',
        data: {
          shot: shot.name,
          lamp: quoted(light.lamp.name),
          level: percentText(duty),
          hz: groupedText(light.hz),
          shutter: shutter.text,
          pulses: num(light.hz * timeS, 1),
          whose: isSeen ? 'its own' : "the picture's",
          swing: percentText(swing, 1),
          bands: count >= 50 ? ' in fine lines' : count >= 1.5 ? ` in about ${num(count, 0)} bands` : '',
          cure: ripple === 0 ? 'At full level it would not pulse.' : 'Take a lamp that is steady.',
        },
        at: shutter,
        excess: swing,
        severity: swing < limits.allow * (1 - 1e-6) ? 'info' : 'warning',
        fixes: () => [...steadier(shot, film, light, swing), ...(ripple === 0 ? brighter(light.lamp, duty) : [])],
      });
    }
  },
});

/** A lamp that gives less of the light makes no band that is seen. */
const untestedShare = 0.1;

/** A flash tube gives its light in a few milliseconds at most. */
function isStrobe(lamp: LampPlace): boolean {
  return lamp.flashes !== undefined && lamp.lamp?.kind?.value === 'flash';
}

/** The best shutter near half a frame, where it is clearly better. */
function steadier(shot: Shot, film: Film, light: PulsedLight, swing: number): FixIdea[] {
  const step = stepping(shot, film);
  if (!step) return [];
  const left = (timeS: Seconds) => pulsedSwing(light, timeS);
  const best = steadyShuttersS(shot, film, step, 40).filter((timeS) => left(timeS) < swing * 0.67);
  return best.slice(0, 1).map((timeS) => {
    const fix = shutterFix(shot, film, step, timeS);
    return { ...fix, title: fix.title.replace(/\)$/, `, swing ${percentText(left(timeS), 1)} at worst)`) };
  });
}

function brighter(lamp: LampPlace, duty: Share): FixIdea[] {
  if (lamp.changes) return [];
  const stops = num(Math.log2(1 / duty), 1);
  return [
    set(`Set level of ${quoted(lamp.name)} to 100 % (no pulses, its light ${stops} stops brighter)`, [
      lamp,
      'level',
      '100 %',
    ]),
  ];
}
