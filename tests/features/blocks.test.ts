/** Every whole block that completion offers, with its places filled as they stand, must be a thing that the checker takes. */
import { describe, expect, it } from 'vitest';
import { firstKit, newKitText } from '../../server/features/new-kit.ts';
import { newSpecText } from '../../server/features/new-spec.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { completions, taken } from '../helpers/complete.ts';
import { Checker } from '../../server/core/checker.ts';
import { memoryHost } from '../helpers/workspace.ts';

const firstKitText = newKitText(firstKit);

/** Without rules: what a block does to a film is no matter of the block. */
const checker = new Checker(memoryHost({ 'kits/phone.kit.yaml': firstKitText }), []);
const files = { 'kits/phone.kit.yaml': firstKitText };

function errorsIn(path: string, text: string): string[] {
  const { findings } = checker.check(path, text)!;
  return findings.filter(({ severity }) => severity === 'error').map(({ message }) => message);
}

const film = newSpecText({
  title: 'A film',
  kit: 'kits/phone.kit.yaml',
  gear: parseDocument(firstKitText).root!,
  region: 'DE',
  mainsHz: 50,
});

/** A file with the cursor where one would write another block under a key. */
function below(text: string, key: string, isList = false): string {
  const line = `${isList ? '  - ' : '  '}‸`;
  const lines = text.split('\n');
  const at = lines.findIndex((one) => one.startsWith(`${key}:`));
  return (at < 0 ? [...lines, `${key}:`, line, ''] : lines.toSpliced(at + 1, 0, line)).join('\n');
}

function offeredAt(marked: string, path: string): string[] {
  return completions(marked, { path, files }).flatMap(({ kind, label }) => (kind === 'block' ? [label] : []));
}

const places: [string, string, string][] = [
  ...['shots', 'set-ups', 'lamps', 'deliver', 'rights', 'surface', 'room', 'grade'].map(
    (key): [string, string, string] => ['a.shoot.yaml', key, below(film, key)],
  ),
  ...['cut', 'titles', 'sounds', 'schedule'].map((key): [string, string, string] => [
    'a.shoot.yaml',
    key,
    below(film, key, true),
  ]),
  ...['lamps', 'lenses', 'cameras', 'supports', 'cards', 'batteries'].map((key): [string, string, string] => [
    'a.kit.yaml',
    key,
    below(firstKitText, key),
  ]),
  ['a.kit.yaml', 'modes', firstKitText.replace(/ {4}modes:.*\n/, '$&      - ‸\n')],
  ['a.shoot.yaml', 'nothing yet', '‸'],
  ['a.kit.yaml', 'nothing yet', '‸'],
];

describe('whole blocks', () => {
  it.each(places)('of %s fit under `%s`', (path, _, marked) => {
    const offered = offeredAt(marked, path);
    expect(offered.length).toBeGreaterThan(0);
    for (const label of offered) {
      const text = taken(marked, label, { path, files }).replaceAll('‸', '');
      expect(errorsIn(path, text), label).toEqual([]);
    }
  });
});

describe('a new title', () => {
  const start = (titles: string) => {
    const text = taken(`${film.replace(/titles:\n(?: .*\n)*/, '')}titles:\n${titles}  - ‸\n`, 'new title', {
      path: 'a.shoot.yaml',
      files,
    });
    return /at: (?:‸)?([\d.]+ s)[^]*$/.exec(text.slice(text.lastIndexOf('at:')))?.[1];
  };

  it('stands after the last one, and ends with the film', () => {
    expect(start('')).toBe('2 s');
    expect(start('  - { text: One, at: 0 s, hold: 2.5 s }\n')).toBe('3.5 s');
    expect(Number.parseFloat(start('  - { text: One, at: 90 s, hold: 2.5 s }\n')!)).toBeLessThan(90);
  });
});
