import { markedFNumbers, nearestMark, signalToNoise } from '../../calc/exposure.ts';
import { faceLight, hasIso } from '../../core/derived/light.ts';
import { baseIsoFor, cleanIso, linePixelUm } from '../../core/derived/noise.ts';
import type { Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { apertureText, listText, num, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Stops } from '../../core/units.ts';

export default defineRule({
  id: 'iso-off-base',
  family: 'exposure',
  summary: 'ISO is so far above the base that the picture is noisy, or below it, so that highlights burn out early.',
  severity: 'warning',
  sources: [
    'ISO 12232 (10 ÷ ISO lx·s; signal to noise of 40 excellent, 10 acceptable)',
    '4000 electrons for each lx·s·µm²: an estimate, good to about a stop, from memory',
  ],
  limits: {
    clean: {
      quantity: 'number',
      default: '30',
      meaning: 'Signal to noise under which it is worth knowing, where the kit has no `noisy-above`.',
    },
    noisy: {
      quantity: 'number',
      default: '21',
      meaning: 'Signal to noise under which it is a warning, where the kit has no `noisy-above`.',
    },
  },
  messages: {
    above:
      '{shot}: ISO {iso} is {stops} over the base of {base}, and the kit calls it noisy above {above}. More light or a wider aperture allows less.',
    noisy:
      '{shot}: ISO {iso} is {stops} over the base of {base}: middle grey is about {snr} times its noise in a picture of 1080 lines (40 looks clean). More light or a wider aperture allows less.',
    low: '{shot}: ISO {iso} is {stops} under the base of {base}: highlights burn out that much earlier. Use {base} with a filter or less light.',
  },
  yieldsTo: ['exposure-off'],
  shot(shot, { film, limits, report }) {
    const { iso, body } = shot.camera;
    // Shots in one light, with an ISO of each, are told of once.
    const cause = (as: string) => ({ start: film.product.start, end: film.product.end, as, isWide: true });
    const base = typeof iso?.value === 'number' ? baseIsoFor(body, iso.value) : undefined;
    if (!iso || typeof iso.value !== 'number' || !base || !hasIso(shot)) return;
    const stops = Math.log2(iso.value / base);
    const data = { shot: shot.name, iso: iso.text, stops: stopsText(stops), base };
    if (stops < -0.1) {
      report({
        message: 'low',
        data,
        at: iso,
        severity: 'info',
        cause: cause('low'),
        excess: -stops,
        fixes: () => changeIso(shot, base),
      });
      return;
    }
    const common = {
      at: iso,
      cause: cause('noisy'),
      excess: stops,
      fixes: () => changeIso(shot, cleanIso(shot, film, base)),
      explainedBy: ['grain'] as const,
    };
    const own = body?.noisyAbove?.value;
    // Who has said from where on the camera is noisy has looked at it, and needs no estimate.
    if (own !== undefined) {
      if (iso.value > own) report({ message: 'above', data: { ...data, above: own }, ...common });
      return;
    }
    const pixelUm = stops < 2 - 1e-6 ? undefined : linePixelUm(shot, film);
    const snr = pixelUm === undefined ? Infinity : signalToNoise(iso.value, pixelUm);
    if (snr >= limits.clean) return;
    const severity = snr < limits.noisy ? 'warning' : 'info';
    report({ message: 'noisy', data: { ...data, snr: num(snr, 0) }, severity, ...common });
  },
});

/** Another ISO, with lamps, then aperture, that keep the exposure as it is. */
function changeIso(shot: Shot, to: number): FixIdea[] {
  const now = shot.camera.iso!.value as number;
  if (to === now) return [];
  const needs = Math.log2(now / to);
  return [...byLevel(shot, to, needs), ...byAperture(shot, to, needs)];
}

function byLevel(shot: Shot, to: number, needs: Stops): FixIdea[] {
  const lamps = faceLight(shot, 0)
    .lamps.filter((one) => one.lux > 0)
    .map((one) => one.lamp);
  const settings = lamps.map((lamp) => ({
    lamp,
    level: Math.round((lamp.level?.value.from ?? 1) * 2 ** needs * 100) / 100,
  }));
  const able = settings.every(
    ({ lamp, level }) =>
      level <= 1 && level >= (lamp.lamp?.level?.value.from ?? 0.1) && !lamp.changes && !lamp.measured,
  );
  if (settings.length === 0 || !able) return [];
  const names = listText(settings.map(({ lamp, level }) => `${quoted(lamp.name)} to ${percentText(level)}`));
  return [
    set(
      `Set ISO to ${to} and level of ${names} (as bright)`,
      [shot.camera, 'iso', String(to)],
      ...settings.map(({ lamp, level }) => [lamp, 'level', percentText(level)] as const),
    ),
  ];
}

function byAperture(shot: Shot, to: number, needs: Stops): FixIdea[] {
  const { aperture, lens } = shot.camera;
  const range = lens?.aperture?.value;
  if (typeof aperture?.value !== 'number' || !range) return [];
  const fNumber = nearestMark(aperture.value / 2 ** (needs / 2), markedFNumbers);
  if (fNumber < range.from - 1e-9 || fNumber > range.to + 1e-9) return [];
  const text = apertureText(fNumber);
  const depth = needs > 0 ? 'shallower' : 'deeper';
  return [
    set(
      `Set ISO to ${to} and aperture to ${text} (as bright, ${depth} focus)`,
      [shot.camera, 'iso', String(to)],
      [shot.camera, 'aperture', text],
    ),
  ];
}
