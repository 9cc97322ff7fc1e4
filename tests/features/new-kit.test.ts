/** A new kit takes three answers, however they are typed, and points at what comes next. Its findings are looked for beside new specs. */
import { describe, expect, it } from 'vitest';
import { newKitSnippet, newKitText, sensorTyped, usualSensor } from '../../server/features/new-kit.ts';

describe('a new kit', () => {
  it.each([
    ['36x24', '36 x 24 mm'],
    ['23,5 × 15,6 mm', '23.5 x 15.6 mm'],
    ['17.3 x 13mm', '17.3 x 13 mm'],
    ['full frame', undefined],
    ['0 x 24', undefined],
    ['', undefined],
  ])('reads the sensor %j as %j', (typed, written) => {
    expect(sensorTyped(typed)).toBe(written);
  });

  it('says which numbers are the person’s own', () => {
    const of = (sensor: string) => newKitText({ camera: 'zoom', sensor, light: 'none' });
    expect(of('36 x 24 mm')).toContain('# All but the sensor are ordinary numbers');
    expect(of(usualSensor.zoom)).toContain('# These are ordinary numbers');
  });

  // What a lens shows goes with focal length ÷ sensor width (thin lens), so a kit of another sensor shows as much.
  it('has a lens that shows as much on a sensor of another size', () => {
    const share = (sensor: string, width: number) => {
      const text = newKitText({ camera: 'prime', sensor, light: 'none' });
      return Number(/focal: ([\d.]+) mm/.exec(text)![1]) / width;
    };
    expect(share('36 x 24 mm', 36)).toBeCloseTo(share('17.3 x 13 mm', 17.3), 1);
  });

  it('leads from one number that is not the person’s own to the next, the lens first', () => {
    const text = newKitText({ camera: 'zoom', sensor: '36 x 24 mm', light: 'panel' });
    const snippet = newKitSnippet(text);
    const stops = [...snippet.matchAll(/\$\{(\d+):(.*?)(?<!\\)\}/g)];
    expect(stops.sort(([, one], [, other]) => Number(one) - Number(other)).map(([, , value]) => value)).toEqual([
      '27 mm to 72 mm',
      'f/4 to f/22',
      '35 cm',
      '1400 lx at 1 m',
      '2800 K to 6500 K',
      '100°',
      '30 x 20 cm',
      '40 W',
      '100 to 12800',
      '1/8000 s to 1/24 s',
    ]);
    // What the editor makes of it when nothing is typed (the snippet syntax of the language server protocol).
    expect(snippet.replace(/\$\{\d+:(.*?)(?<!\\)\}|\$0/g, '$1').replace(/\\([\\$}])/g, '$1')).toBe(text);
  });
});
