/** The colours of the drawings, from those of the editor's theme. What is read keeps its contrast in every theme. */
import { blend, formatHex, interpolate, modeLrgb, modeRgb, parse, useMode, wcagContrast } from 'culori/fn';

useMode(modeRgb);
useMode(modeLrgb);

export interface ThemeColours {
  readonly background: string;
  readonly foreground: string;
  readonly soft: string;
  readonly link: string;
  readonly alarm: string;
}

/** By the names that the drawings use: `ink` becomes `--plan-ink`. */
export type Inks = Readonly<Record<'ink' | 'soft' | 'accent' | 'alarm' | 'line' | 'faint' | 'shade' | 'paper', string>>;

/** Least contrasts: text and what is behind it, drawn lines (WCAG 2.2, 1.4.3 and 1.4.11), and text for high contrast (1.4.6). */
const leastText = 4.5;
const leastLine = 3;
const leastTextHigh = 7;

/**
 * Colours in any CSS notation; what is no colour counts as white paper or black ink. With `high`, text keeps 7 to 1.
 * Inks keep their contrast on `paper` and on `shade`.
 */
export function inksFor(theme: ThemeColours, high = false): Inks {
  const paper = solid(theme.background, '#ffffff', '#ffffff');
  const extreme = wcagContrast(paper, '#000000') >= wcagContrast(paper, '#ffffff') ? '#000000' : '#ffffff';
  const least = high ? leastTextHigh : leastText;
  const shade = high ? paper : mixed(paper, extreme, 0.06);
  const legible = (colour: string, contrast: number) => strengthened(colour, extreme, [paper, shade], contrast);
  const ink = legible(solid(theme.foreground, extreme, paper), least);
  return {
    ink,
    soft: legible(solid(theme.soft, ink, paper), least),
    accent: legible(solid(theme.link, ink, paper), least),
    alarm: legible(solid(theme.alarm, ink, paper), least),
    line: legible(mixed(paper, ink, 0.5), high ? leastText : leastLine),
    faint: mixed(paper, ink, high ? 0.5 : 0.25),
    shade,
    paper,
  };
}

/** Moved towards the strongest ink until it stands out from all that it may stand on. */
function strengthened(colour: string, extreme: string, on: readonly string[], contrast: number): string {
  for (let share = 0; share < 1; share += 0.05) {
    const stronger = mixed(colour, extreme, share);
    if (on.every((one) => wcagContrast(stronger, one) >= contrast)) return stronger;
  }
  return extreme;
}

function mixed(from: string, to: string, share: number): string {
  return formatHex(interpolate([from, to], 'rgb')(share));
}

/** A colour that lets nothing through, as it looks on another. */
function solid(colour: string, otherwise: string, on: string): string {
  return parse(colour) ? formatHex(blend([on, colour])) : otherwise;
}
