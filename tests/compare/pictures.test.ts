/** Which shots are shown, before and after, and in which outputs. */
import { describe, expect, test } from 'vitest';
import { compare } from '../../server/compare/compare.ts';
import { comparedMarkdown } from '../../server/compare/output.ts';
import { comparedPage } from '../../server/compare/page.ts';
import { changedPictures } from '../../server/compare/pictures.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const shots = (more = '') =>
  `shots:\n  whole: { record: 8 s }\n  aside: { record: 8 s${more} }\ncut:\n  - { shot: whole, length: 4 s }\n  - { shot: aside, length: 4 s }\n`;
const plan = (more?: string) => checkSpec(spec(shots(more)));
const isPng = (file: Uint8Array | undefined) => file?.[1] === 0x50 && file[2] === 0x4e;

describe('a shot is shown', () => {
  test('where its camera sees something else, before and after', () => {
    const found = changedPictures(plan(), plan(', camera: { angle: 40° }'));
    expect(found.map(({ shot }) => shot)).toEqual(['aside']);
    expect([found[0]!.before, found[0]!.after].map(isPng)).toEqual([true, true]);
  });

  test('where its light is another', () => {
    expect(changedPictures(plan(), plan(', camera: { iso: 1600 }')).map(({ shot }) => shot)).toEqual(['aside']);
  });

  test('not where only words and numbers differ that no camera sees', () => {
    expect(changedPictures(plan(), plan(', takes: 3, notes: "Wipe the lid."'))).toEqual([]);
  });

  test('alone where it is new or gone', () => {
    const before = checkSpec(spec('shots:\n  whole: { record: 8 s }\ncut:\n  - { shot: whole, length: 4 s }\n'));
    expect(changedPictures(before, plan()).map(({ shot, before: a, after: b }) => [shot, isPng(a), isPng(b)])).toEqual([
      ['aside', false, true],
    ]);
    expect(changedPictures(plan(), before).map(({ shot, before: a, after: b }) => [shot, isPng(a), isPng(b)])).toEqual([
      ['aside', true, false],
    ]);
  });

  test('not where nothing can be read', () => {
    expect(changedPictures(undefined, checkSpec('['))).toEqual([]);
  });
});

describe('an output', () => {
  const [before, after] = [plan(), plan(', camera: { angle: 40° }')];
  const file = {
    file: 'a <b>.shoot.yaml',
    what: 'changed' as const,
    comparison: compare(before, after),
    pictures: changedPictures(before, after),
  };

  test('Markdown names both files side by side', () => {
    const text = comparedMarkdown([file], (_file, { shot }, side) => `pictures/${shot}-${side}.png`);
    expect(text).toContain(
      '| aside before | after |\n| --- | --- |\n| ![aside, before](pictures/aside-before.png) | ![aside, after](pictures/aside-after.png) |',
    );
  });

  test('the page has them inside, and fetches nothing', () => {
    const page = comparedPage([file]);
    expect(
      page.match(/<img src="data:image\/png;base64,[A-Za-z0-9+/=]+" alt="aside, as lit, (?:before|after)">/g),
    ).toHaveLength(2);
    expect(page).not.toMatch(/https?:|<script|a <b>/);
    expect(page).toContain('a &lt;b&gt;.shoot.yaml');
  });
});
