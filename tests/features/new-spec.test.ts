/** A new spec is a start to write over: it must follow the kit and the mains, and survive odd names. */
import { describe, expect, it } from 'vitest';
import { parseDocument } from '../../server/core/document/parse.ts';
import { at } from '../../server/core/document/node.ts';
import { firstKit, newKitText, usualSensor } from '../../server/features/new-kit.ts';
import { newSettingsText, newSpecText, type NewSpec } from '../../server/features/new-spec.ts';
import { mainsHzOf, regionTyped } from '../../server/features/region.ts';
import { checkerFor, kits } from '../helpers/workspace.ts';

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

const firstKitText = newKitText(firstKit);

function specOf(spec: NewSpec, kitText = ''): string {
  const checker = checkerFor({ 'kits/a.kit.yaml': kitText });
  return newSpecText(spec, (text) => checker.checkAs('shoot', text).findings);
}

function withKit(kitText: string, mainsHz: number, region = 'DE'): string {
  const gear = parseDocument(kitText).root!;
  return specOf({ title: 'A film', kit: 'kits/a.kit.yaml', gear, region, mainsHz }, kitText);
}

function findings(text: string, kitText: string): string[] {
  return checkerFor({ 'kits/a.kit.yaml': kitText })
    .checkAs('shoot', text)
    .findings.map(({ severity, message }) => `${severity} ${message}`);
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
    expect(valueIn(specOf({ title, mainsHz: 50 }), 'title')).toBe(title);
  });

  it.each(['a, b: c }', 'x\ny: z', '#1', 'key: [', '"', '~', "it's"])(
    'names gear of the name %j so that it is read again',
    (name) => {
      const key = JSON.stringify(name);
      const twoOf = (block: string) => `{ ${key}: ${block}, other: ${block} }`;
      const kit = `cameras: ${twoOf('{ modes: { raster: "1920x1080\\nx: y", rate: [25] } }')}
lenses: ${twoOf('{ focal: 50 mm }')}
lamps: { ${key}: { output: 900 lm } }
`;
      const text = withKit(kit, 50, name);
      expect(valueIn(text, 'camera', 'use')).toBe(name);
      expect(valueIn(text, 'camera', 'lens')).toBe(name);
      expect(valueIn(text, 'lamps', 'key', 'use')).toBe(name);
      expect(valueIn(text, 'region')).toBe(name);
      expect(valueIn(text, 'camera', 'raster')).toBe('3840x2160');
      expect(valueIn(newSettingsText(name), 'region')).toBe(name);
    },
  );

  it('takes lens, focal length, stop, mode, ISO and lamp colour from the kit', () => {
    const text = withKit(zoomKit, 60);
    const camera = (key: string) => valueIn(text, 'camera', key);
    expect([camera('use'), camera('lens'), camera('focal'), camera('aperture')]).toEqual([
      'near',
      'zoom',
      '47 mm',
      'f/8',
    ]);
    // As much as the kit has, for a lens that is slow and a bulb that is weak.
    expect([camera('raster'), camera('rate'), camera('iso')]).toEqual(['1920x1080', '29.97', '3200']);
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

  const described = (['phone', 'zoom', 'prime'] as const).flatMap((camera) =>
    (['panel', 'bulb', 'none'] as const).map(
      (light) => [`${camera}, ${light}`, newKitText({ camera, light, sensor: usualSensor[camera] })] as const,
    ),
  );
  const large = newKitText({ camera: 'zoom', light: 'panel', sensor: '36 x 24 mm' });

  it.each([...described, ['a large sensor', large] as const, ...Object.entries(kits)])(
    'has no finding at all with a kit of %s',
    (_, kitText) => {
      expect(checkerFor().checkAs('kit', kitText).findings).toEqual([]);
      expect(findings(withKit(kitText, 50), kitText)).toEqual([]);
      expect(findings(withKit(kitText, 60, 'US'), kitText)).toEqual([]);
    },
  );

  it('has none without a kit', () => {
    expect(findings(specOf({ title: 'A film', region: 'DE', mainsHz: 50 }), '')).toEqual([]);
  });

  it('has as few as can be where the kit leaves no choice', () => {
    // A lens that cannot be stopped down, too near for its depth, by a lamp that is too weak.
    const poor = firstKitText.replace('9.8 x 7.3 mm', '36 x 24 mm').replace('6.9 mm', '85 mm');
    const found = findings(withKit(poor, 50), poor);
    expect(found.length).toBeGreaterThan(0);
    expect(found.filter((one) => one.startsWith('error'))).toEqual([]);
  });
});

describe('a region', () => {
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

  it.each([
    ['de', 'DE'],
    [' Us ', 'US'],
    ['60', '60 Hz'],
    ['50hz', '50 Hz'],
    ['jp 60hz', 'JP 60 Hz'],
    ['Germany', 'Germany'],
  ])('%j is written as %j', (typed, written) => {
    expect(regionTyped(typed)).toBe(written);
  });
});
