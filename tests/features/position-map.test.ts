/** Places of the last text that could be read, in the newest one. */
import { describe, expect, it } from 'vitest';
import { PositionMap } from '../../server/features/position-map.ts';

const then = 'shots:\n  a: {}\ncut: []\n';
const carried = (now: string, piece: string) => {
  const start = then.indexOf(piece);
  const positions = new PositionMap(then, now);
  const show = (range: { start: number; end: number } | undefined) => range && now.slice(range.start, range.end);
  const range = { start, end: start + piece.length };
  return { exact: show(positions.exact(range)), about: show(positions.about(range)) };
};

describe('a place', () => {
  it.each([
    ['stays in the same text', then],
    ['stays before a change', `${then}music: {\n`],
    ['moves with what is written before it', `title: [\n${then}`],
    ['moves with what is written right before it', then.replace('cut', 'room: {\ncut')],
  ])('%s', (_, now) => {
    expect(carried(now, 'cut').exact).toBe('cut');
    expect(carried(now, 'cut').about).toBe('cut');
  });

  it('that was changed is not exact, and about where it was', () => {
    expect(carried(then.replace('{}', '{ take'), '{}').exact).toBeUndefined();
    expect(carried(then.replace('  a: {}\n', ''), 'shots:\n  a: {}').about).toBe('shots:\n');
    expect(carried('', 'cut')).toEqual({ exact: undefined, about: '' });
  });

  it('is found back, but not in what is new', () => {
    const now = then.replace('{}', '{ takes: 2 }');
    const positions = new PositionMap(then, now);
    expect(positions.back(now.indexOf('cut'))).toBe(then.indexOf('cut'));
    expect(positions.back(now.indexOf('takes'))).toBeUndefined();
    expect(positions.back(0)).toBe(0);
  });

  it('is inside the text after any change', () => {
    for (let from = 0; from <= then.length; from++) {
      for (let to = from; to <= then.length; to++) {
        const now = then.slice(0, from) + 'x'.repeat(from % 4) + then.slice(to);
        const { start, end } = new PositionMap(then, now).about({ start: 7, end: 16 });
        expect(start >= 0 && end >= start && end <= now.length).toBe(true);
      }
    }
  });
});
