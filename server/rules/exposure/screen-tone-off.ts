import { screenContrast, screenStops, spillLimitLux } from '../../calc/exposure.ts';
import { exposureSettings } from '../../core/derived/light.ts';
import { backdropLight } from '../../core/derived/backdrop-light.ts';
import type { Backdrop, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { luxText, num, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Stops } from '../../core/units.ts';

export default defineRule({
  id: 'screen-tone-off',
  family: 'exposure',
  summary: 'A screen behind the product will be burnt out, muddy, or washed out by the lamps.',
  severity: 'warning',
  sources: [
    'ISO 2720 (reflected light, K = 12.5)',
    'ambient contrast ratio (IDMS, from memory)',
    'a matt screen gives back 3 % and its black is a thousandth of its white: common practice, no source',
  ],
  limits: {
    white: { quantity: 'stops', default: '2.5 stops', meaning: "How far the screen's white may be over middle grey." },
    dull: { quantity: 'stops', default: '-1 stop', meaning: "How far the screen's white may be under middle grey." },
    contrast: { quantity: 'number', default: '20', meaning: 'The least contrast of the screen with the lamps on it.' },
  },
  messages: {
    burns: '{shot}: the white of {screen}, {nits} cd/m², comes out {stops} over middle grey and burns out. {way}',
    muddy:
      '{shot}: the white of {screen}, {nits} cd/m², comes out {stops} under middle grey: its picture is muddy. Make the screen brighter, or light the product less and open up.',
    washed:
      '{shot}: {lux} of lamp light on {screen} leaves {contrast}:1 between its white and its black, and it looks like fog. Keep the light on it under {limit}: turn the lamps aside, shade the screen or put it farther back.',
  },
  shot(shot, { limits, report }) {
    const { backdrop } = shot;
    const screen = backdrop?.screen;
    const settings = exposureSettings(shot);
    const level = backdrop?.brightness?.value ?? 1;
    if (!backdrop || !screen?.white || level <= 0) return;
    const nits = screen.white.value * level;
    const at = backdrop.brightness ?? backdrop.screenName!;
    const data = { shot: shot.name, screen: quoted(screen.name), nits: num(nits, 0) };
    // One screen is set once.
    const cause = (as: string) => ({ start: at.start, end: at.end, as });
    const stops = settings && screenStops(screen.white.value, level, settings);
    if (stops !== undefined && stops > limits.white + 1e-6) {
      const to = Math.floor(level * 2 ** (2 - stops) * 100) / 100;
      const way =
        to >= 0.05 ? `At ${percentText(to)} it is 2 stops over.` : 'Put a filter on the lens and turn the lamps up.';
      const fixes = to >= 0.05 ? [brightness(backdrop, to, '2 stops over middle grey')] : [];
      report({
        message: 'burns',
        data: { ...data, stops: stopsText(stops), way },
        at,
        cause: cause('burns'),
        excess: stops,
        fixes,
        explainedBy: ['high-key'],
      });
    } else if (stops !== undefined && stops < limits.dull - 1e-6) {
      const fixes = brighter(backdrop, level, stops);
      report({
        message: 'muddy',
        data: { ...data, stops: stopsText(stops) },
        at,
        cause: cause('muddy'),
        excess: -stops,
        fixes,
        explainedBy: ['low-key'],
      });
    }
    const spill = backdropLight(shot, 0);
    if (!spill?.complete) return;
    const contrast = screenContrast(nits, spill.totalLux);
    if (contrast >= limits.contrast * (1 - 1e-6)) return;
    const limit = luxText(spillLimitLux(nits, limits.contrast));
    const more = { lux: luxText(spill.totalLux), contrast: ratioText(contrast), limit };
    report({
      message: 'washed',
      data: { ...data, ...more },
      at,
      cause: cause('washed'),
      excess: limits.contrast / contrast,
      fixes: raised(shot, backdrop, spill.totalLux, limits),
    });
  },
});

function ratioText(contrast: number): string {
  return num(contrast, contrast < 10 ? 1 : 0);
}

function brightness(backdrop: Backdrop, to: number, result: string): FixIdea {
  return set(`Set the screen to ${percentText(to)} (${result})`, [backdrop, 'brightness', percentText(to)]);
}

/** As bright as the screen goes, at most two stops over middle grey. */
function brighter(backdrop: Backdrop, level: number, stops: Stops): FixIdea[] {
  const to = Math.min(1, Math.ceil(level * 2 ** -stops * 100) / 100);
  const after = stops + Math.log2(to / level);
  return after >= -1
    ? [brightness(backdrop, to, `${stopsText(after)} ${after < 0 ? 'under' : 'over'} middle grey`)]
    : [];
}

/** A brighter screen, where that is enough against the lamps and does not burn. */
function raised(shot: Shot, backdrop: Backdrop, lux: number, limits: { white: number; contrast: number }): FixIdea[] {
  const white = backdrop.screen!.white!.value;
  const level = backdrop.brightness?.value ?? 1;
  const settings = exposureSettings(shot);
  for (let to = Math.floor(level * 100) / 100 + 0.01; to <= 1 + 1e-9; to += 0.01) {
    if (settings && screenStops(white, to, settings) > limits.white) return [];
    const contrast = screenContrast(white * to, lux);
    if (contrast >= limits.contrast) return [brightness(backdrop, to, `${num(contrast, 0)}:1`)];
  }
  return [];
}
