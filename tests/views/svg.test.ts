/** Drawings as text: everything escaped, numbers short, colours that a theme can change and everybody can read. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { contrastRatio, parseHex } from '../../server/calc/colour.ts';
import { fitted, textWidth, wrapped } from '../../server/views/measure.ts';
import { hull } from '../../server/calc/plane.ts';
import { clipped, hatch } from '../../server/views/shapes.ts';
import { digits, el, escaped, ink, inks, text, toText } from '../../server/views/svg.ts';

describe('text', () => {
  test('markup, entities and quotes stay text', () => {
    const words = `</text><script>alert('x')</script> &lt; "a" & b`;
    const svg = toText(text({ x: 1, y: 2 }, words));
    expect(svg).toBe(
      '<text x="1" y="2" font-size="12" fill="#16191d">&lt;/text&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp;lt; &quot;a&quot; &amp; b</text>',
    );
  });

  test('attributes are escaped too', () => {
    expect(toText(el('g', { fill: '"><script>' }))).toBe('<g fill="&quot;&gt;&lt;script&gt;"/>');
  });

  test('what XML forbids and what turns text round is replaced', () => {
    expect(escaped('a\u0000b\u0008c\u202ed\ud800e\ufffef')).toBe('a\ufffdb\ufffdc\ufffdd\ufffde\ufffdf');
    // Unicode Standard Annex #9, section 2: nine characters that direct text, and three marks of its direction.
    const turning = Array.from({ length: 0x10000 }, (_, code) => String.fromCharCode(code)).filter((one) =>
      /\p{Bidi_Control}/u.test(one),
    );
    expect(turning).toHaveLength(12);
    for (const one of turning) expect(toText(text({ x: 1, y: 2 }, `a${one}b`))).toContain('>a\ufffdb<');
    expect(escaped('a\tb\r\nc')).toBe('a b  c');
    expect(escaped('日本 Grün 🎬')).toBe('日本 Grün 🎬');
  });

  test('no text opens or closes anything', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (words) => {
        const svg = toText(el('text', { class: words }, [words]));
        expect(svg.match(/[<>]/g)!.join('')).toBe('<><>');
        expect(svg.match(/"/g)).toHaveLength(2);
      }),
    );
  });

  test('numbers have two digits at most, and are numbers', () => {
    expect([1.005, 2.3456, -0.001, NaN, Infinity].map(digits)).toEqual(['1', '2.35', '0', '0', '0']);
  });
});

describe('colours', () => {
  test('a theme can change them, and there is one without a theme', () => {
    const shape = el('rect', { fill: ink.accent });
    expect(toText(shape)).toBe('<rect fill="#0b5394"/>');
    expect(toText(shape, { themed: true })).toBe('<rect fill="var(--plan-accent,#0b5394)"/>');
  });

  test.each(['ink', 'soft', 'accent', 'alarm'] as const)(
    '%s reads on paper and on shade (WCAG 2.2, 1.4.3: 4.5)',
    (name) => {
      for (const behind of [inks.paper, inks.shade]) {
        expect(contrastRatio(parseHex(inks[name])!, parseHex(behind)!)).toBeGreaterThanOrEqual(4.5);
      }
    },
  );
});

describe('shapes', () => {
  const square = [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 10 },
    { x: 0, y: 10 },
  ];

  test('the outline of points leaves out those inside', () => {
    expect(hull([...square, { x: 5, y: 5 }, { x: 2, y: 3 }])).toHaveLength(4);
  });

  test('a triangle cut by a square', () => {
    const triangle = [
      { x: 5, y: 5 },
      { x: 25, y: 5 },
      { x: 5, y: 25 },
    ];
    expect(new Set(clipped(triangle, square).map(({ x, y }) => `${x},${y}`))).toEqual(
      new Set(['5,5', '10,5', '10,10', '5,10']),
    );
    expect(clipped(triangle, [...square].reverse())).toHaveLength(4);
  });

  test('strokes of a hatch stay inside, a gap apart', () => {
    const lines = hatch(square, 2.5, 0);
    expect(lines.map(([a]) => a.y)).toEqual([0, 2.5, 5, 7.5]);
    expect(lines.slice(1).every(([a, b]) => Math.min(a.x, b.x) === 0 && Math.max(a.x, b.x) === 10)).toBe(true);
  });

  test('a hatch leaves out the notch of an outline that turns in', () => {
    const notched = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
      { x: 5, y: 2 },
      { x: 0, y: 10 },
    ];
    const at6 = hatch(notched, 6, 0).filter(([a]) => a.y === 6);
    expect(at6).toHaveLength(2);
  });
});

describe('words', () => {
  // Adobe's font metrics of Helvetica: H 722, e 556, l 222, l 222, o 556 thousandths.
  test('are as wide as their letters, and a little to spare', () => {
    expect(textWidth('Hello', 10)).toBeCloseTo(22.78 * 1.19, 6);
  });

  test('are broken at blanks, and inside only where one is too long', () => {
    expect(wrapped('one two three', 10, textWidth('one two', 10) + 1)).toEqual(['one two', 'three']);
    expect(wrapped('aaaaaaaaaa', 10, textWidth('aaaa', 10) + 0.01).join('')).toBe('aaaaaaaaaa');
  });

  test('are cut with an ellipsis', () => {
    expect(fitted('a long name', 10, 1000)).toBe('a long name');
    expect(fitted('a long name', 10, 35)).toMatch(/^a.*…$/);
    expect(fitted('name', 10, 1)).toBe('');
  });
});
