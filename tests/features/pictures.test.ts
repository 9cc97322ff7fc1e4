/** Which picture is shown to somebody who edits, and where its things lie in the text. */
import { describe, expect, test } from 'vitest';
import { PositionMap } from '../../server/features/position-map.ts';
import { type ShownPicture, shownOf, standaloneOf, type PictureRequest } from '../../server/features/pictures.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const text = spec(`shots:
  box: { record: 12 s }
  lid:
    record: 12 s
    camera: { distance: 47 cm, shutter: 1/200 s }
    turn: { by: 90° }
cut:
  - { shot: lid, length: 4 s }
  - { shot: box, length: 6 s }
`);
const result = checkSpec(text);

function shown(wanted: PictureRequest = {}, now = text): ShownPicture {
  return shownOf(result, wanted, new PositionMap(text, now))!;
}

const at = (words: string, on = text) => on.indexOf(words);
const piece = (words: string) => text.lastIndexOf(words);

describe('the shot', () => {
  test('is the first of the film where nothing is said', () => {
    expect(shown().shot).toBe('lid');
    expect(shown().view).toBe('set-above');
  });

  test.each([
    ['at a shot', at('47 cm'), 'lid'],
    ['at another', at('record: 12 s') + 3, 'box'],
    ['at a piece of the cut', piece('shot: box'), 'box'],
    ['at the dash before one', piece('- { shot: box'), 'box'],
  ])('follows the cursor %s', (_, offset, name) => {
    expect(shown({ offset, shot: name === 'lid' ? 'box' : 'lid' }).shot).toBe(name);
  });

  test('stays where the cursor is at none', () => {
    expect(shown({ offset: at('lamps:'), shot: 'box' }).shot).toBe('box');
  });

  test('is the first of the film where its name is gone', () => {
    expect(shown({ shot: 'no such shot' }).shot).toBe('lid');
  });

  test('is none in a picture of the whole film', () => {
    for (const view of ['timeline', 'budgets']) expect(shown({ view, shot: 'box' })).not.toHaveProperty('shot');
  });
});

test('what can be chosen is said with the picture', () => {
  const { views, shots, deliverables } = shown();
  expect(views.map(({ name }) => name)).toEqual(['set-above', 'set-side', 'frame', 'colour', 'timeline', 'budgets']);
  expect(shots).toEqual(['box', 'lid']);
  expect(deliverables).toEqual(['film']);
});

test('a view that is not there is the first one', () => {
  expect(shown({ view: '__proto__' }).view).toBe('set-above');
});

test('findings are numbered as in the picture, at their characters', () => {
  const { findings, svg } = shown({ view: 'frame', shot: 'lid' });
  expect(findings.length).toBeGreaterThan(0);
  expect(findings.map(({ number }) => number)).toEqual(findings.map((_, index) => index + 1));
  for (const { number, start, end, mark } of findings) {
    expect(mark).toContain(`>${number}</text>`);
    expect(svg).toContain(`data-start="${start}" data-end="${end}"`);
  }
});

test('a part says where it is written and what is written there', () => {
  const words = shown({ view: 'set-above', shot: 'lid' }).parts.map((part) => part.words);
  expect(words).toContain('shots › lid');
  expect(words.some((one) => /^lamps › key/.test(one))).toBe(true);
  expect(words).toContain('shots › lid › camera › distance: 47 cm');
  const inTime = shown({ view: 'timeline' }).parts.map((part) => part.words);
  expect(inTime).toContain('cut › 1: { shot: lid, length: 4 s }');
});

test('parts come once each, in the order of the text', () => {
  for (const { name } of shown().views) {
    const { parts } = shown({ view: name, shot: 'lid' });
    const own = parts.filter(({ file }) => file === undefined).map(({ start }) => start);
    expect(own).toEqual([...own].sort((a, b) => a - b));
    expect(new Set(parts.map(({ start, end, file }) => `${start} ${end} ${file}`)).size).toBe(parts.length);
  }
});

test('every place of the picture moves with the text while it is broken', () => {
  // Something that can't be read is written into the title: all below moves by as much.
  const more = '"unclosed ';
  const now = text.replace('title: ', `title: ${more}`);
  const [before, after] = [shown({ shot: 'lid' }), shown({ shot: 'lid' }, now)];
  const distance = (of: ShownPicture) => of.parts.find(({ words }) => words.endsWith('distance: 47 cm'))!;
  expect(distance(after).start).toBe(distance(before).start + more.length);
  expect(now.slice(distance(after).start, distance(after).end)).toBe('47 cm');
  expect(after.svg).toContain(`data-start="${distance(after).start}" data-end="${distance(after).end}"`);
});

test('a spec without a shot has pictures of the film and none of a shot', () => {
  const bare = checkSpec('title: Nothing yet\n');
  expect(shownOf(bare, {}, new PositionMap('', ''))).toBeUndefined();
  expect(shownOf(bare, { view: 'budgets' }, new PositionMap('', ''))).toBeDefined();
});

test('a picture to keep has its own colours and says its findings in words', () => {
  const svg = standaloneOf(result, { view: 'frame', shot: 'lid' })!;
  expect(svg).not.toContain('var(');
  const [finding] = shown({ view: 'frame', shot: 'lid' }).findings;
  expect(svg).toContain(finding!.message.split(' ')[0]);
  expect(svg.length).toBeGreaterThan(shown({ view: 'frame', shot: 'lid' }).svg.length / 2);
});
