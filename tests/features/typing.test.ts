/**
 * Lines of whole plans are typed into themselves with completion open, under an editor's own rules for Enter and Tab, and
 * must stand as they were typed.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { kindOf } from '../../server/core/paths.ts';
import { completions } from '../helpers/complete.ts';
import { footageOf } from '../helpers/footage.ts';
import { bareManner, Editor, type Manner, mannerOf } from '../helpers/typing.ts';

const root = new URL('../../', import.meta.url);

/** The files of a repo that are ours or lie beside ours, by path. */
function filesIn(folder: string): Record<string, string> {
  const paths = readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' });
  const texts = paths.filter((path) => /\.(?:yaml|md)$/.test(path) && !path.startsWith('verdicts'));
  return Object.fromEntries(texts.map((path) => [path, readFileSync(new URL(`${folder}/${path}`, root), 'utf8')]));
}

/** Fixed, so that a run says the same twice; `FUZZ_SEED=5` tries others. */
const seed = Number(process.env['FUZZ_SEED'] ?? 20_261_125);

const plans = readdirSync(new URL('tests/plans', root), { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => `tests/plans/${name}`)
  // One in eight; another seed takes others.
  .filter((_, index) => (index + seed) % 8 === 0);
const repos = ['sample-workspace', ...plans].map((folder): [string, Record<string, string>] => [
  folder,
  filesIn(folder),
]);

let state = seed;

/** From 0 up to, not including, 1 (the Lehmer generator of Park and Miller, 1988). */
function random(): number {
  state = ((state + 1) * 48271) % 2147483647;
  return state / 2147483647;
}

interface Line {
  readonly path: string;
  readonly before: string;
  readonly line: string;
  readonly after: string;
}

/** Some lines of a repo's files, each with what stands around it. */
function someLines(files: Readonly<Record<string, string>>, count: number): Line[] {
  const ours = Object.keys(files).filter((path) =>
    /(?:\.shoot|\.kit|\.takes|^shootspec)\.yaml$|^shootspec\.yaml$/.test(path),
  );
  return Array.from({ length: count }, () => {
    const path = ours[Math.floor(random() * ours.length)]!;
    const lines = files[path]!.split('\n');
    const written = lines.flatMap((line, at) => (/^\s*[^\s#]/.test(line) ? [at] : []));
    const at = written[Math.floor(random() * written.length)]!;
    const after = random() < 0.5 ? '' : lines.slice(at + 1).join('\n');
    return {
      path,
      before: lines
        .slice(0, at)
        .map((line) => `${line}\n`)
        .join(''),
      line: lines[at]!,
      after,
    };
  });
}

/** Clips of the sample's sheet, and others that begin like them. */
const footage = footageOf(
  Object.fromEntries(
    ['C0012.MP4', 'C0016.MP4', 'C0017.MP4', 'C0018.MP4', 'C0019.MP4', 'S0001.WAV'].map((name) => [
      `music-box/day-1/${name}`,
      {},
    ]),
  ),
);

/** Types one line, its indentation as well, and ends it; answers what then stands before what was there. */
function typed(
  { path, before, line, after }: Line,
  files: Readonly<Record<string, string>>,
  manner: Manner,
  end: 'enter' | 'tab',
) {
  const ask = (text: string, offset: number) =>
    completions(`${text.slice(0, offset)}‸${text.slice(offset)}`, { path, files, good: files[path]!, footage });
  const editor = new Editor(`${before}\n${after}`, before.length, manner, ask);
  const letters = [...line];
  const asking = Math.floor(random() * letters.length);
  for (const [at, letter] of letters.entries()) editor.type(letter, at === asking || at === letters.length - 1);
  if (random() < 0.5) editor.askFor();
  editor[end]();
  return editor.text;
}

const languages = { shoot: 'shoot-spec', takes: 'shoot-takes', kit: 'shoot-kit', config: 'shoot-settings' };
const languageOf = (path: string) => languages[kindOf(path) ?? 'config'];

describe(`typing, seed ${seed}`, () => {
  it.each(repos)('every line of %s stands as it was typed', (_, files) => {
    for (const one of someLines(files, 6)) {
      const stands = `${one.before}${one.line}\n\n${one.after}`;
      expect(typed(one, files, mannerOf(languageOf(one.path)), 'enter'), `${one.path}: ${one.line}`).toBe(stands);
    }
  });

  it.each(repos)('a value of %s stands in an editor that chooses by itself', (_, files) => {
    const whole = someLines(files, 6).filter(({ line }) => /:\s+[^\s{[|>]/.test(line));
    for (const one of whole) {
      const stands = `${one.before}${one.line}\n\n${one.after}`;
      expect(typed(one, files, bareManner, 'enter'), `${one.path}: ${one.line}`).toBe(stands);
    }
  });
});

it('every line of a take sheet stands as it was typed, while clips are offered', () => {
  const [, files] = repos[0]!;
  const path = 'music-box.takes.yaml';
  const lines = files[path]!.split('\n');
  for (const [at, line] of lines.entries()) {
    if (!/^\s*[^\s#]/.test(line)) continue;
    const before = lines
      .slice(0, at)
      .map((one) => `${one}\n`)
      .join('');
    const stands = `${before}${line}\n\n`;
    expect(typed({ path, before, line, after: '' }, files, mannerOf(languages.takes), 'enter'), line).toBe(stands);
  }
});

it('what is offered is taken by Tab, and by Enter where it was asked for', () => {
  const ask = (text: string, offset: number) => completions(`${text.slice(0, offset)}‸${text.slice(offset)}`);
  const editor = () => new Editor('camera:\n  ', 10, mannerOf('shoot-spec'), ask);
  const byTab = editor();
  for (const letter of 'shut') byTab.type(letter, true);
  byTab.tab();
  expect(byTab.text).toBe('camera:\n  shutter: ');
  const byEnter = editor();
  for (const letter of 'shut') byEnter.type(letter, true);
  byEnter.enter();
  expect(byEnter.text).toBe('camera:\n  shut\n');
  const asked = editor();
  for (const letter of 'shut') asked.type(letter, true);
  asked.askFor();
  asked.enter();
  expect(asked.text).toBe('camera:\n  shutter: ');
});
