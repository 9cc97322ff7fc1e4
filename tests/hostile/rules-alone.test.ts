/** Every rule by itself, so that none is silent because another one speaks: what it says is plain, and stays inside the text. */
import { afterAll, describe, expect } from 'vitest';
import { checkFilm } from '../../server/core/check.ts';
import { Settings } from '../../server/core/settings.ts';
import { rules } from '../../server/rules/index.ts';
import { checkerFor } from '../helpers/workspace.ts';
import { corpus, samples } from './corpus.ts';
import { fuzz } from './fuzz.ts';
import type { Mutated } from './mutate.ts';
import { expectFinding, times } from './sound.ts';

const specs = (all: typeof corpus) => all.filter(({ kind }) => kind === 'shoot');
const said = new Set<string>();

describe('every rule alone', () => {
  fuzz('spoilt specs', specs(corpus), 1500, alone, true);
  fuzz('spoilt samples', specs(samples), 250, alone, true);
});

afterAll(() => {
  // Fewer would mean that the texts no longer reach the rules.
  if (times >= 1) expect(said.size).toBeGreaterThan(rules.length * 0.85);
});

function alone({ kind, text, files }: Mutated): void {
  const { film } = checkerFor(files).checkAs(kind, text);
  if (!film) return;
  for (const rule of rules) {
    const { findings, silenced } = checkFilm(film, [rule], Settings.usual, text);
    for (const finding of [...findings, ...silenced.map((one) => one.finding)]) {
      expectFinding(finding, text, files);
      said.add(finding.rule);
    }
  }
}
