/** Every rule by itself, so that none is silent because another one speaks: what it says is plain, and stays inside the text. */
import { describe, expect, test } from 'vitest';
import { checkFilm } from '../../server/core/check.ts';
import { Settings } from '../../server/core/settings.ts';
import { rules } from '../../server/rules/index.ts';
import { corpus, samples } from './corpus.ts';
import { fuzz } from './fuzz.ts';
import type { Mutated } from './mutate.ts';
import { checkerOf, expectFinding } from './sound.ts';

const specs = (all: typeof corpus) => all.filter(({ kind }) => kind === 'shoot');
const said = new Set<string>();

describe('every rule alone', () => {
  fuzz('spoilt specs', specs(corpus), 400, alone, true);
  fuzz('spoilt samples', specs(samples), 25, alone, true);
});

test('most rules have spoken', () => {
  // Fewer would mean that the texts no longer reach the rules.
  // Those about take sheets visit no film.
  const ofFilms = rules.filter(({ family }) => family !== 'takes');
  expect(said.size).toBeGreaterThan(ofFilms.length / 2);
});

function alone({ kind, text, files }: Mutated): void {
  const { film } = checkerOf(files).checkAs(kind, text);
  if (!film) return;
  for (const rule of rules) {
    const { findings, silenced } = checkFilm(film, [rule], Settings.usual, text);
    for (const finding of [...findings, ...silenced.map((one) => one.finding)]) {
      expectFinding(finding, text, files);
      said.add(finding.rule);
    }
  }
}
