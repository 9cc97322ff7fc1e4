import { lensAt, sensorUsed } from '../../core/derived/optics.ts';
import type { CameraPose } from '../../calc/geometry.ts';
import { depthOf, depthSeen, faceCorners, isRound, mayBeRound } from '../../core/derived/outline.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import { looksOf, showingsOf, still, tryShot } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import { distanceForFieldMm, fieldMm } from '../../calc/optics.ts';
import { fits } from '../../core/resolve/kit.ts';
import { subjectText } from '../framing/framing-text.ts';

export default defineRule({
  id: 'too-near-for-shape',
  family: 'optics',
  summary: 'The camera is so near that the front of the subject looks swollen.',
  severity: 'sheet',
  sources: ['perspective', 'common practice, no source (five times the depth looks drawn, not bulging)'],
  limits: {
    ratio: {
      quantity: 'number',
      default: '1.35',
      meaning: 'How many times larger the front may be drawn than the back.',
    },
    within: {
      quantity: 'length',
      default: '70 cm',
      meaning: 'How near the camera must be: farther off, a large thing looks as large things do.',
    },
  },
  messages: {
    near: '{shot}: from {distance}, the nearest of {subject} is drawn {ratio} times as large as the farthest that is seen: its shape looks swollen. Go farther back and zoom in.',
  },
  yieldsTo: ['nearer-than-lens-focuses'],
  shot(shot, { film, limits, report }) {
    if (isDetail(shot, film) || liesFlat(shot) || isWorkedOn(shot, film) || looksAtSomebody(shot, film)) return;
    if ((lensAt(shot, 0)?.distanceMm ?? 0) > limits.within) return;
    const ratio = ratioOf(shot, film);
    // A product that reaches past the camera is cut off, and no shape can be told.
    if (ratio === undefined || ratio === Infinity || ratio <= limits.ratio * (1 + 1e-6)) return;
    report({
      message: 'near',
      data: {
        shot: shot.name,
        distance: lengthText(lensAt(shot, 0)?.distanceMm ?? shot.camera.distance!.value.from),
        subject: subjectText(shot),
        ratio: num(ratio, 2),
      },
      at: shot.camera.distance!,
      cause: shot.camera.distance!,
      excess: ratio,
      explainedBy: ['wide-near', 'tight-framing'],
      fixes: () => fixes(shot, film, limits.ratio),
    });
  },
});

/** A cloth, a game, a track: it is meant to be nearer in front, and has no shape that swells. */
function liesFlat({ subject: { box } }: Shot): boolean {
  return box?.depthMm !== undefined && box.heightMm < flat * box.depthMm;
}

const flat = 0.25;

/** One goes near to a part to see it, and nobody knows its shape so well; but one as large as the product is the product, opened. */
function isDetail({ subject: { name, box } }: Shot, { product }: Film): boolean {
  const whole = product.size?.value;
  if (name === 'product' || !box || !whole) return name !== 'product';
  return box.widthMm < whole.widthMm || box.heightMm < whole.heightMm;
}

/** What is round or soft has no edges that tell how it is drawn, least of all between hands. */
function isWorkedOn(shot: Shot, film: Film): boolean {
  const isSoft = shot.subject.weave !== undefined || film.product.weave !== undefined;
  return shot.people.length > 0 && (isSoft || isRound(shot, film) || mayBeRound(shot, film, ['widthMm']));
}

/** Of a part whose front alone must be sharp, such as a drawer or a door, the front is the shape. */
function isFace({ subject, sharp }: Shot): boolean {
  return subject.name !== 'product' && sharp === 'front';
}

function frontDepth(shot: Shot, turn: number, pose: CameraPose): ReturnType<typeof depthSeen> {
  const corners = faceCorners(shot, 'front', turn);
  return corners && depthOf(pose, corners);
}

/** Farthest over nearest of what is seen, the most of all moments and turns. */
function ratioOf(shot: Shot, film: Film): number | undefined {
  let most: number | undefined;
  for (const { pose, turn } of looksOf(showingsOf(shot, film))) {
    const seen = isFace(shot) ? frontDepth(shot, turn, pose) : depthSeen(shot, film, turn, pose);
    if (seen) most = Math.max(most ?? 0, seen.nearMm > 0 ? seen.farMm / seen.nearMm : Infinity);
  }
  return most;
}

/** A fix goes so far back that the difference is seen: nobody sees a quarter on what is round (common practice, no source). */
const mended = 0.7;

function fixes(shot: Shot, film: Film, most: number): FixIdea[] {
  const allowed = 1 + mended * (most - 1);
  const { distance } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const from = distance.value.from;
  for (let cm = Math.floor(from / 10) + 1; cm * 10 <= from * 4; cm += Math.max(1, Math.floor(cm / 100))) {
    const ratio = ratioOf(tryShot(shot, { camera: { distance: still(cm * 10) } }), film);
    if (ratio === undefined || ratio > allowed) continue;
    const smaller = num((cm * 10) / from, 2);
    const back = set(`Set distance to ${cm} cm (then ${num(ratio, 2)} times, and all is ${smaller} times smaller)`, [
      shot.camera,
      'distance',
      `${cm} cm`,
    ]);
    return [...longerLens(shot, film, cm * 10), back];
  }
  return [];
}

/** A lens of the kit that shows the same width from at least that far. */
function longerLens(shot: Shot, film: Film, leastMm: number): FixIdea[] {
  const { camera } = shot;
  const sensor = sensorUsed(shot);
  const focal = camera.focal?.value.from;
  if (!sensor || !focal) return [];
  const field = fieldMm(sensor.widthMm, focal, camera.distance!.value.from);
  return [...film.kit.lenses.values()].flatMap((lens) => {
    const f = lens.focal?.value;
    if (lens === camera.lens || !f || f.from !== f.to || !fits(lens, camera.body?.name)) return [];
    const behind = sensorUsed(tryShot(shot, { camera: { lens } }));
    const mm = behind && Math.round(distanceForFieldMm(behind.widthMm, f.from, field) / 10) * 10;
    if (!mm || mm < leastMm) return [];
    const title = `Use ${quoted(lens.name)} from ${lengthText(mm)} (the same width in the picture, the shape truer)`;
    return set(title, [camera, 'lens', lens.name], [camera, 'distance', lengthText(mm)]);
  });
}
