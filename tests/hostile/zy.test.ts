import { readFileSync, writeSync } from 'node:fs';
import { test } from 'vitest';
import { checkerFor } from '../helpers/workspace.ts';
import { rules } from '../../server/rules/index.ts';
import { Checker } from '../../server/core/checker.ts';
test('which', () => {
  const [, kind, ...rest] = readFileSync('/tmp/last.txt', 'utf8').split('\n');
  const host = checkerFor({}).host;
  for (const r of rules) {
    const f = new Checker(host, [r]).checkAs(kind as 'shoot', rest.join('\n')).findings;
    for (const x of f) {
      writeSync(2, r.id + ' ' + x.message + '\n');
      void x.fixes;
    }
  }
});
