/** Every snippet, with its places filled as they stand, must be a thing that the checker takes. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import type { Host } from '../../server/core/host.ts';
import { firstKitText, newSpecText } from '../../server/features/newSpec.ts';
import { parseDocument } from '../../server/core/document/parse.ts';

interface Snippet {
  readonly prefix: string | readonly string[];
  readonly body: readonly string[];
}

const folder = path.resolve(import.meta.dirname, '../../client/snippets');
const snippetsOf = (file: string): Record<string, Snippet> =>
  JSON.parse(fs.readFileSync(path.join(folder, file), 'utf8'));
const spec = snippetsOf('spec.json');
const kit = snippetsOf('kit.json');

/** A repo that holds one kit. */
const host: Host = {
  read: (file) => (file === 'kits/phone.kit.yaml' ? { text: firstKitText } : { problem: 'missing' }),
  exists: (file) => file === 'kits/phone.kit.yaml',
  list: () => [],
};
const checker = new Checker(host, []);
const errorsIn = (file: string, text: string): string[] =>
  checker
    .check(file, text)!
    .findings.filter(({ severity }) => severity === 'error')
    .map(({ message }) => message);

function filled({ body }: Snippet): string[] {
  const text = body.join('\n').replace(/\$\{\d+\|([^,|]*)[^|]*\|\}/g, '$1');
  return text
    .replace(/\$\{\d+:([^}]*)\}/g, '$1')
    .replace(/\$\d+/g, '')
    .split('\n');
}

const indent = (lines: readonly string[]): string[] => lines.map((line) => `  ${line}`);

/** The whole spec with a snippet put under a top-level key, at the place where one would use it. */
function specWith(key: string, name: string): string {
  const lines = newSpecText({
    title: 'A film',
    kit: { path: 'kits/phone.kit.yaml', root: parseDocument(firstKitText).root! },
    region: 'DE',
    mainsHz: 50,
  }).split('\n');
  const at = lines.indexOf(`${key}:`);
  const block = indent(filled(spec[name]!));
  return (at < 0 ? [...lines, `${key}:`, ...block] : lines.toSpliced(at + 1, 0, ...block)).join('\n');
}

describe('snippets', () => {
  it('gives a whole spec and a whole kit without an error', () => {
    expect(errorsIn('a.shoot.yaml', filled(spec['A whole new shoot spec']!).join('\n'))).toEqual([]);
    expect(errorsIn('a.kit.yaml', filled(kit['A whole new kit']!).join('\n'))).toEqual([]);
  });

  const places: Record<string, string> = {
    'A shot': 'shots',
    'A shot that turns': 'shots',
    'A set-up': 'set-ups',
    'A lamp': 'lamps',
    'A lamp, moved': 'lamps',
    'A deliverable': 'deliver',
    'A piece of the cut': 'cut',
    'A piece with a push-in': 'cut',
    'A title': 'titles',
  };
  it.each(Object.entries(places))('%s fits under `%s`', (name, key) => {
    expect(errorsIn('a.shoot.yaml', specWith(key, name))).toEqual([]);
  });

  it('has each in the table above, but for the whole spec and the comment', () => {
    expect(Object.keys(spec).sort()).toEqual(
      [...Object.keys(places), 'A whole new shoot spec', 'Accept a finding'].sort(),
    );
  });

  it('has a lamp, a lens and a mode that fit into a kit', () => {
    const part = (name: string): string[] => indent(filled(kit[name]!));
    const text = [
      'title: A kit',
      'cameras:',
      '  cam:',
      '    sensor: 9.8 x 7.3 mm',
      '    modes:',
      ...indent(indent(part('A recording mode'))),
      'lenses:',
      ...part('A lens'),
      'lamps:',
      ...part('A lamp'),
    ].join('\n');
    expect(errorsIn('a.kit.yaml', text)).toEqual([]);
  });

  it('writes a first kit without an error', () => {
    expect(errorsIn('kits/phone.kit.yaml', firstKitText)).toEqual([]);
  });
});
