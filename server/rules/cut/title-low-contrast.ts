import { colourForContrast, contrastRatio, parseHex, type Rgb, toHex } from '../../calc/colour.ts';
import type { Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, percentText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'title-low-contrast',
  family: 'cut',
  summary: 'The letters of a title are too like what is behind them.',
  severity: 'warning',
  sources: ['WCAG 2.2, success criterion 1.4.3'],
  limits: {
    ratio: { quantity: 'number', default: '4.5', meaning: 'Least contrast of small letters.' },
    'large-ratio': { quantity: 'number', default: '3', meaning: 'Least contrast of large letters.' },
    large: {
      quantity: 'share',
      default: '4 %',
      meaning: 'From this height of the capitals on, as a share of the picture, letters are large.',
    },
  },
  messages: {
    low: '{text}: {colour} on {behind} is {ratio}:1, and {wanted}:1 is wanted for letters of {letters}. Change their colour, or put a panel behind them.',
  },
  title(title, { limits, report }) {
    const behind = title.panel ?? title.over;
    const [front, back] = [parseHex(title.colour), behind && parseHex(behind.value)];
    if (!behind || !front || !back) return;
    const wanted = title.letters >= limits.large - 1e-9 ? limits['large-ratio'] : limits.ratio;
    const ratio = contrastRatio(front, back);
    if (ratio >= wanted - 1e-6) return;
    report({
      message: 'low',
      data: {
        text: quoted(title.text?.value.trim() ?? ''),
        colour: title.colourAt ? title.colour : `${title.colour} (nothing else is said)`,
        behind: behind.value,
        ratio: floored(ratio),
        wanted: num(wanted),
        letters: percentText(title.letters, 1),
      },
      at: title.colourAt ?? behind,
      fixes: () => fixes(title, front, back, wanted),
    });
  },
});

/** Never rounded up to the number that it falls short of. */
function floored(ratio: number): string {
  return num(Math.floor(ratio * 100) / 100, 2);
}

/** The nearest colour of the letters that is clear enough, and a panel behind them. */
function fixes(title: Title, front: Rgb, back: Rgb, wanted: number): FixIdea[] {
  const ideas: FixIdea[] = [];
  const nearest = colourForContrast(front, back, wanted);
  if (nearest) {
    const hex = toHex(nearest);
    ideas.push(
      set(`Make the letters ${hex} (${floored(contrastRatio(nearest, back))}:1)`, [title, 'colour', `"${hex}"`]),
    );
  }
  const [black, white] = [parseHex('#000000')!, parseHex('#ffffff')!];
  const panel = contrastRatio(front, black) >= contrastRatio(front, white) ? black : white;
  const ratio = contrastRatio(front, panel);
  if (ratio >= wanted) {
    const name = panel === black ? 'black' : 'white';
    ideas.push(set(`Put a ${name} panel behind them (${floored(ratio)}:1)`, [title, 'panel', `"${toHex(panel)}"`]));
  }
  return ideas;
}
