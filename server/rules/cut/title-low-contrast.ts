import { colourForContrast, contrastRatio, parseHex, type Rgb, srgbFromLinear, toHex } from '../../calc/colour.ts';
import { type Behind, behindTitle } from '../../core/derived/behind-title.ts';
import type { Film, Title } from '../../core/film.ts';
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
    lit: '{text}: in {shot}, the {what} lies behind it. Of its {said} the light there makes about {behind}: {colour} on that is {ratio}:1, and {wanted}:1 is wanted for letters of {letters}. Change their colour, put a panel behind them, or light the {what}.',
  },
  title(title, { film, limits, report }) {
    const behind = title.panel ?? title.over;
    const [front, back] = [parseHex(title.colour), behind && parseHex(behind.value)];
    const wanted = title.letters >= limits.large - 1e-9 ? limits['large-ratio'] : limits.ratio;
    if (!front) return;
    const told = {
      text: quoted(title.text?.value.trim() ?? ''),
      colour: title.colourAt ? title.colour : `${title.colour} (nothing else is said)`,
      wanted: num(wanted),
      letters: percentText(title.letters, 1),
    };
    const ratio = back && contrastRatio(front, back);
    if (behind && ratio !== undefined && ratio < wanted - 1e-6) {
      report({
        message: 'low',
        data: { ...told, behind: behind.value, ratio: floored(ratio) },
        at: title.colourAt ?? behind,
        // What the picture will have there is told by eye.
        ...(!title.panel && ratio >= wanted * byEye && { severity: 'info' as const }),
        fixes: () => fixes(title, front, back!, wanted),
      });
      return;
    }
    const lit = title.panel ? undefined : worstLit(title, film, front, wanted);
    if (!lit) return;
    const { behind: found, shown } = lit;
    report({
      message: 'lit',
      severity: 'info',
      data: {
        ...told,
        shot: found.shot.name,
        what: found.what,
        said: found.said.value,
        behind: toHex(shown),
        ratio: floored(contrastRatio(front, shown)),
      },
      at: title.colourAt ?? title.over ?? title.text ?? title,
      excess: wanted - contrastRatio(front, shown),
      shot: found.shot,
      yieldsTo: ['exposure-off', 'backdrop-tone-off'],
      fixes: () => fixes(title, front, shown, wanted).map((idea) => expecting(idea, title, shown)),
    });
  },
});

/** Of the contrast that is wanted (common practice, no source). */
const byEye = 0.9;
/** Lamps and exposure come out as reckoned to about a third of a stop: a title that is clear then is not told. */
const doubtStops = 1 / 3;
/** Up to this contrast `over` names the same thing; else something lies there of which the plan says no more. */
const sameUpTo = 1.4;

/** The picture in which a title is least clear, if it is not clear enough in the light as reckoned, or a little other. */
function worstLit(title: Title, film: Film, front: Rgb, wanted: number): { behind: Behind; shown: Rgb } | undefined {
  const over = title.over && parseHex(title.over.value);
  const brighten = film.grade?.brightenStops ?? 0;
  return behindTitle(title, film)
    .filter(({ said }) => !over || contrastRatio(over, parseHex(said.value)!) <= sameUpTo)
    .filter(({ light }) =>
      [-doubtStops, 0, doubtStops].every((by) => contrastRatio(front, shownAs(light, brighten + by)) < wanted),
    )
    .map((behind) => ({ behind, shown: shownAs(behind.light, brighten) }))
    .sort((a, b) => contrastRatio(front, a.shown) - contrastRatio(front, b.shown))[0];
}

/** Code values of light, which burns out at white. */
function shownAs({ r, g, b }: Rgb, stops: number): Rgb {
  const held = (value: number) => Math.min(1, value * 2 ** stops);
  return srgbFromLinear({ r: held(r), g: held(g), b: held(b) });
}

/** Never rounded up to the number that it falls short of. */
function floored(ratio: number): string {
  return num(Math.floor(ratio * 100) / 100, 2);
}

/** Another colour of the letters is chosen for what comes out behind them: that is what `over` says then. */
function expecting(idea: FixIdea, title: Title, shown: Rgb): FixIdea {
  const isColour = idea.set?.some(({ key }) => key === 'colour');
  if (!isColour || !title.over) return idea;
  return { ...idea, set: [...idea.set!, { block: title, key: 'over', text: `"${toHex(shown)}"` }] };
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
