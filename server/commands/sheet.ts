/** `shootspec sheet`: a spec as a sheet to take on set, HTML or PDF by the name of the file, as a page that is worked with there, or as the plan for the client. */
import { dirname } from 'node:path';
import { pathFrom } from '../node-host.ts';
import type { Paper } from '../pdf/index.ts';
import { usualPaper } from '../pdf/paper.ts';
import { paperFor } from '../views/sheet.ts';
import { setPageParts } from '../set-page-parts.ts';
import { setPageHtml } from '../views/set-page/html.ts';
import { sheetHtml } from '../views/sheet/html.ts';
import type { Sheet } from '../views/sheet/blocks.ts';
import { type CheckedSpec, checkedSpec } from './spec-file.ts';
import { bundle, load, oneOf, parse, UsageError } from './usage.ts';
import { writeOutput } from './write.ts';
import { table } from './table.ts';

const example = 'shootspec sheet music-box.shoot.yaml -o music-box.html';

export async function sheet(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'sheet');
  const { output } = values;
  const kind = /\.(html|pdf)$/i.exec(output ?? '')?.[1]?.toLowerCase();
  if (output === undefined || kind === undefined)
    throw new UsageError(`Say where it goes, a name that ends in \`.html\` or \`.pdf\`: \`${example}\`.`);
  const reader = values.for === undefined ? undefined : oneOf('--for', values.for, table.sheet.options.for.words);
  if (reader === 'set' && kind === 'pdf')
    throw new UsageError('The page for the set is worked with in a browser: give it a name that ends in `.html`.');
  const spec = await checkedSpec(positionals, example);
  const { result, film } = spec;
  const paper = oneOf(
    '--paper',
    values.paper ?? usualPaper(film.region?.value.country),
    table.sheet.options.paper.words,
  );
  if (reader === 'set') writeOutput(output, setPage(spec));
  else {
    const made = paperFor(result, film, reader);
    writeOutput(output, kind === 'html' ? sheetHtml(made) : await pdf(made, paper));
  }
  return 0;
}

function setPage({ result, film, root, file }: CheckedSpec): string {
  return setPageHtml(result, film, setPageParts(dirname(bundle()), pathFrom(root, file)));
}

/** A program of its own, so that nothing else carries what writes PDF. */
function pdf(made: Sheet, paper: Paper): Promise<Uint8Array> {
  return (load('pdf.cjs') as typeof import('../pdf/index.ts')).sheetPdf(made, paper);
}
