import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Range } from '../../server/core/document/node.ts';
import type { Doc } from '../../server/core/document/parse.ts';
import { child } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { quick } from '../helpers/quick.ts';

const sample = `# Two shots of a music box.
title: "Hand-cranked box 🎵"
format: 1
kit: [kits/camera.kit.yaml, kits/lamps.kit.yaml]
region: DE
brief:
  client: 'Tinnabel, music-box makers'
  purpose: >
    Open the shop page;
    make people want to turn the crank.
  must-show: [crank, name-plate]
product: &box
  size: 9 x 6 x 7 cm           # wide, deep, high
  finish: glossy
  parts:
    crank: { size: 15 x 12 x 30 mm, height: 3 cm }
deliver:
  film:
    raster: 1920x1080
    rate: 25
    length: 24 s
    # accept loudness: The hall is loud.
    loudness: -14 LUFS
camera:
  lens: normal
  shutter: 1/50 s
  iso: 400
backdrop: { material: felt, colour: "#7a3b2e",
  size: 150 x 120 cm, behind: 80 cm }
lamps:
  key: { use: panel, level: 70 %, angle: 50° }
shots:
  reveal:
    takes: 4
    notes: |
      Two lines,

      and one more: # this is text.
  comb: { takes: 3, shows: [comb,
      crank] }
spare: *box
cut:                           # 40 beats
  - { shot: reveal, length: 14 beats, zoom: 1.2 to 1.6 }
  - shot: comb
    length: 26 beats
  -
    shot: reveal
`;

/** Every range that a document mentions. */
function rangesOf(doc: Doc): Range[] {
  const ranges: Range[] = [...doc.comments];
  for (const problem of doc.problems) {
    ranges.push(problem, ...problem.related, ...problem.fixes.flatMap((fix) => fix.edits));
  }
  const seen = new Set<unknown>();
  const walk = (node: Doc['root']): void => {
    if (!node || seen.has(node)) return;
    seen.add(node);
    ranges.push(node);
    if (node.kind === 'list') node.items.forEach(walk);
    if (node.kind === 'map') node.pairs.flatMap(({ key, value }) => [key, value]).forEach(walk);
  };
  walk(doc.root);
  return ranges;
}

function expectSound(text: string): void {
  const doc = parseDocument(text);
  for (const { start, end } of rangesOf(doc)) {
    if (start < 0 || end < start || end > text.length) throw new Error(`${start}–${end} of ${JSON.stringify(text)}`);
  }
  if (!doc.root && doc.problems.length === 0) throw new Error(`nothing about ${JSON.stringify(text)}`);
  if (doc.broken && doc.problems.length === 0) throw new Error(`broken, but why: ${JSON.stringify(text)}`);
}

describe('any text gives a document with ranges inside the text', () => {
  it('the sample itself is in order', () => {
    expect(parseDocument(sample).problems).toEqual([]);
  });

  it('cut off at every second place', () => {
    for (let end = 0; end <= sample.length; end += 2) expectSound(sample.slice(0, end));
  });

  it('with every second character left out, each by itself', () => {
    for (let at = 0; at < sample.length; at += 2) expectSound(sample.slice(0, at) + sample.slice(at + 1));
  });

  it('with every line left out, with \\r\\n and with \\r', () => {
    const lines = sample.split('\n');
    for (const lineEnd of ['\r\n', '\r']) {
      for (let at = 0; at < lines.length; at++) expectSound(lines.filter((_, line) => line !== at).join(lineEnd));
    }
  });

  it('with a YAML sign put in anywhere', () => {
    const sign = fc.constantFrom(
      ...'{}[],:#&*!|>\'"%@`-?\t\n\r \\~<=',
      '- ',
      ': ',
      ' #',
      '\r\n',
      '---\n',
      '\ufeff',
      '\ud83c',
    );
    fc.assert(
      fc.property(fc.nat(sample.length), fc.nat(3), sign, (at, cut, text) => {
        expectSound(sample.slice(0, at) + text + sample.slice(at + cut));
      }),
      { numRuns: 400 },
    );
  });

  it('whatever it is', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 60 }), expectSound), { numRuns: 500 });
    const yaml = fc.constantFrom(
      ...'ab1{}[],:#&*!|>\'"%@-?\t\n\r \\',
      ': ',
      '- ',
      '\n  ',
      '\n- ',
      '&a ',
      '*a',
      '!t ',
      '---\n',
      '\ud83c',
    );
    const text = fc.array(yaml, { maxLength: 40 }).map((parts) => parts.join(''));
    fc.assert(fc.property(text, expectSound), { numRuns: 1000 });
  });
});

/** Generous: what these guard against takes minutes. */
const patienceMs = 1000;

describe('no text takes long', () => {
  it('20 000 names in one block', () => {
    const text = Array.from({ length: 20_000 }, (_, i) => `k${i}: 1`).join('\n');
    const { problems, root } = quick(700, () => parseDocument(text));
    expect({ problems, pairs: root?.kind === 'map' && root.pairs.length }).toEqual({ problems: [], pairs: 20_000 });
    quick(400, () => {
      for (let i = 0; i < 20_000; i++) if (child(root, `k${i}`)?.kind !== 'scalar') throw new Error(`k${i} is missing`);
    });
  });

  // A part of what is allowed: time that grows with the square would still show.
  const size = 32 * 1024;
  const repeated = [
    '}',
    ']\n',
    ': ',
    'a: ',
    '"',
    '"\n',
    "x: '\n",
    'x: "\n',
    '%a\n',
    '---\n',
    '&a ',
    '!a ',
    '- *a\n',
    '#\n',
    ' #',
    'a #\n',
    '- |\n',
    '\n',
    '\r',
    ' ',
    '\t',
    'a',
    'a\n',
    '- a\n',
    '[]\n',
    'a: b\n',
    'a:\n b:\n  c:\n',
    '<<: a\n',
    'a: #fff\n',
    '\u202e',
    '- x #7\n',
  ];
  it.each(repeated)('32 KiB of %j', (part) => {
    const text = part.repeat(Math.floor(size / Buffer.byteLength(part)));
    quick(patienceMs, () => expectSound(text));
  });

  it.each([
    '[' + ','.repeat(size - 1),
    '[' + 'a,'.repeat(size / 2 - 1),
    '"' + '\\x'.repeat(size / 2 - 1),
    '{' + 'a\n'.repeat(size / 2 - 1),
  ])('32 KiB after a bracket or quote (%#)', (text) => {
    quick(patienceMs, () => expectSound(text));
  });
});
