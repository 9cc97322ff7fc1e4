import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'takes-use-up-stock',
  family: 'logistics',
  summary: 'The takes use up more of the product than there is.',
  severity: 'error',
  sources: ['takes × what one take uses up'],
  messages: {
    short: '{shots} {use} up {needed} of the product, and there {are} {units}. Plan fewer takes, or have {more} more.',
  },
  film(film, { report }) {
    const { units } = film.product;
    const uses = [...film.shots.values()].filter((shot) => usedBy(shot) > 0);
    const needed = uses.reduce((sum, shot) => sum + usedBy(shot), 0);
    if (!units || needed <= units.value) return;
    report({
      message: 'short',
      data: {
        shots: listText(uses.map(text)),
        use: uses.length === 1 ? 'uses' : 'use',
        needed,
        are: units.value === 1 ? 'is' : 'are',
        units: units.text,
        more: needed - units.value,
      },
      at: units,
      excess: needed / units.value,
      fixes: () => [set(`Have ${needed}`, [film.product, 'units', String(needed)]), ...fewer(uses, film, needed)],
    });
  },
});

function usedBy({ usesUp, takes }: Shot): number {
  return (usesUp?.value ?? 0) * takes;
}

function text({ name, takes, usesUp }: Shot): string {
  const each = usesUp!.value === 1 ? '' : `, ${usesUp!.text} each`;
  return `${quoted(name)} (${takes === 1 ? '1 take' : `${takes} takes`}${each})`;
}

/** One shot with fewer takes, two at least: a take that goes wrong must not be the only one. */
function fewer(uses: readonly Shot[], film: Film, needed: number): FixIdea[] {
  return uses.flatMap((shot) => {
    const takes = shot.takes - Math.ceil((needed - film.product.units!.value) / shot.usesUp!.value);
    return takes < 2 ? [] : [set(`Film ${quoted(shot.name)} ${takes} times`, [shot, 'takes', String(takes)])];
  });
}
