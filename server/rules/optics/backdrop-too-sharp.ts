import { markedFNumbers } from '../../calc/exposure.ts';
import { blurInPlaneMm, gapForBlurMm } from '../../calc/optics.ts';
import { fromCamera } from '../../calc/geometry.ts';
import { cameraPose, type LensMoment, lensAt, subjectPlace, tiltDeg } from '../../core/derived/optics.ts';
import { isWall } from '../../core/derived/past-backdrop.ts';
import type { Backdrop, Film, Shot, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { apertureText, brighterText, lengthText, listText } from '../../core/say.ts';
import { exposureTrade } from '../exposure/exposure-fixes.ts';
import { trial, tryShot } from '../../core/derived/showings.ts';
import type { Mm } from '../../core/units.ts';
import { holds, sharpnessAt, strictest } from '../../core/derived/sharp.ts';
import { pastBackdropMm, showsBackdrop } from './past-edges.ts';

export default defineRule({
  id: 'backdrop-too-sharp',
  family: 'optics',
  summary: 'Creases, weave or grain of the backdrop will show.',
  severity: 'sheet',
  sources: ['thin lens', 'common practice, no source (a feature half as wide as the blur keeps little contrast)'],
  limits: {
    blur: {
      quantity: 'number',
      default: '2',
      meaning: 'How many times wider than the texture its blur must be to hide it.',
    },
  },
  messages: {
    shows:
      '{shot}: {behind} behind the product the backdrop is blurred by {blur} only; {texture} of texture shows below {wanted}. {way}.',
  },
  shot(shot, { film, limits, report }) {
    const { backdrop } = shot;
    const texture = backdrop && textureOf(backdrop);
    // Looking steeply down, the surface is the backdrop.
    if (!texture || !backdrop?.behind || tiltDeg(shot, 0) > 45 || lookBack(shot) <= 0.1) return;
    const lens = lensAt(shot, 0);
    const atMm = distanceToBackdrop(shot, backdrop.behind.value);
    if (!lens || lens.fNumber === undefined || atMm === undefined || atMm <= lens.focusMm) return;
    const opening = { focalMm: lens.focalMm, fNumber: lens.fNumber, distanceMm: lens.focusMm };
    const blur = blurInPlaneMm(opening, atMm);
    const wanted = limits.blur * texture.value;
    if (blur >= wanted * (1 - 1e-6) || !showsBackdrop(shot, film)) return;
    const more = (gapForBlurMm(opening, wanted) - (atMm - lens.focusMm)) / lookBack(shot);
    const cm = Math.ceil((backdrop.behind.value + more) / 10 - 1e-6);
    const isLarge = isLargeEnough(shot, film, cm * 10);
    const way = wayText(shot, lens, isLarge);
    // One is stuck with a cloth of the size there is, behind a lens that opens no wider.
    if (way === '') return;
    const fixes = () => [
      ...(isLarge ? [farther(backdrop, cm, wanted)] : []),
      ...wider(shot, film, lens, (atMm - lens.focusMm) / wanted),
    ];
    const data = {
      shot: shot.name,
      behind: backdrop.behind.text,
      blur: lengthText(blur),
      texture: lengthText(texture.value),
      wanted: lengthText(wanted),
      way,
    };
    const explainedBy = ['sharp-backdrop', 'deep-focus'] as const;
    report({ message: 'shows', data, at: texture, cause: texture, excess: wanted / blur, explainedBy, fixes });
  },
});

/** Farther back the picture takes more of it: does it still fill the picture as far as it did? */
function isLargeEnough(shot: Shot, film: Film, behindMm: Mm): boolean {
  const tried = tryShot(shot, { backdrop: { ...shot.backdrop!, behind: trial(behindMm) } });
  return pastBackdropMm(tried, film) <= pastBackdropMm(shot, film);
}

function wayText({ backdrop, camera }: Shot, lens: LensMoment, isLarge: boolean): string {
  const back = isWall(backdrop) ? 'Move the product away from it' : 'Hang it farther back';
  const opens = lens.fNumber! > (camera.lens?.aperture?.value.from ?? 0) * (1 + 1e-6);
  const text = listText([...(isLarge ? [back] : []), ...(opens ? ['open the lens'] : [])], 'or');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function farther(backdrop: Backdrop, cm: number, wanted: Mm): FixIdea {
  const title = isWall(backdrop) ? `Move the product to ${cm} cm before it` : `Hang the backdrop ${cm} cm behind`;
  return set(`${title} (blurred by ${lengthText(wanted)})`, [backdrop, 'behind', `${cm} cm`]);
}

/** A wall, boards or stone look as they are: their grain is no flaw. */
function textureOf({ texture, material, screen, screenName }: Backdrop): Val<Mm> | undefined {
  return screen || screenName || looksSo.test(material?.value ?? '') ? undefined : texture;
}

const looksSo =
  /wall|plaster|concrete|brick|tile|panel|wood|timber|board|slate|stone|marble|rust|cork|hedge|garden|shel[fv]/i;

/** Along the camera's line, through the subject's height. */
function distanceToBackdrop(shot: Shot, behindMm: number): number | undefined {
  const pose = cameraPose(shot, 0);
  return pose && fromCamera(pose, { x: 0, y: subjectPlace(shot).y, z: behindMm }).along;
}

/** How much farther along the camera's line a mm behind the product is. */
function lookBack(shot: Shot): number {
  return cameraPose(shot, 0)?.forward.z ?? 0;
}

/** A wider stop that blurs it enough (opening × gap ÷ focus = wanted) and still holds the subject sharp. */
function wider(shot: Shot, film: Film, lens: LensMoment, gapPerBlur: number) {
  const most = (lens.focalMm * gapPerBlur) / lens.focusMm;
  const n = markedFNumbers.filter((mark) => mark <= most * (1 + 1e-6)).at(-1);
  const range = shot.camera.lens?.aperture?.value;
  const closest = strictest(shot, film);
  const sharp = closest && sharpnessAt(shot, film, 0, closest.zoom);
  if (n === undefined || !range || n < range.from || n >= lens.fNumber!) return [];
  if (sharp && !holds(sharp, lens.focusMm, n)) return [];
  const gain = 2 * Math.log2(lens.fNumber! / n);
  const pay = exposureTrade(shot, film, gain);
  const what = listText([`aperture to ${apertureText(n)}`, ...(pay?.what ?? [])]);
  const title = `Set ${what} (the texture is blurred away, ${brighterText(gain + (pay?.gain ?? 0))})`;
  return [set(title, [shot.camera, 'aperture', apertureText(n)], ...(pay?.changes ?? []))];
}
