import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { lengthText, listText, quoted } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';
import { hasCable, leastFromProductMm } from './placement.ts';
import { allSaid, careful } from './caution-text.ts';
import { isDrop } from './liquid-amount.ts';

export default defineRule({
  id: 'liquid-near-mains',
  family: 'care',
  summary: 'Liquid is near mains lamps, screens or cables, or nothing cuts the power on leakage.',
  severity: 'warning',
  sources: ['residual-current protection of 30 mA: IEC 60364-4-41 (from memory)', '1.5 m: common practice, no source'],
  limits: {
    distance: { quantity: 'length', default: '1.5 m', meaning: 'Distance from liquid to mains that is asked for.' },
    least: { quantity: 'number', default: '10', meaning: 'Millilitres from which a liquid can reach a socket.' },
  },
  messages: {
    near: 'The product holds liquid, and {gear} on mains {are} within {distance} of it. Move them back or run them on battery, raise cables and sockets off the floor with a drip loop, and touch them with dry hands only.{residual}{said} {closing}',
    cable:
      'The product holds liquid, and {gear} {are} on mains. Splashes reach farther than planned: raise cables and sockets off the floor with a drip loop.{residual}{said} {closing}',
  },
  film(film, { limits, report }) {
    const liquid = film.product.hazards.find((val) => val.value === 'liquid');
    const gear = liquid && !isDrop(film, limits.least) ? mainsGear(film) : [];
    if (!liquid || gear.length === 0) return;
    const fitted = film.care?.residualCurrent?.value === 'fitted';
    const { severity, data } = careful(film, 'electric', precautions);
    const near = gear.filter((one) => one.distanceMm < limits.distance * (1 - 1e-6));
    if (fitted && (near.length === 0 || allSaid(film, precautions))) return;
    const listed = near.length > 0 ? near : gear;
    const text = listText(listed.map((one) => one.text));
    report({
      message: near.length > 0 ? 'near' : 'cable',
      severity,
      data: {
        gear: text,
        are: listed.length === 1 ? 'is' : 'are',
        distance: lengthText(limits.distance),
        residual: fitted ? '' : ' Nothing says that a residual-current device (30 mA) is fitted.',
        ...data,
      },
      at: liquid,
    });
  },
});

const precautions = ['mains-kept-dry', 'drip-tray'];

interface MainsGear {
  readonly text: string;
  readonly distanceMm: Mm;
}

/** Lamps and screens on mains in any shot, each with its least distance from the product. */
function mainsGear(film: Film): MainsGear[] {
  const nearest = new Map<string, Mm>();
  for (const shot of film.shots.values()) {
    for (const { name, distanceMm } of gearOf(shot)) {
      nearest.set(name, Math.min(distanceMm, nearest.get(name) ?? Infinity));
    }
  }
  return [...nearest].map(([name, distanceMm]) => ({
    text: Number.isFinite(distanceMm) ? `${quoted(name)} (${lengthText(distanceMm)})` : quoted(name),
    distanceMm,
  }));
}

function gearOf(shot: Shot): { name: string; distanceMm: Mm }[] {
  const { lit, backdrop } = shot;
  const lamps = lit.flatMap((place) => {
    if (!place.lamp || !hasCable(place)) return [];
    return [{ name: place.name, distanceMm: leastFromProductMm(shot, place) ?? Infinity }];
  });
  if (!backdrop?.screen) return lamps;
  return [...lamps, { name: backdrop.screen.name, distanceMm: backdrop.behind?.value ?? Infinity }];
}
