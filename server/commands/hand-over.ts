/** `shootspec hand-over`: a film as other programs take it, by open standards. */
import { statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { pathFrom } from '../node-host.ts';
import { threadReader } from '../footage/clip-reader.ts';
import { FootageFolder } from '../footage/footage-folder.ts';
import { FootageStore } from '../footage/footage-store.ts';
import { Footages } from '../footage/footages.ts';
import { logLines } from '../formats/escape.ts';
import { endings, type KindName, kindNames } from '../hand-over/kind-names.ts';
import type { HandedOver, HandOverOptions, ToHandOver } from '../hand-over/kind.ts';
import { type CheckedSpec, checkedSpec } from './spec-file.ts';
import { beside, folderNamed, load, oneOf, parse, print, sayWhy, UsageError } from './usage.ts';
import { writeOutput } from './write.ts';
import { table } from './table.ts';

const example = 'shootspec hand-over music-box.shoot.yaml --as otio -o music-box.otio';

export async function handOver(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'hand-over');
  if (values.as === undefined) throw new UsageError(`Say as what, ${kindNames.join(', ')}: \`${example}\`.`);
  const kind = oneOf('--as', values.as, kindNames);
  if (values.what !== undefined && kind !== 'csv') throw new UsageError('`--what` is for `--as csv`.');
  if (values.zone !== undefined && kind !== 'calendar') throw new UsageError('`--zone` is for `--as calendar`.');
  const { output } = values;
  if (output !== undefined) assertEnding(output, endings[kind]);
  const rows = oneOf('--what', values.what ?? 'shots', table['hand-over'].options.what.words);
  const zone = zoneNamed(values.zone);
  const footage = folderNamed('--footage', values.footage);
  const spec = await checkedSpec(positionals, example);
  const { deliverables } = spec.film;
  const name = values.deliverable ?? deliverables.keys().next().value;
  const deliverable =
    name === undefined ? undefined : deliverables.get(oneOf('--deliverable', name, [...deliverables.keys()]));
  if (kind === 'calendar' && values.zone === undefined && spec.film.schedule.some(({ hours }) => hours))
    sayWhy(
      new UsageError(
        `The hours of the schedule are taken as those of ${zone}, as this machine says: \`--zone\` names another.`,
      ),
    );
  const options = { table: rows, zone, changedMs: statSync(spec.file).mtimeMs };
  const { text, notes } = await made({ spec, kind, deliverable, options, footage });
  for (const note of notes) sayWhy(new UsageError(note));
  // A file is written as it is; a log may take lines for commands.
  if (output === undefined) return print(logLines(text));
  writeOutput(output, text);
  return 0;
}

interface Asked {
  readonly spec: CheckedSpec;
  readonly kind: KindName;
  readonly deliverable: ToHandOver['deliverable'];
  readonly options: HandOverOptions;
  readonly footage: string | undefined;
}

/** Once all clips that it asks for are read. */
async function made({ spec, kind, deliverable, options, footage: folder }: Asked): Promise<HandedOver> {
  const { handedOver } = load('hand-over.cjs') as typeof import('../hand-over/index.ts');
  const footages = new Footages(beside('clips.cjs'), { footage: folder });
  const reader = threadReader(beside('clips.cjs'));
  const { file, root, result, film } = spec;
  const footage = footages.of(file);
  const media = new FootageStore({ clips: new FootageFolder(root), reader });
  const asked: ToHandOver = {
    result,
    film,
    sheets: result.sheets ?? [],
    path: pathFrom(root, file),
    deliverable,
    footage,
    media: (path) => media.clip(path),
    address: (of, path) => addressOf(of === 'repo' ? media : footage, path),
    options,
  };
  try {
    let made = handedOver(kind, asked);
    while (footages.isReading || media.isReading) {
      await Promise.all([footages.settled(), media.settled()]);
      made = handedOver(kind, asked);
    }
    if (typeof made === 'string') throw new UsageError(made);
    return made;
  } finally {
    footages.end();
    reader.end();
  }
}

/** A file that is here by its place on this machine, as editing programs want it; else as the spec names it. */
function addressOf(store: FootageStore | undefined, path: string): string {
  const at = store?.located('clip', path);
  if (at && !('problem' in at)) return pathToFileURL(at.file).href;
  return path.split('/').map(encodeURIComponent).join('/');
}

function assertEnding(output: string, ending: string): void {
  if (!output.toLowerCase().endsWith(ending))
    throw new UsageError(
      `Programs know these files by their name: give it one that ends in \`${ending}\`, not \`${output}\`.`,
    );
}

function zoneNamed(name: string | undefined): string {
  const zone = name ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  try {
    return new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone;
  } catch {
    throw new UsageError(`--zone: \`${zone}\` is no time zone. Write it like \`Europe/Lisbon\`, or \`UTC\`.`);
  }
}
