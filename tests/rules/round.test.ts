/** A round product has no corners: what is judged by its outline and its depth is its diameter. */
import { expect, test } from 'vitest';
import { cameraPose } from '../../server/core/derived/optics.ts';
import { depthSeen, facesOf } from '../../server/core/derived/outline.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const product = (symmetry: string) => `product: { size: 6 x 6 x 7 cm, finish: satin, weight: 420 g${symmetry} }\n`;
const turned = 'shots:\n  box: { record: 12 s, turn: { starts: 45° } }\n';

function depthMm(symmetry: string): number {
  const { film } = checkSpec(spec(product(symmetry) + turned));
  const [shot] = film!.shots.values();
  const seen = depthSeen(shot!, film!, 45, cameraPose(shot!, 0)!)!;
  return seen.farMm - seen.nearMm;
}

test('`symmetry: round` is read, and counts the diameter and not the diagonal', () => {
  expect(checkSpec(spec(product(', symmetry: round'))).findings.map(({ rule }) => rule)).not.toContain('wrong-unit');
  // Turned by 45°, the nearest corner of a square stands √2 × 3 cm before its middle, a cylinder's side 3 cm.
  expect(depthMm(', symmetry: 4') - depthMm(', symmetry: round')).toBeGreaterThan(8);
});

test('a round product has no face to mirror the camera, and closes a loop anywhere', () => {
  const { film } = checkSpec(spec(product(', symmetry: round') + turned));
  const [shot] = film!.shots.values();
  expect(facesOf(shot!, film!, 45)).toEqual([]);
});

test('what lies and is as deep as high is seen to where its side turns away, and has no upper edge behind that', () => {
  const { film } = checkSpec(
    spec(`product: { size: 12 x 9 x 9 cm, finish: satin, parts: { roller: { size: 70 x 25 x 25 mm, height: 8 cm } } }
shots:
  roller: { record: 12 s, subject: roller }
`),
  );
  const [shot] = film!.shots.values();
  const seen = depthSeen(shot!, film!, 0, cameraPose(shot!, 0)!)!;
  // Level with it: from its nearest line to where a ray just touches it, r − r² ÷ s: 12.5 − 12.5² ÷ 600 mm.
  expect(seen.farMm - seen.nearMm).toBeCloseTo(12.5 - 12.5 ** 2 / 600, 0);
});
