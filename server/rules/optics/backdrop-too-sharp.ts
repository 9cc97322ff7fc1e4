import { markedFNumbers } from '../../calc/exposure.ts';
import { blurInPlaneMm, gapForBlurMm } from '../../calc/optics.ts';
import { fromCamera } from '../../calc/geometry.ts';
import { cameraPose, type LensMoment, lensAt, subjectPlace, tiltDeg } from '../../core/derived/optics.ts';
import type { Backdrop, Film, Shot } from '../../core/film.ts';
import { defineRule, set } from '../../core/rule.ts';
import { apertureText, brighterText, lengthText, listText, quoted } from '../../core/say.ts';
import { payment } from '../exposure/pay.ts';
import { holds, sharpnessAt, strictest } from '../../core/derived/sharp.ts';

export default defineRule({
  id: 'backdrop-too-sharp',
  family: 'optics',
  summary: 'Creases, weave or grain of the backdrop will show.',
  severity: 'info',
  sources: ['thin lens', 'common practice, no source (a feature half as wide as the blur keeps little contrast)'],
  limits: {
    blur: {
      quantity: 'number',
      default: '2',
      meaning: 'How many times wider than the texture its blur must be to hide it.',
    },
  },
  messages: {
    stated:
      '{shot}: {behind} behind the product the backdrop is blurred by {blur} only; {texture} of texture shows below {wanted}. Hang it farther back, or open the lens.',
    taken:
      '{shot}: {behind} behind the product the backdrop is blurred by {blur} only; creases in {material} (taken as {texture}, not stated) show below {wanted}. Hang it farther back, or steam it.',
  },
  shot(shot, { film, limits, report }) {
    const { backdrop } = shot;
    const textureMm = backdrop && textureOf(backdrop);
    // Looking steeply down, the surface is the backdrop.
    if (!textureMm || !backdrop?.behind || tiltDeg(shot, 0) > 45 || lookBack(shot) <= 0.1) return;
    const lens = lensAt(shot, 0);
    const atMm = distanceToBackdrop(shot, backdrop.behind.value);
    if (!lens || lens.fNumber === undefined || atMm === undefined || atMm <= lens.focusMm) return;
    const opening = { focalMm: lens.focalMm, fNumber: lens.fNumber, distanceMm: lens.focusMm };
    const blur = blurInPlaneMm(opening, atMm);
    const wanted = limits.blur * textureMm;
    if (blur >= wanted * (1 - 1e-6)) return;
    const more = (gapForBlurMm(opening, wanted) - (atMm - lens.focusMm)) / lookBack(shot);
    const behind = `${Math.ceil((backdrop.behind.value + more) / 10 - 1e-6)} cm`;
    const fixes = () => [
      set(`Hang the backdrop ${behind} behind (blurred by ${lengthText(wanted)}, but it must be larger)`, [
        backdrop,
        'behind',
        behind,
      ]),
      ...wider(shot, film, lens, (atMm - lens.focusMm) / wanted),
    ];
    const data = {
      shot: shot.name,
      behind: backdrop.behind.text,
      blur: lengthText(blur),
      texture: lengthText(textureMm),
      wanted: lengthText(wanted),
    };
    const common = {
      at: backdrop.texture ?? backdrop.behind,
      explainedBy: ['sharp-backdrop', 'deep-focus'] as const,
      fixes,
    };
    if (backdrop.texture) report({ message: 'stated', data, ...common });
    else report({ message: 'taken', data: { ...data, material: quoted(backdrop.material!.value) }, ...common });
  },
});

/** Common sizes of creases and grain, where a material is known for them. Smooth paper has none. */
const usual: readonly (readonly [RegExp, number])[] = [
  [/cloth|velvet|linen|felt|muslin|canvas|fabric|curtain|cotton|silk|wool/i, 6],
  [/wall|plaster|concrete|brick/i, 2],
];

function textureOf({ texture, material, screen, screenName }: Backdrop): number | undefined {
  if (screen || screenName) return undefined;
  return texture?.value ?? usual.find(([word]) => word.test(material?.value ?? ''))?.[1];
}

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
  const pay = payment(shot, film, gain);
  const what = listText([`aperture to ${apertureText(n)}`, ...(pay?.what ?? [])]);
  const title = `Set ${what} (the texture is blurred away, ${brighterText(gain + (pay?.gain ?? 0))})`;
  return [set(title, [shot.camera, 'aperture', apertureText(n)], ...(pay?.changes ?? []))];
}
