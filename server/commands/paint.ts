/** Colours, on a terminal only, and not where somebody does not want them (https://no-color.org). */
import type { Severity } from '../core/finding.ts';
import { type Paint, plain } from '../formats/text.ts';

/** @param direct false when the text goes to a file */
export async function paintFor(
  stream: { readonly isTTY?: boolean },
  direct: boolean,
  env: Readonly<Record<string, string | undefined>>,
): Promise<Paint> {
  if (!direct || !stream.isTTY || env['NO_COLOR'] || env['TERM'] === 'dumb') return plain;
  const { default: colours } = await import('picocolors');
  const colour = colours.createColors(true);
  const of = { error: colour.red, warning: colour.yellow, info: colour.cyan, hint: colour.gray };
  return {
    severity: (severity: Severity, text: string) => of[severity](text),
    dim: colour.dim,
    strong: colour.bold,
  };
}
