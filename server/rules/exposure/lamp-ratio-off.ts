import { distanceForGainM, distanceGain, luxOnFace } from '../../calc/light.ts';
import { once } from '../../core/derived/memo.ts';
import { lampSize, levelAt, outputLuxAt1m } from '../../core/derived/light.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, luxText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Lux, Stops } from '../../core/units.ts';

export default defineRule({
  id: 'lamp-ratio-off',
  family: 'exposure',
  summary: 'Key and fill are not as far apart as the plan says.',
  severity: 'warning',
  sources: [
    'inverse square law',
    'common practice, no source (half a stop changes the modelling; ratio of key to fill alone)',
  ],
  limits: {
    allow: { quantity: 'stops', default: '0.5 stops', meaning: 'How far the ratio may be from what is wanted.' },
  },
  messages: {
    off: '{shot}: {key} gives {keyLux} and {fill} {fillLux}, {found} where the plan says {wanted}. {fill} should give {should}.',
    reversed:
      '{shot}: {fill} is the fill and gives {fillLux}, more than the {keyLux} of {key}, which is the key. Turn it down, or exchange their roles.',
  },
  shot(shot, { limits, report }) {
    const key = strongest(shot, 'key');
    const fill = strongest(shot, 'fill');
    if (!key || !fill) return;
    const found = Math.log2(key.lux / fill.lux);
    const wanted = shot.keyToFill?.value;
    const data = () => ({
      shot: shot.name,
      key: quoted(key.lamp.name),
      keyLux: luxText(key.lux),
      fill: quoted(fill.lamp.name),
      fillLux: luxText(fill.lux),
    });
    const at = fill.lamp.level ?? fill.lamp;
    if (wanted !== undefined) {
      if (Math.abs(found - wanted) <= limits.allow + 1e-6) return;
      const more = { found: apart(found), wanted: stopsText(wanted), should: luxText(key.lux / 2 ** wanted) };
      report({ message: 'off', data: { ...data(), ...more }, at, fixes: fillBy(fill.lamp, found - wanted) });
    } else if (found < -0.1) {
      report({ message: 'reversed', data: data(), at, fixes: fillBy(fill.lamp, found - 1) });
    }
  },
});

function apart(stops: Stops): string {
  return `${stopsText(stops)} apart${stops < -0.05 ? ', the wrong way round,' : ''}`;
}

/** The lamp of a role that gives most, measured toward the lamp, as a meter in the hand is pointed. */
function strongest(shot: Shot, role: string): { lamp: LampPlace; lux: Lux } | undefined {
  const all = shot.lit
    .filter((lamp) => lamp.role?.value === role && lamp.aim === 'product' && !lamp.changes)
    .map((lamp) => ({ lamp, lux: luxToward(lamp) }));
  if (all.length === 0 || all.some((one) => one.lux === undefined || one.lux <= 0)) return undefined;
  return all.reduce((best, one) => (one.lux! > best.lux! ? one : best)) as { lamp: LampPlace; lux: Lux };
}

/** The same for every shot that lights the lamp. */
const luxToward = once((lamp: LampPlace): Lux | undefined => {
  if (lamp.measured) return lamp.measured.value;
  const at1m = outputLuxAt1m(lamp);
  const distanceMm = lamp.distance?.value.from;
  if (at1m === undefined || !distanceMm) return undefined;
  const lostStops = lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0);
  const level = levelAt(lamp, 0);
  if (level === undefined) return undefined;
  return luxOnFace({ ...lampSize(lamp), luxAt1m: at1m, level, distanceM: distanceMm / 1000, angleDeg: 0, lostStops });
});

/** The fill by its level, else by its distance: the key stays, so that the exposure holds. */
function fillBy(fill: LampPlace, stops: Stops): FixIdea[] {
  if (fill.measured) return [];
  const level = Math.round((fill.level?.value.from ?? 1) * 2 ** stops * 100) / 100;
  const range = fill.lamp?.level?.value ?? { from: 0.05, to: 1 };
  if (level >= range.from && level <= range.to) {
    const text = percentText(level);
    return [set(`Set level of ${quoted(fill.name)} to ${text}`, [fill, 'level', text])];
  }
  const size = lampSize(fill);
  const distance = fill.distance!.value.from / 1000;
  const toM = distanceForGainM(size, distanceGain(size, distance) * 2 ** stops);
  if (toM === undefined || toM < 0.2 || toM > 4) return [];
  const text = lengthText(Math.round(toM * 100) * 10);
  return [set(`Move ${quoted(fill.name)} to ${text}`, [fill, 'distance', text])];
}
