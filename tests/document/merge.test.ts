/** `<<: *name` as YAML 1.1 has it (https://yaml.org/type/merge.html): what is said in the block itself wins, and of several blocks the first. */
import { describe, expect, it } from 'vitest';
import { insertPair, removePair } from '../../server/core/document/edits.ts';
import { child, type MapNode, pairsOf } from '../../server/core/document/node.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { applyEdits } from '../../server/core/document/edits.ts';

const mapOf = (text: string, name: string) => child(parseDocument(text).root, name) as MapNode;
const said = (map: MapNode) =>
  Object.fromEntries(
    pairsOf(map).map(({ key, value }) => [key.text, value.kind === 'scalar' ? value.text : value.kind]),
  );

describe('a block that takes over another one', () => {
  // The examples of the published type, with ours for the names.
  const circles = 'centre: &c { x: 1, y: 2 }\nleft: &l { x: 0, y: 2 }\nbig: &b { r: 10 }\nsmall: &s { r: 1 }\n';

  it('says what that says, where it says nothing itself', () => {
    expect(said(mapOf(`${circles}is: { <<: *c, r: 10 }\n`, 'is'))).toEqual({ r: '10', x: '1', y: '2' });
    expect(said(mapOf(`${circles}is:\n  <<: [*c, *b]\n`, 'is'))).toEqual({ x: '1', y: '2', r: '10' });
    expect(said(mapOf(`${circles}is: { <<: [*b, *l, *s], x: 1 }\n`, 'is'))).toEqual({ x: '1', r: '10', y: '2' });
  });

  it('takes over what that took over', () => {
    const text = 'a: &a { x: 1 }\nb: &b { <<: *a, y: 2 }\nc: { <<: *b, y: 3 }\n';
    expect(said(mapOf(text, 'c'))).toEqual({ y: '3', x: '1' });
  });

  it('is added to, and taken from, where it is written', () => {
    const text = 'a: &a { x: 1 }\nb:\n  <<: *a\nc: { <<: *a }\n';
    const edited = (edits: ReturnType<typeof insertPair>) => applyEdits(text, edits);
    expect(edited(insertPair(text, mapOf(text, 'b'), 'y', '2'))).toBe(
      'a: &a { x: 1 }\nb:\n  <<: *a\n  y: 2\nc: { <<: *a }\n',
    );
    expect(edited(insertPair(text, mapOf(text, 'c'), 'y', '2'))).toBe(
      'a: &a { x: 1 }\nb:\n  <<: *a\nc: { <<: *a, y: 2 }\n',
    );
    expect(removePair(text, mapOf(text, 'b'), 'x')).toEqual([]);
  });
});
