import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { LineMap, longerThan } from '../../server/core/document/lines.ts';

const text = 'title: Uhr\r\nname: 🎬 x\rkit: é\n\nlast';

describe('lines', () => {
  it('end at \\n, \\r\\n and a lone \\r', () => {
    const lines = new LineMap(text);
    const each = Array.from({ length: lines.count }, (_, line) => text.slice(lines.start(line), lines.end(line)));
    expect(each).toEqual(['title: Uhr', 'name: 🎬 x', 'kit: é', '', 'last']);
  });

  it('are one and empty in an empty text', () => {
    const lines = new LineMap('');
    expect(lines.count).toBe(1);
    expect(lines.position(0)).toEqual({ line: 0, character: 0 });
    expect(lines.offset({ line: 3, character: 3 })).toBe(0);
  });

  it('count characters in UTF-16, UTF-8 bytes or code points', () => {
    const lines = new LineMap(text);
    const x = text.indexOf('x');
    expect(lines.position(x)).toEqual({ line: 1, character: 9 });
    expect(lines.position(x, 'utf-8')).toEqual({ line: 1, character: 11 });
    expect(lines.position(x, 'utf-32')).toEqual({ line: 1, character: 8 });
    for (const units of ['utf-16', 'utf-8', 'utf-32'] as const) {
      expect(lines.offset(lines.position(x, units), units)).toBe(x);
    }
  });

  it('take a place outside for the nearest place inside', () => {
    const lines = new LineMap(text);
    expect(lines.offset({ line: -1, character: 5 })).toBe(0);
    expect(lines.offset({ line: 0, character: 99 })).toBe('title: Uhr'.length);
    expect(lines.offset({ line: 99, character: 0 })).toBe(text.length);
    expect(lines.position(text.length + 5)).toEqual({ line: 4, character: 4 });
    // Inside the film clapper, which takes four bytes.
    expect(lines.offset({ line: 1, character: 8 }, 'utf-8')).toBe(text.indexOf('🎬'));
  });
});

const pieces = fc.array(fc.constantFrom('a', 'é', '語', '🎬', '\ud83c', '\n', '\r', '\r\n', ' '), { maxLength: 40 });

describe('lines against other ways to count', () => {
  it('give the positions of the language server library', () => {
    fc.assert(
      fc.property(pieces, fc.nat(50), fc.nat(8), fc.nat(8), (parts, offset, line, character) => {
        const whole = parts.join('');
        const lines = new LineMap(whole);
        const document = TextDocument.create('file:///x', 'x', 1, whole);
        expect(lines.position(offset)).toEqual(document.positionAt(offset));
        expect(lines.offset({ line, character })).toBe(document.offsetAt({ line, character }));
      }),
    );
  });

  it('count bytes as Buffer and code points as the string iterator do', () => {
    fc.assert(
      fc.property(pieces, fc.nat(50), (parts, offset) => {
        const whole = parts.join('');
        const lines = new LineMap(whole);
        const at = Math.min(offset, whole.length);
        const insidePair = /[\ud800-\udbff]/.test(whole[at - 1] ?? '') && /[\udc00-\udfff]/.test(whole[at] ?? '');
        fc.pre(!insidePair);
        const before = whole.slice(lines.start(lines.line(at)), Math.min(at, lines.end(lines.line(at))));
        expect(lines.position(at, 'utf-8').character).toBe(Buffer.byteLength(before));
        expect(lines.position(at, 'utf-32').character).toBe([...before].length);
      }),
    );
  });

  it('measure a file in bytes of UTF-8', () => {
    fc.assert(
      fc.property(pieces, fc.nat(60), (parts, limit) => {
        const whole = parts.join('');
        expect(longerThan(whole, limit)).toBe(Buffer.byteLength(whole) > limit);
      }),
    );
  });
});
