import { duvReference } from '../../calc/temperature.ts';
import { isBlackAndWhite, standsOut, warmerBy, type White, whitesOf } from '../../core/derived/white-points.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import { swapFixes } from './other-lamp-fixes.ts';
import { aboutShare, sameWhite, subjectText } from './white-text.ts';

export default defineRule({
  id: 'lamp-tint-off',
  family: 'colour',
  summary: 'A lamp is greener or more magenta than the key lamp, or than white of its temperature.',
  severity: 'warning',
  sources: [
    'Duv, plus is green: Ohno 2013; ANSI C78.377 (±0.006 for lamps, from memory)',
    'CIE 015 (daylight lies 0.0032 above the Planckian locus)',
    'common practice, no source (0.003 between two lamps is three to four just noticeable steps)',
  ],
  limits: {
    apart: { quantity: 'number', default: '0.003', meaning: 'How far the Duv of two lamps on one face may differ.' },
    off: { quantity: 'number', default: '0.006', meaning: 'How far the Duv of the key lamp may be from white.' },
    share: { quantity: 'share', default: '10 %', meaning: 'Lamps that give less of the light than this do not count.' },
  },
  messages: {
    apart:
      '{shot}: {lamp} has a Duv of {duv}, {key} {keyDuv}: the side that {lamp} lights goes {tint} by {apart}, with {share} of the light on {subject}. The camera can balance only one of them: use lamps of one kind, or a filter that corrects it.',
    off: '{shot}: the key lamp {lamp} has a Duv of {duv} where white of {temperature} has {white}: all will look {tint}. Set the tint of the camera on a grey card under it.',
  },
  shot(shot, { film, limits, report }) {
    const { all, key } = whitesOf(shot);
    const keyDuv = duvOf(key);
    if (!key?.lamp || keyDuv === undefined || isBlackAndWhite(film)) return;
    for (const white of all) {
      const duv = duvOf(white);
      if (white === key || duv === undefined || white.share < limits.share - 1e-6) continue;
      // Lights of different temperature differ in Duv too: that is mixed light, or meant.
      if (standsOut(white) || Math.abs(warmerBy(white, key.mired.from)) > sameWhite + 1e-6) continue;
      const apart = duv - keyDuv;
      if (Math.abs(apart) <= limits.apart + 1e-6) continue;
      const data = {
        shot: shot.name,
        lamp: quoted(white.lamp!.name),
        duv: signed(duv),
        key: quoted(key.lamp.name),
        keyDuv: signed(keyDuv),
        tint: apart > 0 ? 'green' : 'magenta',
        apart: num(Math.abs(apart), 4),
        share: aboutShare(white.share),
        subject: subjectText(shot),
      };
      const nearKey = (near: number | undefined) => near !== undefined && Math.abs(near - keyDuv) <= limits.apart;
      const fixes = swapFixes(white.lamp!, film, (lamp) => nearKey(lamp.duv?.value));
      const { start, end } = white.lamp!;
      const cause = { start, end, as: `beside ${key.lamp.name}` };
      report({ message: 'apart', data, at: white.lamp!, cause, excess: white.share, related: fromKit(white), fixes });
    }
    const off = offWhite(key, keyDuv, limits.off);
    if (off !== undefined) report({ message: 'off', severity: 'info', ...aboutKey(shot, key, keyDuv, film) });
  },
});

function duvOf(white: White | undefined): number | undefined {
  return white?.lamp?.lamp?.duv?.value;
}

function reference({ temperature }: White): number {
  return duvReference(temperature.value.from);
}

function offWhite(key: White, duv: number, allow: number): number | undefined {
  const off = duv - reference(key);
  return Math.abs(off) > allow + 1e-6 ? off : undefined;
}

function aboutKey(shot: Shot, key: White, duv: number, film: Film) {
  const data = {
    shot: shot.name,
    lamp: quoted(key.lamp!.name),
    duv: signed(duv),
    temperature: key.temperature.text,
    white: signed(reference(key)),
    tint: duv > reference(key) ? 'green' : 'magenta',
  };
  const fixes = swapFixes(key.lamp!, film, (lamp) => {
    return lamp.duv !== undefined && offWhite(key, lamp.duv.value, 0.006) === undefined;
  });
  return { data, at: key.lamp!, related: fromKit(key), fixes };
}

function fromKit({ lamp }: White) {
  const duv = lamp?.lamp?.duv;
  return duv ? [{ start: duv.start, end: duv.end, file: duv.file, message: 'as the kit says' }] : [];
}

function signed(duv: number): string {
  return `${duv > 0 ? '+' : ''}${num(duv, 4)}`;
}
