import { readFileSync } from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';
import { expect, it } from 'vitest';
import { topics } from '../../server/compute/index.ts';

it('every topic has a test that asks for its answer', () => {
  const files = globSync('*.test.ts', { cwd: import.meta.dirname, absolute: true });
  const code = files
    .filter((file) => path.basename(file) !== 'covered.test.ts')
    .map((file) => readFileSync(file, 'utf8'));
  const asks = (id: string) => new RegExp(String.raw`\b(?:answer|results?)\(\s*'${id}'`);
  expect(topics.length).toBeGreaterThan(10);
  expect(topics.map(({ id }) => id).filter((id) => !code.some((text) => asks(id).test(text)))).toEqual([]);
});
