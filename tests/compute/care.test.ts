import { describe, expect, test } from 'vitest';
import { answer, problem, results } from '../helpers/compute.ts';

describe('circuit', () => {
  // Volts × amperes; NEC Art. 100, 210.19(A)(1), 210.20(A): 80 % for continuous loads. IEC 60364: up to the rating.
  test.each([
    ['volts=120V amps=15A watts=90W', 1800],
    ['volts=120 amps=15 watts=90 rule=nec-continuous', 1440],
    ['volts=120 amps=20 watts=90 rule=nec-continuous', 1920],
    ['volts=100 amps=15 watts=90', 1500],
    ['volts=230 amps=13 watts=90', 2990],
    ['volts=230 amps=16 watts=0.09kW', 3680],
  ])('%s', (words, limit) => {
    const found = results('circuit', words);
    expect(found['limit_va']).toBeCloseTo(limit, 9);
    // 90 W at a power factor of 0.9, as the check counts a lamp that states none.
    expect(found['load_va']).toBeCloseTo(100, 9);
  });

  test('loads add up, and the verdict never promises', () => {
    const words = 'volts=120 amps=15 watts=650 watts=800 W watts=90 rule=nec-continuous';
    const found = answer('circuit', `${words} factor=1`);
    expect(found.results['load_va']).toBe(1540);
    expect(found.inputs['watts']).toEqual(['650', '800 W', '90']);
    expect(found.notes[0]).toBe('100 VA over the limit: move something to another circuit.');
    expect(found.notes[1]).toContain('Local codes and a licensed electrician decide');
    const exact = answer('circuit', 'volts=230 amps=16 watts=3680 factor=1');
    expect(exact.notes[0]).toBe('0 VA below the limit, if nothing else is on this circuit.');
    // 1430 W at 0.9 are 1589 VA.
    expect(answer('circuit', 'volts=120 amps=15 watts=1430 rule=nec-continuous').notes[0]).toContain('149 VA over');
  });
});

describe('flash', () => {
  const verdict = (words: string) => results('flash', words)['verdict'];
  const black = 'luminance=0% luminance=100%';

  // WCAG 2.3.1 and ITU-R BT.1702-3, Guideline 1: more than 3 flashes in a second and more than 25 % of the picture.
  test.each([
    [`rate=4Hz area=60% ${black}`, 'over the limit'],
    [`rate=3Hz area=60% ${black}`, 'at the limit: with more than 5 s of it, a caution'],
    [`rate=2.5Hz area=60% ${black}`, 'at the limit: with more than 5 s of it, a caution'],
    [`rate=2Hz area=60% ${black}`, 'not over the limit'],
    [`rate=0.2Hz area=60% ${black}`, 'not over the limit'],
    [`rate=4Hz area=25% ${black}`, 'not over the limit'],
    [`rate=4Hz area=26% ${black}`, 'over the limit'],
  ])('%s', (words, expected) => {
    expect(verdict(words)).toBe(expected);
  });

  // BT.1702-3: changes of 20 cd/m² with the darker picture below 160 cd/m²; with a white of 200 the 10 % and 80 % of WCAG.
  test.each([
    ['luminance=100 cd/m² luminance=120 cd/m²', 'over the limit'],
    ['luminance=100 cd/m² luminance=119 cd/m²', 'not over the limit'],
    ['luminance=159 cd/m² luminance=190 cd/m²', 'over the limit'],
    ['luminance=160 cd/m2 luminance=190 cd/m2', 'not over the limit'],
    ['luminance=80% luminance=100%', 'not over the limit'],
  ])('%s', (words, expected) => {
    expect(verdict(`rate=5Hz area=100% ${words}`)).toBe(expected);
  });

  test('two flashes in one round count twice', () => {
    const found = answer('flash', 'rate=2Hz area=50% luminance=0% luminance=100% luminance=0% luminance=60%');
    expect(found.results).toEqual({
      verdict: 'over the limit',
      flashes: 4,
      clause: 'WCAG 2.3.1; ITU-R BT.1702-3, Guideline 1',
    });
  });

  test('never says that it is safe', () => {
    const found = answer('flash', `rate=4Hz area=10% ${black}`);
    expect(found.notes.join(' ')).toContain('cannot remove it');
    expect(found.notes.join(' ')).toContain('Only the small area');
  });

  test('one luminance, or none that a display shows', () => {
    expect(problem('flash', 'rate=4Hz', 'area=60%', 'luminance=10%')).toContain('at least twice');
    expect(problem('flash', 'rate=4Hz', 'area=60%', 'luminance=0%', 'luminance=900 cd/m²')).toContain(
      'must lie between',
    );
  });
});
