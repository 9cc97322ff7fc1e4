/** Where people can be hurt: the load on a circuit, and flashing pictures. Says what a rule says, never that it is safe. */
import { type FlashFrame, flashVerdict, generalFlashes, mostFlashes } from '../calc/flash.ts';
import { apparentVa, circuitLimitVa } from '../calc/mains.ts';
import { num } from '../core/say.ts';
import { amps, area as share, brightness, circuitRule, flashRate, powerFactor, volts, watts } from './quantities.ts';
import { defineTopic, needed, several, usually } from './topic.ts';

const circuitTopic = defineTopic({
  id: 'circuit',
  summary: 'Load on a circuit against what it takes',
  keys: {
    volts: needed(volts, 'mains voltage'),
    amps: needed(amps, 'rating of the circuit, fuse or plug: the smallest of them'),
    watts: several(watts, 'power of each thing plugged in, written once for each'),
    factor: usually(
      powerFactor,
      '0.9',
      'power factor of the things, as on their labels; 0.9 (LED lamps, screens, supplies) when left out, 1 for filament and heat',
    ),
    rule: usually(
      circuitRule,
      'full-rating',
      'full-rating, or nec-continuous (80 % for loads of 3 hours and more); full-rating when left out',
    ),
  },
  results: {
    load_va: { unit: 'VA', meaning: 'load' },
    limit_va: { unit: 'VA', meaning: 'limit' },
  },
  formula: 'load = sum of the watts ÷ power factor; limit = volts × amps, × 0.8 with nec-continuous',
  source:
    'power factor 0.9: common practice, no source; NEC Art. 100, 210.19(A)(1), 210.20(A) (continuous loads); IEC 60364: load up to the rating',
  example: ['volts=230', 'amps=16', 'watts=650', 'watts=300'],
  compute({ volts: volt, amps: ampere, watts: loads, factor, rule }) {
    const all = loads.reduce((sum, one) => sum + one, 0);
    const load = apparentVa(all, factor);
    const limit = circuitLimitVa(volt, ampere, rule === 'nec-continuous');
    const over = load > limit * (1 + 1e-9);
    return {
      results: { load_va: load, limit_va: limit },
      notes: [
        over
          ? `${num(load - limit, 0)} VA over the limit: move something to another circuit.`
          : `${num(limit - load, 0)} VA below the limit, if nothing else is on this circuit.`,
        'Local codes and a licensed electrician decide; unwind cable reels fully.',
      ],
    };
  },
});

const verdicts = {
  over: 'over the limit',
  at: 'at the limit: with more than 5 s of it, a caution',
  under: 'not over the limit',
};

const flashTopic = defineTopic({
  id: 'flash',
  summary: 'Flashing pictures against the published limits',
  keys: {
    rate: needed(flashRate, 'how often a second the luminances below are gone through'),
    area: needed(share, 'flashing part of the picture'),
    luminance: several(
      brightness,
      'luminances of one flash in turn, in % of white or cd/m² of a display with a white of 200 cd/m²; two or more',
    ),
  },
  results: {
    verdict: { unit: '', meaning: 'verdict' },
    flashes: { unit: '', meaning: 'flashes in one second' },
    clause: { unit: '', meaning: 'by' },
  },
  formula:
    'a flash is a pair of opposing changes of 10 % of white (20 cd/m²) or more, the darker picture below 80 % (160 cd/m²); ' +
    'over the limit are more than 3 flashes in any second and more than 25 % of the picture, both together',
  source: 'WCAG 2.3.1; ITU-R BT.1702-3 (11/2023), Guideline 1',
  example: ['rate=4Hz', 'area=60%', 'luminance=0%', 'luminance=100%'],
  compute({ rate, area, luminance }) {
    if (luminance.length < 2) return { problem: 'One luminance does not flash: write `luminance` at least twice.' };
    const fps = rate * luminance.length;
    const count = generalFlashes(cycles(luminance, rate), fps);
    const { overLimit, longSequence, clause } = flashVerdict(count, area, fps);
    return {
      results: {
        verdict: overLimit ? verdicts.over : longSequence ? verdicts.at : verdicts.under,
        flashes: count.inOneSecond,
        clause,
      },
      notes: [
        'Changes to and from saturated red count at any luminance and are not counted here.',
        'The limits lower the risk and cannot remove it: warn viewers, and people on set.',
        ...(count.inOneSecond > mostFlashes && !overLimit ? ['Only the small area keeps it from being over.'] : []),
      ],
    };
  },
});

/** Picture by picture, each luminance once in a cycle, for well over the 5 s from which a sequence is long. */
function cycles(luminances: readonly number[], rate: number): FlashFrame[] {
  const count = Math.ceil(7 * rate) + 2;
  return Array.from({ length: count }, () =>
    luminances.map((value) => ({ linear: { r: value, g: value, b: value } })),
  ).flat();
}

export const careTopics = [circuitTopic, flashTopic];
