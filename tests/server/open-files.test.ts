/** The texts of open files, whatever a client sends. */
import { expect, test } from 'vitest';
import { parseDocument } from '../../server/core/document/parse.ts';
import { OpenFiles } from '../../server/open-files.ts';
import { quick } from '../helpers/quick.ts';

const uri = 'file:///a.shoot.yaml';

test('a file that is opened without a text is empty', () => {
  const files = new OpenFiles();
  const opened = { uri, languageId: 'shoot-spec', version: 1 } as Parameters<OpenFiles['open']>[0];
  expect(files.open(opened).text).toBe('');
});

test.each([
  [{ line: 1, character: 1 }, 'ab\r\ncXd\re\n'],
  [{ line: 2, character: 9 }, 'ab\r\ncd\reX\n'],
  [{ line: 3, character: 0 }, 'ab\r\ncd\re\nX'],
  [{ line: 9, character: 0 }, 'ab\r\ncd\re\nX'],
  [{ line: -1, character: 0 }, 'Xab\r\ncd\re\n'],
])('an edit at %j', (at, expected) => {
  const files = new OpenFiles();
  files.open({ uri, languageId: 'shoot-spec', version: 1, text: 'ab\r\ncd\re\n' });
  const changes = [{ range: { start: at, end: at }, text: 'X' }];
  expect(files.change({ uri, version: 2 }, changes, 'utf-16')!.text).toBe(expected);
});

test('a file far above the largest is edited and refused in no time', () => {
  const files = new OpenFiles();
  files.open({ uri, languageId: 'shoot-spec', version: 1, text: 'a: 1\n'.repeat(4_000_000) });
  let version = 1;
  quick(1500, () => {
    const at = { line: 3_999_999, character: 0 };
    const { text } = files.change(
      { uri, version: ++version },
      [{ range: { start: at, end: at }, text: 'x' }],
      'utf-16',
    )!;
    const { problems, lines } = parseDocument(text);
    expect([problems.map(({ rule }) => rule), lines.count]).toEqual([['spec-too-big'], 1]);
  });
});
