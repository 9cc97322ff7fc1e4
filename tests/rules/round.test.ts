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
