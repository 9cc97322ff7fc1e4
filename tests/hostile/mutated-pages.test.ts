/** The specs on the rules' pages spoiled in many ways: each holds something that its rule minds. */
import { describe } from 'vitest';
import { pageSpecs } from './corpus.ts';
import { figures } from './figures.ts';
import { fuzz } from './fuzz.ts';
import { expectSound } from './sound.ts';

describe('any answer is sound', () => {
  fuzz('spoilt specs', pageSpecs, figures.spoilt.pages, (one) => expectSound(one));
  fuzz('gently spoilt specs', pageSpecs, figures.spoilt.pagesGently, (one) => expectSound(one), true);
});
