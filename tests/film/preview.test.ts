/** The still before a film: taken from the finished film at the moment that is named, with its text beside it. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { previewFilesOf } from '../../server/film/preview.ts';
import { readPng } from '../../server/photograph/png-file.ts';
import { assembled } from '../helpers/assembled.ts';
import { fixed, mends } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const blocks = (preview: string, more = '') => `deliver:
  film: { raster: 160x90, rate: 25, sound: none, preview: ${preview} }
${more}cut:
  - { colour: "#c03020", length: 1 s }
  - { colour: "#2040c0", length: 1 s }
`;

/** Red, green and blue in the middle of a picture. */
function middleOf(file: string): number[] {
  const pixels = readPng(readFileSync(file));
  if (typeof pixels === 'string') throw new Error(pixels);
  const at = 4 * (Math.floor(pixels.heightPx / 2) * pixels.widthPx + Math.floor(pixels.widthPx / 2));
  return [...pixels.rgba.subarray(at, at + 3)];
}

// At 25 frames a second 1 s is frame 25, the first of the second colour, and 0.96 s the last of the first.
it.each([
  ['0.96 s', [0xc0, 0x30, 0x20]],
  ['1 s', [0x20, 0x40, 0xc0]],
])('at %s is that frame of the film', async (at, colour) => {
  const file = await assembled({ plan: blocks(`{ at: ${at}, text: " A plain ground. " }`) });
  const { picture, text } = previewFilesOf(file);
  for (const [index, code] of middleOf(picture).entries()) expect(Math.abs(code - colour[index]!)).toBeLessThan(6);
  expect(readFileSync(text, 'utf8')).toBe('A plain ground.\n');
});

it('is not taken where the deliverable does not show it', async () => {
  const file = await assembled({ plan: blocks('{ at: 3 s, text: Nothing. }') });
  expect(existsSync(file)).toBe(true);
  expect(existsSync(previewFilesOf(file).picture)).toBe(false);
});

describe('what is said of it', () => {
  const said = (plan: string) => {
    const { findings } = checkSpec(spec(plan));
    const messages = findings.filter(({ rule }) => rule === 'preview-unusable').map(({ message }) => message);
    // These films are plain colours, which is told too.
    return messages.filter((message) => !message.includes('plain colour'));
  };

  test('the last moment is inside, the end is not', () => {
    expect(said(blocks('{ at: 1.96 s, text: A plain ground. }'))).toEqual([]);
    expect(said(blocks('{ at: 2 s, text: A plain ground. }'))).toEqual([
      'film shows 0 s to 2 s of the cut, and its preview is to be taken at 2 s.',
    ]);
  });

  test('a deliverable that shows less of the cut has none of its own where that of the other is not in it', () => {
    const teaser = '  teaser: { like: film, section: 0 s to 1 s }\n';
    expect(said(blocks('{ at: 1.5 s, text: A plain ground. }', teaser))).toEqual([
      'teaser shows 0 s to 1 s of the cut, and its preview is to be taken at 1.5 s.',
    ]);
  });

  test('it is given one of its own, with a word where another shot is seen then', () => {
    const text = spec(`deliver:
  film: { raster: 160x90, rate: 25, sound: none, preview: { at: 1 s, text: "It's a lid, closed" } }
  teaser: { like: film, section: 4 s to 6 s }
shots: { box: { record: 12 s }, lid: { record: 12 s } }
cut: [{ shot: box, length: 2 s }, { shot: lid, length: 8 s }]
`);
    const title = 'Give `teaser` a preview of its own at 4 s (`lid`: see whether its text holds)';
    expect(mends(text, 'preview-unusable')).toEqual([title]);
    expect(fixed(text, 'preview-unusable')[title]).toContain(
      `  teaser: { like: film, section: 4 s to 6 s, preview: { at: 4 s, text: "It's a lid, closed" } }`,
    );
  });

  test('without text, and once for all that take it over', () => {
    const wide = '  wide: { like: film }\n';
    const found = said(blocks('{ at: 1 s }', wide));
    expect(found).toEqual([expect.stringContaining('the preview has no `text`')]);
    expect(said(blocks('{ at: 1 s, text: "  " }'))).toEqual(found.map((one) => one.replace('film and wide', 'film')));
    expect(said(blocks(`{ at: 1 s, text: ${'long '.repeat(40)}}`))[0]).toMatch(/199 letters; more than 150/);
  });
});
