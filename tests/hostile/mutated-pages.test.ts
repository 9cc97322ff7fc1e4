/** The specs on the rules' pages spoiled in many ways: each holds something that its rule minds. */
import { describe } from 'vitest';
import { pageSpecs } from './corpus.ts';
import { fuzz } from './fuzz.ts';
import { expectSound } from './sound.ts';

describe('any answer is sound', () => {
  fuzz('spoilt specs', pageSpecs, 9500, (one) => expectSound(one));
  fuzz('gently spoilt specs', pageSpecs, 5500, (one) => expectSound(one), true);
});
