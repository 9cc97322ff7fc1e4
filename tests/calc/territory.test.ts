import { expect, test } from 'vitest';
import { eeaCountries, shared, uncovered } from '../../server/calc/territory.ts';

test('the area has 30 countries (Agreement on the European Economic Area: 27 of the Union and 3 more)', () => {
  expect(new Set(eeaCountries).size).toBe(30);
  for (const outside of ['GB', 'CH', 'TR', 'UA']) expect(eeaCountries).not.toContain(outside);
});

test('everywhere covers all and is covered by nothing less', () => {
  expect(uncovered(['worldwide'], ['worldwide'])).toEqual([]);
  expect(uncovered(['DE', 'EEA', 'US'], ['worldwide'])).toEqual([]);
  expect(uncovered(['worldwide'], ['EEA', 'US'])).toEqual(['worldwide']);
});

test('the area covers its countries, and all of its countries cover it', () => {
  expect(uncovered(['DE', 'NO', 'GB'], ['EEA'])).toEqual(['GB']);
  expect(uncovered(['EEA'], ['DE', 'AT'])).toEqual(['EEA']);
  expect(uncovered(['EEA'], [...eeaCountries, 'CH'])).toEqual([]);
  expect(uncovered(['DE', 'AT', 'CH'], ['DE'])).toEqual(['AT', 'CH']);
});

test('what two lists have in common', () => {
  expect(shared(['worldwide'], ['EEA', 'US'])).toEqual(['EEA', 'US']);
  expect(shared(['DE', 'US'], ['EEA'])).toEqual(['DE']);
  expect(shared(['EEA', 'US'], ['DE', 'AT', 'CH', 'US'])).toEqual(['US', 'DE', 'AT']);
  expect(shared(['DE'], ['worldwide'])).toEqual(['DE']);
  expect(shared(['US'], ['EEA'])).toEqual([]);
});
