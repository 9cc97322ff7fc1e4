/** Hovers: a spec with the cursor on something, and what stands first there. */
import { describe, expect, test } from 'vitest';
import { hoverAt } from '../../server/features/hover.ts';
import { split } from '../helpers/cursor.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const page = () => ({ text: '# r\n\n## Why\n\nFirst of all. Then more.\n\n## Wrong\n', address: 'file:///r.md' });

/** The parts of the hover, one under the other. */
function hover(marked: string): string[] {
  const { text, offset } = split(marked);
  return hoverAt(checkSpec(text), offset, page)?.markdown.split('\n\n---\n\n') ?? [];
}

/** Its numbers only. */
function numbers(marked: string): string[] {
  const [first = ''] = hover(marked);
  return first.startsWith('- ') ? first.split('\n').map((line) => line.slice(2)) : [];
}

const at = (blocks: string, place: string) => spec(blocks).replace(place, `${place[0]}‸${place.slice(1)}`);

describe('numbers come first, and only those that the key moves', () => {
  test('of a shutter its angle and the light, of a distance the picture and what is sharp', () => {
    // 360° × 25 × 1/50 s.
    expect(numbers(at('', 'shutter: 1/50 s'))).toEqual([
      'Shutter 1/50 s is 180° at 25 frames/s',
      expect.stringMatching(/^The settings want \d+ lx/),
    ]);
    expect(numbers(at('', 'distance: 60 cm')).map((line) => line.split(' ')[0])).toEqual(['Picture', 'Sharp']);
    expect(numbers(at('', 'white-balance: 5000 K'))).toEqual([]);
  });

  test('of a shot’s name all', () => {
    expect(numbers(spec('shots:\n  b‸ox: { record: 12 s }\n')).length).toBeGreaterThan(4);
  });

  test('of a region its mains and the shutters that lamps on them are steady under: whole halves of a period', () => {
    expect(numbers(spec('region: D‸E\n'))).toEqual([
      'Mains 230 V, 50 Hz',
      'Steady under lamps on it: 1/100 s, 1/50 s, 1/33.33 s and 1/25 s',
    ]);
  });

  test('of letters on the product their pixels in each deliverable that shows them', () => {
    const plate = `product: { size: 9 x 6 x 7 cm, parts: { plate: { size: 30 x 2 x 12 mm, letters: ‸3 mm } } }
shots:
  box: { record: 12 s, shows: plate }
`;
    expect(numbers(spec(plate))).toEqual([expect.stringMatching(/^Letters \d+ pixels high at best in film, in box$/)]);
  });

  test('of how long a title holds the time that reading it takes, and of its letters their pixels: 5 % of 1080', () => {
    const title = (written: string) => spec(`titles:\n  - { text: "One two three", at: 2 s, ${written} }\n`);
    expect(numbers(title('h‸old: 3 s'))).toEqual([expect.stringMatching(/^Reading it takes [\d.]+ s$/)]);
    expect(numbers(title('hold: 3 s, let‸ters: 5 %'))).toEqual(['Capitals 54 pixels high in film']);
  });
});

test('the name of gear says what the kit says of it', () => {
  expect(numbers(spec('').replace('lens: normal', 'lens: nor‸mal')).at(-1)).toMatch(
    /^normal, kits\/camera\.kit\.yaml: .*focal 25 mm, aperture f\/1\.7 to f\/22/,
  );
});

test('the finding’s reason is a line with a link to its page, and comes last', () => {
  const turning = spec('shots:\n  box: { record: 12 s, turn: { speed: 1 rpm } }\n');
  const parts = hover(turning.replace('shutter: 1/50 s', 'shutter: 1/2‸00 s'));
  expect(parts[1]).toMatch(/^\*\*Shutter\*\*/);
  expect(parts.at(-1)).toBe('First of all. [shutter-off-half-frame](file:///r.md)');
});
