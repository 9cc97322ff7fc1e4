/** Which way a part looks: how its letters are seen, and how much of a flat one. */
import { describe, expect, test } from 'vitest';
import { lettersPxIn } from '../../server/core/derived/letters.ts';
import { subjectSeen } from '../../server/core/derived/optics.ts';
import { messages } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const film = (faces: string, camera = '', shot = '') =>
  checkSpec(
    spec(`product:
  size: 9 x 6 x 7 cm
  parts: { label: { size: 60 x 40 mm, height: 5 cm, letters: 6 mm${faces} } }
shots:
  box: { record: 12 s, subject: label, camera: { distance: 60 cm${camera.includes('height') ? '' : ', height: 5 cm'}${camera} }${shot} }
`),
  ).film!;

function lettersPx(faces: string, camera = '', shot = ''): number {
  const one = film(faces, camera, shot);
  const px = lettersPxIn(
    one,
    one.shots.get('box')!,
    one.product.parts.get('label')!,
    [...one.deliverables.values()][0]!,
  );
  return px as number;
}

describe('letters', () => {
  // 25 mm at 60 cm on 17.3 mm: 398 mm across 1920 delivered pixels, so that 6 mm are 29 pixels face on (thin lens).
  test.each([
    ['front, seen from there', ', faces: front', '', 29],
    ['front, seen from 60° aside', ', faces: front', ', angle: 60°', 14.5],
    ['right, seen from camera right', ', faces: right', ', angle: 270°', 29],
    ['left, seen from camera left', ', faces: left', ', angle: 90°', 29],
    ['left, seen from camera right', ', faces: left', ', angle: 270°', 0],
    ['back, seen from the front', ', faces: back', '', 0],
    ['up, seen level', ', faces: up', '', 0],
    ['not said: as they read best', '', ', angle: 60°', 29],
  ])('on a part that faces %s', (_, faces, camera, px) => {
    expect(lettersPx(faces, camera)).toBeCloseTo(px, 0);
  });

  test('that look up are read from above, and those in front are not', () => {
    const above = ', height: 64.9 cm';
    expect(lettersPx(', faces: up', above)).toBeGreaterThan(28);
    expect(lettersPx(', faces: front', above)).toBeLessThan(5);
  });

  test('turn with the product', () => {
    expect(lettersPx(', faces: left', '', ', turn: { starts: 270° }')).toBeCloseTo(29, 0);
    const back =
      spec(`product: { size: 9 x 6 x 7 cm, parts: { label: { size: 60 x 40 mm, letters: 6 mm, faces: back } } }
shots:
  box: { record: 12 s, subject: label }
`);
    expect(messages(back, 'label-too-small-to-read')[0]).toContain('cannot be read');
  });
});

describe('a flat part', () => {
  const seen = (faces: string, camera: string) => subjectSeen(film(faces, camera).shots.get('box')!, 0, 0)!;

  test('that looks up lies: flat from the side, whole from above', () => {
    expect(seen(', faces: up', '').heightMm).toBeCloseTo(0, 6);
    expect(seen(', faces: up', ', height: 64.99 cm').heightMm).toBeGreaterThan(39);
    expect(seen('', ', height: 64.99 cm').heightMm).toBeLessThan(2);
  });

  test('that looks left stands along the side', () => {
    expect(seen(', faces: left', '').widthMm).toBeCloseTo(0, 6);
    expect(seen(', faces: left', ', angle: 90°').widthMm).toBeCloseTo(60, 6);
  });
});
