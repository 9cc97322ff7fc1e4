/** A new spec is a start to write over: it must follow the kit and the mains, and survive odd names. */
import { describe, expect, it } from 'vitest';
import { parseDocument } from '../../server/core/document/parse.ts';
import { at } from '../../server/core/document/node.ts';
import { firstKitText, mainsHzOf, newSpecText } from '../../server/features/newSpec.ts';

const zoomKit = `title: Two cameras
cameras:
  near: { iso: 200 to 3200, base-iso: 200, modes: [{ raster: 1920x1080, rate: [29.97, 50] }] }
  far: { iso: 100 to 800, modes: { raster: 3840x2160, rate: 25 } }
lenses:
  long: { fits: far, focal: 90 mm, aperture: f/2.8, nearest-focus: 90 cm }
  zoom: { fits: near, focal: 24 mm to 70 mm, aperture: f/8 to f/22, nearest-focus: 90 cm }
  macro: { fits: [near, far], focal: 60 mm, aperture: f/2.8 to f/22 }
lamps:
  bulb: { output: 900 lm, temperature: 2700 K }
`;

function valueIn(text: string, ...path: string[]): string | undefined {
  const doc = parseDocument(text);
  expect(doc.problems).toEqual([]);
  const node = at(doc.root, path);
  return node?.kind === 'scalar' ? node.text : undefined;
}

function withKit(kitText: string, mainsHz: number): string {
  return newSpecText({
    title: 'A film',
    kit: { path: 'kits/a.kit.yaml', root: parseDocument(kitText).root! },
    mainsHz,
  });
}

describe('a new spec', () => {
  it.each([
    'Plain name',
    'With: a colon',
    'Batch #7',
    '"Quoted"',
    "It's # odd: {x}",
    '- dash',
    'Über 7 cm',
    'true',
    '12',
    ' ',
  ])('keeps the title %j as it was typed', (title) => {
    expect(valueIn(newSpecText({ title, mainsHz: 50 }), 'title')).toBe(title);
  });

  it('takes lens, focal length, stop, mode, ISO and lamp colour from the kit', () => {
    const text = withKit(zoomKit, 60);
    const camera = (key: string) => valueIn(text, 'camera', key);
    expect([camera('use'), camera('lens'), camera('focal'), camera('aperture')]).toEqual([
      'near',
      'zoom',
      '47 mm',
      'f/8',
    ]);
    expect([camera('raster'), camera('rate'), camera('iso')]).toEqual(['1920x1080', '29.97', '200']);
    expect([camera('white-balance'), valueIn(text, 'lamps', 'key', 'temperature')]).toEqual(['2700 K', '2700 K']);
    expect(camera('distance')).toBe('108 cm');
  });

  it('names no gear where only one can be meant', () => {
    const text = withKit(firstKitText, 50);
    expect(text).not.toMatch(/^ {2}(use|lens|focal|aperture):/m);
    expect(valueIn(text, 'camera', 'rate')).toBe('25');
  });

  it('follows the mains: 25 and 1/50 s at 50 Hz, 30 and 1/60 s at 60 Hz', () => {
    expect(valueIn(withKit(firstKitText, 50), 'camera', 'shutter')).toBe('1/50 s');
    expect(valueIn(withKit(firstKitText, 60), 'camera', 'shutter')).toBe('1/60 s');
    expect(valueIn(withKit(firstKitText, 60), 'deliver', 'film', 'rate')).toBe('30');
  });

  it.each([
    ['DE', 50],
    ['US', 60],
    ['60 Hz', 60],
    ['JP 50 Hz', 50],
    ['JP', undefined],
    ['XX', undefined],
    ['', undefined],
  ])('reads the mains of %j as %s', (region, hz) => {
    expect(mainsHzOf(region)).toBe(hz);
  });
});
