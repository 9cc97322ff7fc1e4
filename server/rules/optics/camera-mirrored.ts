import { parseHex, relativeLuminance } from '../../calc/colour.ts';
import { angleBetweenDeg, type CameraPose, dot, subtract } from '../../calc/geometry.ts';
import { cameraMirrorClearDeg, mirroredShare } from '../../calc/reflect.ts';
import { type Face, facesOf, goesRound, isCurved, mayBeRound, mayBeTurned } from '../../core/derived/outline.ts';
import { isMoreThanProduct, looksAtSomebody } from '../../core/derived/people.ts';
import { looksOf, showingsOf } from '../../core/derived/showings.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import { turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Mm, Seconds } from '../../core/units.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, lengthText, num } from '../../core/say.ts';
import { subjectText } from '../framing/framing-text.ts';

export default defineRule({
  id: 'camera-mirrored',
  family: 'optics',
  summary: 'The camera sees itself in a flat shiny face of the subject.',
  severity: 'info',
  sources: [
    'law of reflection',
    'common practice, no source (a dark camera 16 cm wide; a reflection below 5 % of the face is lost)',
  ],
  limits: {
    rig: {
      quantity: 'length',
      default: '16 cm',
      meaning: 'How wide and high camera and support are, seen from the front.',
    },
    visible: {
      quantity: 'share',
      default: '5 %',
      meaning: 'How bright the reflection must be against the face to be seen.',
    },
    pass: { quantity: 'real-time', default: '0.3 s', meaning: 'A turning face may show the camera for this long.' },
  },
  messages: {
    stands:
      '{shot}: the {face} of {subject} faces the lens within {angle}: {flat}the camera shows in it{clear}. {cover} hides it.',
    passes:
      '{shot}: the {face} of {subject} turns past the lens and{flat} shows the camera for {seconds} each time. {cover} hides it.',
  },
  shot(shot, { film, limits, report }) {
    // Cloth mirrors nothing.
    if (shot.subject.weave || !mayBeFlat(shot, film) || !isSeen(film, limits.visible)) return;
    const isFlat = isSurelyFlat(shot, film);
    const surely = isFlat ? flatFirst : 0;
    const rpm = Math.abs(turningRpm(shot));
    const found = mirrors(shot, film, limits.rig);
    if (!found) return;
    const { face, pose, turnedDeg } = found;
    const distance = Math.abs(dot(subtract(pose.at, face.middle), face.normal));
    const part = film.product.parts.get(shot.subject.name);
    const data = {
      shot: shot.name,
      subject: subjectText(shot),
      face: part?.faces ? 'face' : face.name,
      cover: coverText(film),
    };
    const at = shot.camera.distance ?? shot;
    // All of its faces shine alike: it is said of the one that shows most.
    const cause = { start: film.product.start, end: film.product.end, as: 'mirror', isWide: true };
    const clearDeg = cameraMirrorClearDeg(distance, face.widthMm, limits.rig);
    if (rpm > 0 && clearDeg !== undefined) {
      const seconds = Math.min((2 * clearDeg) / (6 * rpm), turnS(shot));
      if (seconds < limits.pass) return;
      const texts = { ...data, flat: isFlat ? '' : ', if it is flat,', seconds: `${num(seconds, 1)} s` };
      report({ message: 'passes', data: texts, at, cause, excess: surely + seconds });
    } else {
      const clear = clearDeg === undefined ? '' : ` (clear from ${angleText(clearDeg)} on, at ${lengthText(distance)})`;
      report({
        message: 'stands',
        data: { ...data, flat: isFlat ? '' : 'if it is flat, ', angle: angleText(Math.max(1, turnedDeg), 0), clear },
        at,
        cause,
        // In the dark about a lit product nothing of the camera is seen.
        explainedBy: ['low-key'],
        excess: surely + (clearDeg === undefined ? 180 : clearDeg - turnedDeg),
        // In a hand it stands as the hand holds it.
        fixes: clearDeg === undefined || shot.people.length > 0 ? [] : aside(shot, found, clearDeg),
      });
    }
  },
});

/** How long it turns; a turn by an angle ends with the action. */
function turnS({ turn, actionS }: Shot): Seconds {
  return (turn?.by && actionS) ?? Infinity;
}

/** What has a depth may be round, or a relief; what has two numbers is flat, but for what goes round a round thing. */
function isSurelyFlat({ subject: { name } }: Shot, { product }: Film): boolean {
  const size = product.parts.get(name)?.size?.value;
  return size !== undefined && size.depthMm === undefined && !goesRound(size, product);
}

/** Puts what is surely flat before all that may not be. */
const flatFirst = 1000;

/** Does the plan say that the metal is hammered? Each dent mirrors another corner of the room. */
function isHammered({ action }: Shot, { title, brief, product }: Film): boolean {
  const words = [title, brief?.purpose, action?.what].map((one) => one?.value ?? '').join(' ');
  return product.finish === 'metallic' && /\b(?:hammered|hammering|hammer marks|planished)\b/i.test(words);
}

function mayBeFlat(shot: Shot, film: Film): boolean {
  if (isHammered(shot, film) && !isSurelyFlat(shot, film)) return false;
  if (shot.subject.name === 'product' && mayBeTurned(film.product)) return false;
  // What is larger than the product, or somebody, has a surface of its own.
  if (isMoreThanProduct(shot, film) || looksAtSomebody(shot, film)) return false;
  return !mayBeRound(shot, film, ['widthMm', 'heightMm']) && !isCurved(shot, film);
}

/** What lies before a mirror is all that it shows: bright metal turns as dark as a cloth. */
function coverText({ product }: Film): string {
  const own = product.colour && parseHex(product.colour.value);
  const isBright = product.finish === 'metallic' && (!own || relativeLuminance(own) >= brightFrom);
  return isBright
    ? 'A card with a hole for the lens, in the tone that the metal is to have,'
    : 'A black cloth with a hole for the lens';
}

/** As light as middle grey (18 %). */
const brightFrom = 0.18;

/** Share of light that polished metal, and the surface of gloss, throw back straight on (Fresnel for n = 1.5). */
const mirror: Readonly<Record<string, number>> = { metallic: 0.6, glossy: 0.04 };
/** Polished metal scatters little light of its own; a dark camera reflects about 5 %. Both common practice. */
const metalReflects = 0.1;
const cameraReflects = 0.05;

/** Is a dark camera, lit as the face is, bright enough in it? On a light gloss it is not. */
function isSeen({ product }: Film, visible: number): boolean {
  const shine = mirror[product.finish];
  if (shine === undefined) return false;
  const own = product.colour && parseHex(product.colour.value);
  const reflects = product.finish === 'metallic' ? metalReflects : own && relativeLuminance(own);
  if (reflects === undefined) return false;
  return mirroredShare(shine, { reflects: cameraReflects, lux: 1 }, { reflects, lux: 1 }) >= visible;
}

interface Mirrored {
  readonly face: Face;
  readonly pose: CameraPose;
  readonly turnedDeg: number;
}

/** The face that shows the camera most squarely while it is seen. */
function mirrors(shot: Shot, film: Film, rigMm: number): Mirrored | undefined {
  let most: Mirrored | undefined;
  for (const { pose, turn } of looksOf(showingsOf(shot, film))) {
    for (const face of facesOf(shot, film, turn)) {
      if (!showsCamera(face, pose, belowLensMm(shot, pose, rigMm), rigMm)) continue;
      const turnedDeg = angleBetweenDeg(face.normal, subtract(pose.at, face.middle));
      if (!most || turnedDeg < most.turnedDeg) most = { face, pose, turnedDeg };
    }
  }
  return most;
}

/** Does the foot of the upright from the lens on the face's plane, give or take the camera's mirrored half, meet the face? */
function showsCamera(
  { middle, normal, across, widthMm, heightMm }: Face,
  { at }: CameraPose,
  belowMm: Mm,
  rigMm: Mm,
): boolean {
  const toLens = subtract(at, middle);
  if (dot(toLens, normal) <= 0) return false;
  const aside = Math.abs(dot(toLens, across));
  const rigHalf = toLens.y > 0 ? belowMm : rigMm / 2;
  return aside < widthMm / 2 + rigMm / 4 && Math.abs(toLens.y) < heightMm / 2 + rigHalf / 2;
}

/** What of the camera is below its lens: over the surface no more than there is room for. */
function belowLensMm(shot: Shot, { at }: CameraPose, rigMm: Mm): Mm {
  const outline = surfaceOutline(shot);
  const isOver = at.y > 0 && (!outline || isOnSurface(outline, at));
  return isOver ? Math.min(rigMm / 2, at.y) : rigMm / 2;
}

const mostTurnDeg = 12;

/** The product turned out of the way, the smaller way from how it stands. */
function aside(shot: Shot, { face, pose }: Mirrored, clearDeg: number): FixIdea[] {
  const { turn } = shot;
  if (turn?.by || turn?.speed) return [];
  const toLens = subtract(pose.at, face.middle);
  const level = angleBetweenDeg(face.normal, { ...toLens, y: 0 });
  // Clockwise from above the normal goes from −z to −x: the way that it already looks off is the shorter one.
  const way = face.normal.x * toLens.z - face.normal.z * toLens.x < -1e-9 ? -1 : 1;
  const by = Math.ceil(clearDeg + 0.5 - level);
  // Turned farther, it is another picture.
  if (by > mostTurnDeg) return [];
  const starts = Math.round((turn?.starts?.value ?? 0) + way * by);
  const degrees = `${((starts % 360) + 360) % 360}°`;
  const title = `Stand the product turned by ${degrees} (the camera is out of its face)`;
  return [turn ? set(title, [turn, 'starts', degrees]) : set(title, [shot, 'turn', `{ starts: ${degrees} }`])];
}
