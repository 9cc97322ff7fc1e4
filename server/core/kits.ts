/** Finds the kits that a spec names, inside the repo only, and says what is wrong with the naming. */
import { asRead } from './document/as-read.ts';
import { parseDocument } from './document/parse.ts';
import { child, type Node, type Range, type ScalarNode } from './document/node.ts';
import type { Finding, Fix, Related } from './finding.ts';
import type { Host } from './host.ts';
import { isPlain, nearest } from './nearest.ts';
import { kindOf, pathFault, settingsPath } from './paths.ts';
import { gearKinds, type KitSource } from './resolve/kit.ts';
import { schemaFindings } from './schema/findings.ts';
import { readNested } from './schema/nested.ts';
import { listText, quoted } from './say.ts';
import type { Settings } from './settings.ts';

export interface LoadedKits {
  readonly sources: KitSource[];
  readonly findings: Finding[];
  /** False where one that is named was not found or not read, or is still to be named. */
  readonly complete: boolean;
  /** Every path that was tried, for watching. */
  readonly paths: string[];
}

/** A kit's text, read and checked once for all the specs and keystrokes that use it. */
export interface KitFile {
  readonly text: string;
  /** Undefined where it could not be read. */
  readonly root: Node | undefined;
  /** How many findings it has of its own. */
  readonly faults: number;
}

export function readKit(text: string): KitFile {
  const { root, broken, problems } = readNested(parseDocument(text), 'kit');
  if (broken) return { text, root: undefined, faults: problems.length };
  if (!root) return { text, root, faults: 1 };
  const { findings, slips, refused } = schemaFindings(root, 'kit', problems, text);
  return {
    text,
    root: asRead(root, { meant: slips, refused }),
    faults: findings.length + problems.filter(({ severity }) => severity === 'error').length,
  };
}

export function loadKits(
  root: Node | undefined,
  settings: Settings,
  host: Host,
  read: (path: string, text: string) => KitFile,
): LoadedKits {
  const said = child(root, 'kit');
  const named = said
    ? scalars(said)
    : settings.kits.map((text): { text: string } & Range => ({ text, start: root?.start ?? 0, end: root?.start ?? 0 }));
  const loaded: Omit<LoadedKits, 'complete'> = { sources: [], findings: [], paths: [] };
  for (const { text: path, start, end } of named) {
    const add = (
      rule: string,
      message: string,
      severity: Finding['severity'] = 'error',
      meant: readonly string[] = [],
    ) =>
      loaded.findings.push({
        rule,
        severity,
        message,
        start,
        end,
        related: [],
        fixes: writeInstead(meant, start, end),
      });
    const fault = pathFault(path);
    if (fault) {
      add(
        'kit-outside',
        `The kit \`${path}\` ${fault}. Write the path from the repo's top folder with forward slashes, such as \`kits/phone.kit.yaml\`; nothing outside the repo is read.`,
        'error',
        kitsMeant(path, host),
      );
      continue;
    }
    if (kindOf(path) !== 'kit') {
      const meant = kitsMeant(path, host);
      add(
        'kit-not-found',
        `${quoted(path)} is no kit: the name of a kit file ends in \`.kit.yaml\`.${asked(meant)}`,
        'error',
        meant,
      );
      continue;
    }
    if (loaded.paths.includes(path)) continue;
    loaded.paths.push(path);
    const file = host.read(path);
    if ('problem' in file) {
      const meant = file.problem === 'missing' ? kitsMeant(path, host) : [];
      add(
        file.problem === 'outside' ? 'kit-outside' : 'kit-not-found',
        `The kit \`${path}\` ${file.problem === 'missing' ? missingFrom(host) : why[file.problem]}.${asked(meant)}`,
        'error',
        meant,
      );
      continue;
    }
    const { root: gear, faults } = read(path, file.text);
    if (faults > 0)
      add(
        'kit-with-errors',
        `The kit \`${path}\` has ${faults === 1 ? 'a finding' : `${faults} findings`} of its own: what can't be read there is not checked here.`,
        'warning',
      );
    loaded.sources.push({ file: path, root: gear });
  }
  if (said) loaded.findings.push(...inTwoKits(loaded.sources, said));
  const isRead = named.every(({ text: path }) => loaded.sources.some((source) => source.file === path));
  return { ...loaded, complete: isRead && !(said && isStillEmpty(said)) };
}

/** No fix where the kit is named in the settings. */
function writeInstead(meant: readonly string[], start: number, end: number): Fix[] {
  if (start === end) return [];
  return meant.map((path) => ({ title: `Write \`${path}\``, edits: [{ start, end, text: path }], safe: false }));
}

function asked(meant: readonly string[]): string {
  return meant.length === 0 ? '' : ` Did you mean ${listText(meant.map(quoted), 'or')}?`;
}

/** So many kits are offered where none has a name that is near. */
const mostOffered = 3;

/**
 * The kits that are there and may be meant: the one that is written with other slashes, or has a name that is near, or lies
 * in another folder; else all beside it, where they are few.
 */
function kitsMeant(written: string, host: Host): string[] {
  const path = written.replace(/^[./\\]+/, '').replaceAll('\\', '/');
  if (path.length > 400) return [];
  const folder = path.split('/').slice(0, -1).join('/');
  const beside = kitsIn(folder, host);
  const name = nameOf(path);
  const near = nearest(name, [...beside.keys()])?.word;
  if (near !== undefined) return [beside.get(near)!];
  const tops = host.list('').flatMap((entry) => (entry.isFolder ? [entry.name] : []));
  const elsewhere = ['', ...tops].flatMap((top) => kitsIn(top, host).get(name) ?? []);
  if (elsewhere.length > 0) return elsewhere.slice(0, mostOffered);
  return beside.size <= mostOffered ? [...beside.values()] : [];
}

/** Paths of the kits in a folder, by their names without the ending; a path that can't be written as it is counts as none. */
function kitsIn(folder: string, host: Host): Map<string, string> {
  const paths = host
    .list(folder)
    .filter(({ isFolder, name }) => !isFolder && kindOf(name) === 'kit')
    .map(({ name }) => (folder === '' ? name : `${folder}/${name}`))
    .filter((path) => isPlain(path) && pathFault(path) === undefined);
  return new Map(paths.map((path) => [nameOf(path), path]));
}

function nameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1).replace(/(?:\.kit)?(?:\.ya?ml)?$/, '');
}

/** Without a settings file the top is the folder that is open, or where the command is run, which may not be what was meant. */
function missingFrom(host: Host): string {
  if (!host.name) return 'is not there: paths start at the top folder of the repo';
  const isMarked = host.exists(settingsPath);
  const because = isMarked ? `where \`${settingsPath}\` is` : `as no \`${settingsPath}\` marks the top folder`;
  return `is not there: its path starts at the folder ${quoted(host.name)}, ${because}`;
}

const why = {
  outside: 'leads out of the repo through a link, and nothing outside is read',
  'not-a-file': 'is no ordinary file',
  'too-big': 'is larger than 1 MiB and is not read',
} as const;

/** Somebody is about to name one. */
function isStillEmpty(node: Node): boolean {
  const items = node.kind === 'list' ? node.items : [node];
  return items.some((item) => item.kind === 'scalar' && item.text === '');
}

function scalars(node: Node): ScalarNode[] {
  const items = node.kind === 'list' ? node.items : [node];
  return items.filter((item): item is ScalarNode => item.kind === 'scalar' && item.text !== '');
}

/** One name in two kits: the first counts, and the second is easily taken for it. */
function inTwoKits(sources: readonly KitSource[], at: Range): Finding[] {
  return gearKinds.flatMap((kind) => {
    const seen = new Map<string, string>();
    return sources.flatMap(({ file, root }) =>
      names(root, kind).flatMap(({ text, start, end }): Finding[] => {
        const first = seen.get(text);
        if (first === undefined) {
          seen.set(text, file);
          return [];
        }
        const related: Related[] = [{ file, start, end, message: `${quoted(text)} again` }];
        const message = `${quoted(text)} stands under \`${kind}\` in ${quoted(first)} and in ${quoted(file)}: the first counts. Give one of them another name.`;
        return [
          { rule: 'gear-in-two-kits', severity: 'error', message, start: at.start, end: at.end, related, fixes: [] },
        ];
      }),
    );
  });
}

function names(root: Node | undefined, kind: string): readonly ScalarNode[] {
  const block = child(root, kind);
  return block?.kind === 'map' ? block.pairs.map((pair) => pair.key) : [];
}

/** In a kit itself: `fits` that names gear which the kit does not have. */
export function kitFindings(root: Node): Finding[] {
  const known = new Set(gearKinds.flatMap((kind) => names(root, kind).map((name) => name.text)));
  return gearKinds.flatMap((kind) => {
    const block = child(root, kind);
    if (block?.kind !== 'map') return [];
    return block.pairs.flatMap(({ value }) => {
      const fits = child(value, 'fits');
      return (fits ? scalars(fits) : [])
        .filter((name) => !known.has(name.text))
        .map(({ text, start, end }): Finding => {
          const message = `${quoted(text)} is named here, but this kit has no gear of that name. If it is in another kit that is used with this one, accept this note.`;
          return { rule: 'gear-not-here', severity: 'info', message, start, end, related: [], fixes: [] };
        });
    });
  });
}
