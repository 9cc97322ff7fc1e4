/** `shootspec kit`: a draft of a kit's camera, from clips that it recorded. */
import { statSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import type { ClipState } from '../core/footage.ts';
import { kindOf } from '../core/paths.ts';
import { type KnownClip, kitOfClips } from '../features/kit-of-clips.ts';
import { type ClipReader, threadReader } from '../footage/clip-reader.ts';
import { FootageFolder } from '../footage/footage-folder.ts';
import { FootageStore } from '../footage/footage-store.ts';
import { beside, parse, print, sayWhy, UsageError } from './usage.ts';
import { writeNew } from './write.ts';

const example = 'shootspec kit C0001.MP4 C0002.MP4 -o kits/camera.kit.yaml';

export async function kit(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'kit');
  const { camera = 'cam', output } = values;
  if (positionals.length === 0) throw new UsageError(`Say which clips, or a folder of them: \`${example}\`.`);
  if (!/^[a-z][a-z0-9-]{0,39}$/.test(camera))
    throw new UsageError(`--camera takes a name of small letters, digits and hyphens, not \`${camera}\`.`);
  if (output !== undefined && kindOf(basename(output)) !== 'kit')
    throw new UsageError(`Kits are known by their name: give it one that ends in \`.kit.yaml\`, not \`${output}\`.`);
  const reader = threadReader(beside('clips.cjs'));
  try {
    const { text, notes } = kitOfClips(await knownClips(positionals, reader), camera);
    for (const note of notes) sayWhy(new UsageError(note));
    if (text === undefined) throw new UsageError('None of these clips tells how its camera records.');
    if (output === undefined) return print(text);
    writeNew(output, text);
    return 0;
  } finally {
    reader.end();
  }
}

/** Those that can be read; why others can't is said. */
async function knownClips(paths: readonly string[], reader: ClipReader): Promise<KnownClip[]> {
  const known: KnownClip[] = [];
  for (const path of paths) {
    const full = resolve(path);
    const stat = statSync(full, { throwIfNoEntry: false });
    if (!stat) throw new UsageError(`There is no file or folder \`${path}\`.`);
    const folder = new FootageFolder(stat.isDirectory() ? full : dirname(full));
    const store = new FootageStore({ clips: folder, reader });
    const names = stat.isDirectory() ? store.entries().map((entry) => entry.path) : [basename(full)];
    for (const name of names) store.clip(name);
    await store.settled();
    for (const name of names) known.push(...videoOf(name, store.clip(name)));
  }
  return known;
}

function videoOf(name: string, state: ClipState): KnownClip[] {
  if (state.kind === 'facts' && state.facts.video) return [{ name, video: state.facts.video }];
  sayWhy(new UsageError(`\`${name}\` ${whyNot(state)}: left out.`));
  return [];
}

function whyNot(state: ClipState): string {
  switch (state.kind) {
    case 'facts':
      return 'has no picture';
    case 'unreadable':
      return `can't be read (${state.why})`;
    case 'empty':
      return 'is empty';
    case 'growing':
      return 'is still being written';
    case 'outside':
      return 'is a link that leads elsewhere';
    default:
      return 'was not read';
  }
}
