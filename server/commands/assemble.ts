/** `shootspec assemble`: the film of a spec, put together from its takes. */
import { statSync } from 'node:fs';
import { availableParallelism, constants } from 'node:os';
import { basename, dirname, extname, join, resolve } from 'node:path';
import type { Deliverable, Film } from '../core/film.ts';
import { quoted } from '../core/say.ts';
import { filmSeconds } from '../core/resolve/edit.ts';
import { filmTime, type Seconds } from '../core/units.ts';
import type { FilmToAssemble } from '../film/index.ts';
import { type ClipReader, threadReader } from '../footage/clip-reader.ts';
import { type Ffmpeg, ffmpeg, howToGetFfmpeg } from '../footage/decode/ffmpeg.ts';
import { FootageFolder } from '../footage/footage-folder.ts';
import { FootageStore } from '../footage/footage-store.ts';
import { Footages } from '../footage/footages.ts';
import { tellParent } from './parent.ts';
import { timeLeftOn } from './progress.ts';
import { type CheckedSpec, checkedSpec } from './spec-file.ts';
import { beside, folderNamed, load, oneOf, parse, print, sayWhy, UsageError, wholeNumber } from './usage.ts';

const example = 'shootspec assemble music-box.shoot.yaml -o music-box.mp4';

type FilmProgram = typeof import('../film/index.ts');

interface Asked {
  readonly spec: CheckedSpec;
  readonly deliverables: readonly Deliverable[];
  readonly only: FilmToAssemble['only'];
  readonly isDraft: boolean;
  readonly isDry: boolean;
  readonly footage: string | undefined;
  readonly threads: number;
  readonly output: string | undefined;
}

export async function assemble(args: string[]): Promise<number> {
  const asked = await read(args);
  const program = await ffmpeg();
  if (!program && !asked.isDry)
    throw new UsageError(`Films are made by \`ffmpeg\`, which is not on the path. ${howToGetFfmpeg}`);
  const footages = new Footages(beside('clips.cjs'), { footage: asked.footage });
  const reader = threadReader(beside('clips.cjs'));
  const { file, root, result, film } = asked.spec;
  const known = {
    film,
    sheets: result.sheets ?? [],
    footage: footages.of(file),
    media: new FootageStore({ clips: new FootageFolder(root), reader }),
    isDraft: asked.isDraft,
    only: asked.only,
  };
  let isUndone = false;
  try {
    for (const deliverable of asked.deliverables) {
      if (!(await one({ ...known, deliverable }, asked, { program, reader }))) isUndone = true;
    }
  } finally {
    footages.end();
    reader.end();
  }
  return isUndone ? 2 : 0;
}

async function one(
  what: FilmToAssemble,
  asked: Asked,
  { program, reader }: { program: Ffmpeg | undefined; reader: ClipReader },
): Promise<boolean> {
  const { plannedFilm, assembleFilm, assemblyText } = load('film.cjs') as FilmProgram;
  const planned = await plannedFilm(what);
  const { assembly, faults, notes } = planned;
  for (const text of [...faults, ...notes]) sayWhy(new UsageError(text));
  if (!assembly) return false;
  if (asked.isDry) {
    print(assemblyText(assembly, what.film));
    return true;
  }
  const file = fileOf(asked, what.deliverable);
  const stop = stopOnInterrupt();
  const progress = tellParent(assembly.frames) ?? timeLeftOn(process.stderr, assembly.frames);
  const ended = await assembleFilm(what, planned, {
    file,
    program: program!,
    threads: asked.threads,
    signal: stop.signal,
    progress: progress.tell,
    say: (note) => sayWhy(new UsageError(note)),
    // A draft, or a part of a film, is no master.
    ...(!asked.isDraft && !asked.only && { look: (part: string) => judge(part, file, asked, what, reader) }),
  });
  progress.end();
  stop.end();
  if (ended.cancelled) process.exit(128 + constants.signals.SIGINT);
  if (ended.why === undefined) return true;
  sayWhy(new UsageError(`${quoted(what.deliverable.name)} could not be made: ${ended.why}.`));
  return false;
}

/** What the checks say of the finished film is said, and the film stands all the same. */
async function judge(part: string, file: string, { spec }: Asked, { deliverable }: FilmToAssemble, reader: ClipReader) {
  const { masterFindings } = await import('./check-master.ts');
  const found = await masterFindings({
    film: part,
    spec: spec.file,
    root: spec.root,
    deliverable: deliverable.name,
    reader,
  });
  for (const { severity, rule, message } of found)
    sayWhy(new UsageError(`${severity}: ${message.replaceAll(basename(part), basename(file))} [${rule}]`));
}

// -- what is asked ---------------------------------------------------------------------------------------------------

async function read(args: string[]): Promise<Asked> {
  const { values, positionals } = parse(args, 'assemble');
  const { output, shot, from, to } = values;
  const isDry = values['dry-run'] ?? false;
  if (output === undefined && !isDry) throw new UsageError(`Say where the film goes: \`${example}\`.`);
  const spec = await checkedSpec(positionals, example);
  const { film } = spec;
  if (shot !== undefined) oneOf('--shot', shot, [...film.shots.keys()]);
  const hasOnly = shot !== undefined || from !== undefined || to !== undefined;
  const asked: Asked = {
    spec,
    deliverables: deliverablesNamed(values.deliverable, film),
    only: hasOnly ? { shot, fromS: timeIn('--from', from, film), toS: timeIn('--to', to, film) } : undefined,
    isDraft: values.draft ?? false,
    isDry,
    footage: folderNamed('--footage', values.footage),
    threads:
      values.threads === undefined ? availableParallelism() : Math.max(1, wholeNumber('--threads', values.threads)),
    output,
  };
  if (output !== undefined)
    for (const deliverable of asked.deliverables) assertWritable(fileOf(asked, deliverable), deliverable);
  return asked;
}

function deliverablesNamed(names: readonly string[] | undefined, { deliverables }: Film): Deliverable[] {
  const [first] = deliverables.values();
  if (!first) throw new UsageError('This spec has no deliverable: `deliver` says what the film is to be.');
  if (!names) return [first];
  return [...new Set(names)].map((name) => deliverables.get(oneOf('--deliverable', name, [...deliverables.keys()]))!);
}

function timeIn(option: string, written: string | undefined, { timeline, music }: Film): Seconds | undefined {
  if (written === undefined) return undefined;
  const time = filmTime(written);
  if (!time)
    throw new UsageError(`${option}: \`${written}\` is no time. Write it like '3 s', '14 beats' or '40 frames'.`);
  const seconds = filmSeconds(time, {
    ...(timeline.rate && { rate: timeline.rate.value }),
    ...(music?.tempo && { tempoBpm: music.tempo.value }),
  });
  if (seconds === undefined)
    throw new UsageError(
      `${option}: the spec says no ${time.kind === 'beats' ? 'tempo' : 'rate'} to count \`${written}\` by.`,
    );
  return seconds;
}

/** Several films get the name of their deliverable each. */
function fileOf({ output, deliverables }: Asked, { name }: Deliverable): string {
  const file = resolve(output!);
  if (deliverables.length === 1) return file;
  const ending = extname(file);
  return join(dirname(file), `${basename(file, ending)}-${name}${ending}`);
}

function assertWritable(file: string, { name, container }: Deliverable): void {
  if (extname(file).toLowerCase() !== `.${container}`)
    throw new UsageError(
      `${quoted(name)} is a file of the kind ${container}: give it a name that ends in \`.${container}\`.`,
    );
  if (!statSync(dirname(file), { throwIfNoEntry: false })?.isDirectory())
    throw new UsageError(`There is no folder \`${dirname(file)}\`.`);
  if (statSync(file, { throwIfNoEntry: false })?.isFile() === false)
    throw new UsageError(`\`${file}\` is no ordinary file.`);
}

/** The first interrupt, or the end of the program that started this one, ends what is being made and leaves nothing of it. */
function stopOnInterrupt(): { readonly signal: AbortSignal; end(): void } {
  const stop = new AbortController();
  const cancel = () => stop.abort();
  const ends = ['SIGINT', 'SIGTERM', 'SIGHUP', 'disconnect'];
  for (const one of ends) process.on(one, cancel);
  return {
    signal: stop.signal,
    end: () => {
      for (const one of ends) process.off(one, cancel);
    },
  };
}
