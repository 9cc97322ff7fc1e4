/** `shootspec sheet`: a spec as a sheet to take on set, HTML or PDF by the name of the file. */
import type { Paper } from '../pdf/index.ts';
import { usualPaper } from '../pdf/paper.ts';
import { sheetOf } from '../views/sheet/content.ts';
import { sheetHtml } from '../views/sheet/html.ts';
import type { Sheet } from '../views/sheet/blocks.ts';
import { checkedSpec } from './spec-file.ts';
import { load, oneOf, parse, UsageError } from './usage.ts';
import { writeOutput } from './write.ts';

const example = 'shootspec sheet music-box.shoot.yaml -o music-box.html';

export async function sheet(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, {
    output: { type: 'string', short: 'o' },
    paper: { type: 'string' },
  });
  const { output } = values;
  const kind = /\.(html|pdf)$/i.exec(output ?? '')?.[1]?.toLowerCase();
  if (output === undefined || kind === undefined)
    throw new UsageError(`Say where it goes, a name that ends in \`.html\` or \`.pdf\`: \`${example}\`.`);
  const { result, film } = await checkedSpec(positionals, example);
  const paper = oneOf('--paper', values.paper ?? usualPaper(film.region?.value.country), ['a4', 'letter'] as const);
  if (kind === 'html') writeOutput(output, sheetHtml(sheetOf(result, film, true)));
  else writeOutput(output, await pdf(sheetOf(result, film), paper));
  return 0;
}

/** A program of its own, so that nothing else carries what writes PDF. */
function pdf(made: Sheet, paper: Paper): Promise<Uint8Array> {
  return (load('pdf.cjs') as typeof import('../pdf/index.ts')).sheetPdf(made, paper);
}
