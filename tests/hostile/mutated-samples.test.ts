/** Samples, kits and settings spoiled in many ways; and specs beside spoiled kits and settings. */
import { describe } from 'vitest';
import { checkerFor } from '../helpers/workspace.ts';
import { sampleFiles, samples } from './corpus.ts';
import { figures } from './figures.ts';
import { fuzz } from './fuzz.ts';
import { expectFinding, expectSound } from './sound.ts';

describe('any answer is sound', () => {
  fuzz('spoilt samples', samples, figures.spoilt.samples, (one) => expectSound(one));
  fuzz('gently spoilt samples', samples, figures.spoilt.samplesGently, (one) => expectSound(one), true);
});

describe('beside spoilt kits and settings', () => {
  const others = samples.filter(({ name, kind }) => kind !== 'shoot' && name in sampleFiles);
  const specs = ['first-draft.shoot.yaml', 'bud-vase.shoot.yaml', 'lacquer-clock.shoot.yaml'];
  fuzz('spoilt kits and settings', others, figures.spoilt.besideSpecs, ({ name, text }) => {
    const files = { ...sampleFiles, [name]: text };
    const spec = specs[text.length % specs.length]!;
    const result = checkerFor(files).check(spec, files[spec]!)!;
    for (const finding of result.findings) expectFinding(finding, files[spec]!, files, text.length % 3 === 0);
  });
});
