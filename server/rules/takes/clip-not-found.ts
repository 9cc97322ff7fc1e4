import type { ClipEntry, Footage } from '../../core/footage.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { listFirst, quoted } from '../../core/say.ts';
import type { Recording, TakeSheet } from '../../core/takes.ts';

export default defineRule({
  id: 'clip-not-found',
  family: 'takes',
  summary: 'A clip of the sheet is not in the footage folder.',
  severity: 'warning',
  sources: ['the folder itself'],
  messages: {
    missing: '{clips} {are} not in the footage folder. Look on the card before it is wiped.',
    elsewhere: '{clip} is not in the footage folder. {near} may be it. Look on the card before it is wiped.',
    all: 'None of the {count} clips of this sheet is in the footage folder. Is {folder} where they were copied to, or is the drive not connected?',
    outside:
      '{clip} is outside of the footage folder, or a link that leads there: nothing outside is opened. Copy it into the folder.',
    'not-a-file': '{clip} is no ordinary file, so it is not opened. Is it the folder that the clip lies in?',
  },
  sheet(sheet, { footage, report }) {
    if (!footage) return;
    const clips = named(sheet);
    const missing = clips.filter(({ value }) => footage.clip(value).kind === 'missing');
    if (
      missing.length > 1 &&
      missing.length === clips.length &&
      !missing.some((one) => sameName(one, footage).length > 0)
    ) {
      const at = sheet.folder ?? missing[0]!;
      report({ message: 'all', data: { count: missing.length, folder: quoted(sheet.folder?.text ?? 'it') }, at });
      return;
    }
    for (const clip of clips) {
      const { kind } = footage.clip(clip.value);
      if (kind === 'outside' || kind === 'not-a-file')
        report({ message: kind, data: { clip: quoted(clip.text) }, at: clip, severity: 'error' });
    }
    const lost: Recording[] = [];
    for (const clip of missing) {
      const found = likeliest(clip, sheet, footage);
      if (found.length === 0) lost.push(clip);
      else {
        const data = {
          clip: quoted(clip.text),
          near: listFirst(
            found.map(({ path }) => quoted(path)),
            mostNamed,
          ),
        };
        report({ message: 'elsewhere', data, at: clip, fixes: fixes(clip, sheet, found) });
      }
    }
    const [first, ...others] = lost;
    if (!first) return;
    report({
      message: 'missing',
      data: {
        clips: listFirst(
          lost.map(({ text }) => quoted(text)),
          mostNamed,
        ),
        are: others.length > 0 ? 'are' : 'is',
      },
      at: first,
      related: others.map(({ start, end }) => ({ start, end, message: 'and this clip' })),
    });
  },
});

/** Every file once, where it is first named; sound recorded apart too. */
function named({ takes }: TakeSheet): Recording[] {
  const all = takes.flatMap(({ clips, sound }) => [...clips, ...(sound?.path ? [sound.path] : [])]);
  return [...new Map([...all].reverse().map((clip) => [clip.value, clip])).values()].sort((a, b) => a.start - b.start);
}

/** Where the same clip lies under another name or in another folder. */
function likeliest(clip: Recording, sheet: TakeSheet, footage: Footage): readonly ClipEntry[] {
  const remembered = footage.found?.(clip.value) ?? [];
  if (remembered.length > 0) return remembered;
  const used = new Set(named(sheet).map(({ value }) => value));
  return sameName(clip, footage).filter(({ path }) => !used.has(path));
}

/** The same name in another folder, in other letters, or without its ending. */
function sameName({ value }: Recording, footage: Footage): ClipEntry[] {
  const wanted = bare(value);
  return footage.entries().filter(({ path }) => bare(path) === wanted);
}

function bare(path: string): string {
  const name = path.slice(path.lastIndexOf('/') + 1).toLowerCase();
  return name.replace(/\.[a-z0-9]{2,5}$/, '');
}

const mostNamed = 3;
const mostFixes = 4;

function fixes({ start, end }: Recording, { folder }: TakeSheet, found: readonly ClipEntry[]): FixIdea[] {
  const below = folder ? `${folder.value.replace(/\/+$/, '')}/` : '';
  return found
    .slice(0, mostFixes)
    .filter(({ path }) => path.startsWith(below) && isPlainPath(path))
    .map(({ path }) => {
      const text = path.slice(below.length);
      return { title: `Write \`${text}\``, edits: [{ start, end, text }] };
    });
}

/** What stands in YAML as it is. */
function isPlainPath(path: string): boolean {
  return /^[A-Za-z0-9_][A-Za-z0-9_./ -]*$/.test(path) && !path.endsWith(' ');
}
