/** Accepting a finding in place: the comment must be one, accept that finding and change nothing else. */
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { actionsAt } from '../../server/features/actions.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

/** The text after a rule's first finding is accepted; undefined where that is not offered. */
function accept(text: string, rule: string): string | undefined {
  const result = checkSpec(text);
  const all = actionsAt(result, { start: 0, end: text.length }, (now) => checkSpec(now));
  const action = all.find((one) => one.kind === 'accept' && one.finding!.rule === rule);
  return action && applyEdits(text, action.edits);
}

const title = (written: string) => spec(`titles:\n  - { text: ${written}, at: 2 s, hold: 2 s, place: middle }\n`);

describe('accepting a finding', () => {
  test('is a comment of its own on the line before', () => {
    const after = accept(title('One'), 'unknown-word')!;
    expect(after).toContain('titles:\n  # accept unknown-word: say why here\n  - { text: One,');
    expect(checkSpec(after).findings).toEqual([]);
  });

  test.each(['"One\n      two"', 'One\n      two'])(
    'stands at the end of the line where that starts in %j',
    (written) => {
      const after = accept(title(written), 'unknown-word')!;
      expect(after).toContain('two' + (written.startsWith('"') ? '"' : '') + ', at: 2 s');
      expect(after).toContain('place: middle } # accept unknown-word: say why here\n');
      expect(checkSpec(after).findings).toEqual([]);
    },
  );

  test('is not offered where both ends of the line are inside values, or a comment stands there', () => {
    const both = spec(
      'titles:\n  - { text: "One\n      two", place: middle, at: 2 s, hold: 2 s, notes: "three\n      four" }\n',
    );
    expect(checkSpec(both).findings.map(({ rule }) => rule)).toContain('unknown-word');
    expect(accept(both, 'unknown-word')).toBeUndefined();
    expect(accept(title('"One\n      two"').replace(/\}\n$/, '} # mine\n'), 'unknown-word')).toBeUndefined();
  });

  test('leaves a byte order mark where it is', () => {
    const after = accept('\ufefftitle: ""\n' + spec('').replace(/^title.*\n/, ''), 'empty-value')!;
    expect(after).toMatch(/^\ufeff# accept empty-value: say why here\ntitle: ""\n/);
    expect(checkSpec(after).findings).toEqual([]);
  });

  test.each(['\n', '\r\n', '\r'])('ends its line as the file does: %j', (end) => {
    const after = accept(title('One').replaceAll('\n', end), 'unknown-word')!;
    expect(new Set(after.match(/\r\n|\n|\r/g))).toEqual(new Set([end]));
    expect(checkSpec(after).findings).toEqual([]);
  });
});
