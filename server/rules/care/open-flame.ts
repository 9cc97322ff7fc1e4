import type { Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';
import { allSaid, careful } from './caution-text.ts';

export default defineRule({
  id: 'open-flame',
  family: 'care',
  summary: 'Something burns with an open flame in a shot.',
  severity: 'warning',
  sources: ['common practice, no source'],
  messages: {
    burns:
      '{shot}: {lamps} {burn} with an open flame. Somebody watches it from lighting until it is cold and does nothing else, with a lid and a fitting extinguisher in reach; it stands firmly, nothing hangs over it, and packing, hair and sleeves stay away. Let fresh air in.{said} {closing}',
  },
  shot(shot, { film, report }) {
    const burning = flames(shot);
    const [first] = burning;
    if (!first || allSaid(film, precautions)) return;
    const { severity, data } = careful(film, 'fire', precautions);
    const lamps = listText(burning.map(({ name }) => quoted(name)));
    const burn = burning.length > 1 ? 'burn' : 'burns';
    report({
      message: 'burns',
      severity,
      data: { shot: shot.name, lamps, burn, ...data },
      at: first,
      cause: oneFilm,
      excess: burning.length,
    });
  },
});

/** Whatever burns in which of its shots, it is one caution; it stands where most burns. */
const oneFilm = { start: 0, end: 0, as: 'flame', isWide: true };

/** Air for the sake of the breath is on the sheet. */
const precautions = ['flame-watched', 'flame-kept-away'];

export function flames({ lit }: Shot): Shot['lit'] {
  return lit.filter(({ lamp }) => lamp?.kind?.value === 'flame');
}
