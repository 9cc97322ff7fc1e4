/** The bundled `shootspec compute`, run as a shell would run it. */
import { describe, expect, test } from 'vitest';
import { shootspec } from '../helpers/command.ts';

function compute(...args: string[]) {
  return shootspec(['compute', ...args], { cwd: import.meta.dirname });
}

describe('compute', () => {
  test('prints the results, then formula, inputs and source', () => {
    const { status, stdout, stderr } = compute(
      'depth-of-field',
      'focal=50 mm',
      'aperture=f/8',
      'coc=0.03mm',
      'distance=3m',
    );
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/sharp from +2337\.9 mm\n[\s\S]*\n {2}formula [\s\S]*\n {2}inputs [\s\S]*\n {2}source /);
  });

  // Encyclopaedia, "Hyperfocal distance", Example: 10 467 mm, sharp from 5 233 mm to infinity.
  test('json has plain numbers, null for infinity', () => {
    const { status, stdout } = compute(
      'depth-of-field',
      '--json',
      'focal=50mm',
      'aperture=f/8',
      'coc=0.03mm',
      'distance=11m',
    );
    expect(status).toBe(0);
    const results = JSON.parse(stdout) as Record<string, number | null>;
    expect(results['hyperfocal_mm']).toBeCloseTo(10466.67, 2);
    expect(results['far_mm']).toBeNull();
  });

  // SMPTE ST 12-1.
  test('words as answers', () => {
    const { stdout } = compute('timecode', 'frames=1800', 'rate=29.97', 'drop=yes', '--json');
    expect(JSON.parse(stdout)).toMatchObject({ topic: 'timecode', timecode: '00:01:00;02' });
  });

  test('alone it lists the topics with their keys', () => {
    const { status, stdout } = compute();
    expect(status).toBe(0);
    expect(stdout).toContain('\nsafe-area: ');
    expect(JSON.parse(compute('--json').stdout)).toHaveProperty('topics');
  });

  test('a topic has a help of its own, and a misspelt one a suggestion', () => {
    const { status, stdout } = compute('mired', '--help');
    expect([status, stdout]).toEqual([0, expect.stringMatching(/^mired: [^]*\n {2}from=3200K [^]*\n {2}example: /)]);
    expect(compute('mirred', '-h')).toMatchObject({ status: 2, stderr: expect.stringContaining('`mired`') as string });
    expect(compute('-h').stdout).toContain('shootspec compute [TOPIC KEY=VALUE…]');
  });

  test('escapes in a text are printed as text', () => {
    const { status, stdout } = compute('reading', 'text=Wound \u001b[31m by hand');
    expect(status).toBe(0);
    expect(stdout).toContain('Wound \\u{1b}[31m by hand');
  });

  test.each([
    [['depht-of-field'], 'Did you mean `depth-of-field`?'],
    [['mired', 'from=3200', 'K'], 'goes into quotation marks together with its key'],
    [['mired', 'from=3200'], 'is written like `from=3200 K`'],
    [['shutter', 'rate=60', 'time=1/50s'], 'longer than a frame at 60 frames/s'],
    [['mired', '--nonsense'], 'nonsense'],
  ])('wrong usage %j is exit code 2 on stderr', (args, said) => {
    const { status, stdout, stderr } = compute(...args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
  });
});
