import { markedFNumbers, nearestMark } from '../../calc/exposure.ts';
import { fromCamera } from '../../calc/geometry.ts';
import { airyDiscMm, effectiveFNumber, magnification } from '../../calc/optics.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { cameraPose, sharpZone, tiltDeg } from '../../core/derived/optics.ts';
import { faceCorners } from '../../core/derived/outline.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import { type Showing, showingsOf, still, trial, tryShot } from '../../core/derived/showings.ts';
import type { Facing, Film, Shot } from '../../core/film.ts';
import { type Cause, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { apertureText, asPlannedStops, brighterText, lengthText, listText, num, pixelsText } from '../../core/say.ts';
import type { Stops } from '../../core/units.ts';
import { exposureTrade } from '../exposure/exposure-fixes.ts';
import { deliverablesText, floor2, subjectText, zoomText } from '../framing/framing-text.ts';
import {
  bestFocus,
  faceThatCounts,
  focusStepped,
  focusText,
  holds,
  isFlat,
  isSharp,
  liesText,
  markedAperture,
  mustBeSharp,
  pixelsOnSensor,
  type Sharpness,
  sharpnessAt,
  strictest,
  worstBlurMm,
} from '../../core/derived/sharp.ts';

const allowed = {
  soft: {
    quantity: 'number',
    default: '4',
    meaning: 'How many circles of confusion of blur are a warning; less is a note.',
  },
  told: {
    quantity: 'number',
    default: '2.4',
    meaning: 'How many circles of confusion of blur are told at all.',
  },
  whole: {
    quantity: 'number',
    default: '1.6',
    meaning: 'The same of the whole product, and of a part that reaches far from the focus, where no focus mends it.',
  },
  single: {
    quantity: 'number',
    default: '2',
    meaning: 'The same of a lens with one aperture, which only a place farther back mends.',
  },
  strokes: {
    quantity: 'share',
    default: '10 %',
    meaning: 'Blur of a circle of confusion that is this much of the height of letters is told in any case.',
  },
} as const;

const messages = {
  short:
    '{shot}: {aperture} focused at {focus} holds {near} to {far} sharp, and what is seen of {subject} {lies}: {ends} {blur} soft in {deliverables}{estimated}. {advice}, or ask for less to be sharp.',
  focus:
    '{shot}: {aperture} focused at {focus} leaves the {end} of {subject} {blur} soft in {deliverables}; focused at {best} it holds all that is seen of it{span}{estimated}.',
} as const;

export default defineRule({
  id: 'depth-of-field-short',
  family: 'optics',
  summary: 'The sharp zone is shorter than what of the subject should be sharp.',
  severity: 'warning',
  sources: [
    'Photographic Lenses FAQ, no. 10 (near and far limit)',
    'common practice, no source (circle of confusion: the diagonal of the picture ÷ 1500)',
  ],
  limits: allowed,
  messages,
  yieldsTo: ['nearer-than-lens-focuses'],
  shot(shot, { film, limits, report }) {
    const { aperture, focus } = shot.camera;
    // Where in somebody's hands the product is, nobody knows: their ends are a guess, and arms are soft at theirs.
    if (looksAtSomebody(shot, film)) return;
    const closest = strictest(shot, film);
    const found = closest && judged(shot, film, closest.zoom);
    if (!closest || !found) return;
    const { lens, wanted, circleMm } = found;
    const pixels = pixelsOnSensor(shot, lens, closest.scale);
    const best = bestFocus(found);
    const zone = sharpZone(lens, closest.zoom)!;
    const circles = worstBlurMm(found) / circleMm;
    const least = leastTold(shot, found, limits);
    const read = { circles, legiblePx: (worstBlurMm(found) * pixels) / limits.strokes };
    if (isSharp(found) || (circles <= least * (1 + 1e-6) && !harmsLetters(shot, film, closest.showing, read))) return;
    const data = {
      shot: shot.name,
      subject: subjectText(shot),
      aperture: apertureText(lens.fNumber),
      focus: focusText(lens.focusMm),
      end: endText(found, shot, film, closest.showing.turns[0] ?? 0),
      blur: pixelsText(worstBlurMm(found) * pixels),
      deliverables: deliverablesText(closest.showing),
      lies: liesText(wanted),
      span: isFlat(wanted) ? '' : `, ${focusText(wanted.nearMm)} to ${focusText(wanted.farMm)}`,
      estimated:
        magnification(lens.focalMm, lens.focusMm) > 0.2 ? ' (estimated: so near, the length of the lens counts)' : '',
    };
    const common = {
      // What is drawn out on purpose is not looked at for its detail.
      explainedBy: ['shallow-focus', 'smeared-motion'] as const,
      excess: circles,
      cause: causeOf(shot),
      severity: circles <= limits.soft * (1 + 1e-6) ? ('info' as const) : undefined,
      fixes: () => fixes(shot, film, found, pixels),
    };
    if (isBySight(found)) {
      const at = focus ?? shot.camera.distance ?? shot;
      report({ message: 'focus', data: { ...data, best: focusText(best.focusMm) }, at, ...common });
    } else {
      const far = zone.farMm === Infinity ? 'infinity' : focusText(zone.farMm);
      const ends = data.end.includes('and') ? `its ${data.end} are up to` : `its ${data.end} is`;
      const advice = hasOneAperture(shot) ? 'Go farther back and zoom in by as much' : 'Stop down, go farther back';
      const zoneText = { near: focusText(zone.nearMm), far, ends, advice };
      report({ message: 'short', data: { ...data, ...zoneText }, at: aperture ?? shot, ...common });
    }
  },
});

/** Circles of blur from which it is told. */
function leastTold(shot: Shot, found: Sharpness, limits: Record<'told' | 'single' | 'whole', number>): number {
  const isPart = shot.subject.name !== 'product';
  if (isBySight(found) || (isShallow(found) && (isPart || !hasOneAperture(shot)))) return limits.told;
  return hasOneAperture(shot) ? limits.single : limits.whole;
}

/** Would the aperture hold it all from another focus? That is seen on the screen, and set there. */
function isBySight(found: Sharpness): boolean {
  return found.lens.fNumber >= bestFocus(found).fNumber * (1 - 1e-6);
}

/** One sees on the screen where what is not deep is sharp. */
function isShallow({ lens, wanted }: Sharpness): boolean {
  return lens.focusMm - wanted.nearMm < 50;
}

/** Locked focus is judged where the action starts, a pulled one where it is best, one that follows where it is worst. */
function judged(shot: Shot, film: Film, zoom: number): Sharpness | undefined {
  const focus = shot.camera.focus?.value;
  const pulled = typeof focus === 'object' && focus.from !== focus.to;
  const fixed = typeof focus === 'object' || focus === 'locked';
  const moments = fixed && !pulled ? [0] : momentsOf(shot, film);
  const all = moments.flatMap((moment) => sharpnessAt(shot, film, moment, zoom) ?? []);
  const sorted = all.sort((a, b) => worstBlurMm(a) - worstBlurMm(b));
  return pulled ? sorted[0] : sorted.at(-1);
}

function momentsOf(shot: Shot, film: Film): number[] {
  return [...new Set(showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.actionMoment)))];
}

/** A lens with one aperture is the cause itself, and no stop mends it; else it is the aperture that these shots take over. */
function causeOf(shot: Shot): Cause | undefined {
  return hasOneAperture(shot) ? shot.camera.lens!.aperture : shot.camera.aperture;
}

function hasOneAperture({ camera }: Shot): boolean {
  const range = camera.lens?.aperture?.value;
  return range !== undefined && range.from === range.to;
}

/** Strokes are about a tenth of a letter's height: a blur as wide eats them. */
function harmsLetters(
  shot: Shot,
  film: Film,
  { views, deliverables: [one] }: Showing,
  { circles, legiblePx }: { circles: number; legiblePx: number },
): boolean {
  if (circles <= 1) return false;
  // Where on the product letters lie that face up is not known; those on its front are at its near end.
  const isInFront = ({ value }: { value: string }) => (film.product.parts.get(value)?.faces ?? 'front') === 'front';
  const parts = [shot.subject.name, ...shot.shows.filter(isInFront).map((shown) => shown.value)];
  const pxPerMm = Math.max(...views.map((view) => pxPerMmAt(view, one) ?? 0));
  return parts.some((name) => (film.product.parts.get(name)?.letters?.value ?? Infinity) * pxPerMm <= legiblePx);
}

function endText({ nearBlurMm, farBlurMm, circleMm }: Sharpness, shot: Shot, film: Film, turnDeg: number): string {
  const [near, far, of] = endsOf(shot, film, turnDeg);
  if (nearBlurMm > circleMm && farBlurMm > circleMm) return `${near} and ${far}${of}`;
  return `${nearBlurMm > farBlurMm ? near : far}${of}`;
}

/** The near and the far end in words, and of what. From high above, the near side of a tall subject is its top. */
function endsOf(shot: Shot, film: Film, turnDeg: number): readonly [near: string, far: string, of: string] {
  const pose = cameraPose(shot, 0);
  const face = pose && faceThatCounts(shot, film, turnDeg, pose);
  if (face) return [...faceEnds(shot, face, turnDeg), ` end of the ${faceText[face]}`];
  if (tiltDeg(shot, 0) > 60) return ['top', 'foot', ''];
  return shot.sharp === 'all' ? ['front', 'back', ''] : [...faceEnds(shot, 'front', turnDeg), ' end of the front'];
}

const faceText = { front: 'front', back: 'back', left: 'face', right: 'face', up: 'top' } as const;

/** A face that stands askew has a nearer side; one that is seen from above or below a nearer edge. */
function faceEnds(shot: Shot, face: Facing, turnDeg: number): readonly [near: string, far: string] {
  const pose = cameraPose(shot, 0);
  const corners = faceCorners(shot, face, turnDeg);
  if (!pose || !corners || face === 'up') return ['near', 'far'];
  const [low, high, across] = corners.map((corner) => fromCamera(pose, corner)) as [Seen, Seen, Seen];
  if (Math.abs(across.along - low.along) > Math.abs(high.along - low.along)) {
    const isLeftNear = across.along > low.along === across.right > low.right;
    return isLeftNear ? ['left', 'right'] : ['right', 'left'];
  }
  return high.along <= low.along ? ['upper', 'lower'] : ['lower', 'upper'];
}

type Seen = ReturnType<typeof fromCamera>;

function fixes(shot: Shot, film: Film, found: Sharpness, pixels: number): FixIdea[] {
  const { distance } = shot.camera;
  const stands = !distance || distance.value.from === distance.value.to;
  const choices = [
    stands ? refocus(shot, found) : undefined,
    stopDown(shot, film, found, { pixels, refocused: stands }),
    stands ? backAndCrop(shot, film, found) : undefined,
    frontOnly(shot, film, found),
  ];
  return choices.filter((fix) => fix !== undefined);
}

/** Free: focus where front and back are equally soft, when both are then sharp. */
function refocus(shot: Shot, found: Sharpness): FixIdea | undefined {
  const { focusMm } = bestFocus(found);
  if (!holds(found, focusStepped(focusMm), found.lens.fNumber)) return undefined;
  const text = focusText(focusMm);
  return set(`Set focus to ${text} (${shot.sharp === 'front' ? 'the front is' : 'front and back are'} sharp)`, [
    shot.camera,
    'focus',
    text,
  ]);
}

/** How much of the blur at an end may stay, all over. */
const worthIt = 0.8;

function stopDown(
  shot: Shot,
  film: Film,
  found: Sharpness,
  { pixels, refocused }: { pixels: number; refocused: boolean },
): FixIdea | undefined {
  const { lens, wanted } = found;
  const best = bestFocus(found);
  if (!refocused || lens.fNumber >= best.fNumber * (1 - 1e-6)) return undefined;
  const least = markedAperture(shot, found);
  if (least === undefined) return undefined;
  const gainAt = (fNumber: number) => 2 * Math.log2(lens.fNumber / fNumber);
  const pay = exposureTrade(shot, film, gainAt(least));
  // An ISO that gives more than it must, such as a second base, lets the lens be stopped down as much more.
  const n = pay && pay.left > asPlannedStops ? stopped(shot, least, pay.left) : least;
  const [text, focus] = [apertureText(n), focusText(best.focusMm)];
  const disc = airyDiscMm(effectiveFNumber(n, magnification(lens.focalMm, best.focusMm))) * pixels;
  // Where diffraction would soften all of the picture as much as focus does an end of it, nothing is won.
  if (disc > worthIt * worstBlurMm(found) * pixels) return undefined;
  const price = `${brighterText(gainAt(n) + (pay?.gain ?? 0))}${disc > 2.5 ? ', and diffraction starts to show' : ''}`;
  const what = listText([`aperture to ${text}`, `focus to ${focus}`, ...(pay?.what ?? [])]);
  const title = `Set ${what} (all ${lengthText(wanted.farMm - wanted.nearMm)} sharp, ${price})`;
  return set(title, [shot.camera, 'aperture', text], [shot.camera, 'focus', focus], ...(pay?.changes ?? []));
}

/** So many stops smaller, as it is marked and as the lens has it. */
function stopped({ camera }: Shot, fNumber: number, by: Stops): number {
  const wanted = nearestMark(fNumber * 2 ** (by / 2), markedFNumbers);
  return wanted <= (camera.lens?.aperture?.value.to ?? Infinity) + 0.01 ? wanted : fNumber;
}

/** For a lens with one aperture: k times farther and k times more zoom is the same picture with k times the depth. */
function backAndCrop(shot: Shot, film: Film, found: Sharpness): FixIdea | undefined {
  const range = shot.camera.lens?.aperture?.value;
  const { distance } = shot.camera;
  if (!range || range.from !== range.to || !distance || shot.pieces.length === 0) return undefined;
  const spare = Math.min(4, ...showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.scale)));
  for (let k = 1.1; k <= spare + 1e-9; k += 0.1) {
    const mm = Math.round((distance.value.from * k) / 10) * 10;
    const tried = tryShot(shot, { camera: { distance: still(mm), focus: trial('locked' as const) } });
    const zoom = (strictest(shot, film)?.zoom ?? 1) * k;
    const there = sharpnessAt(tried, film, 0, zoom);
    if (!there || !holds(there, focusStepped(bestFocus(there).focusMm), found.lens.fNumber)) continue;
    const focus = focusText(bestFocus(there).focusMm);
    const zooms = shot.pieces.map((piece) => {
      const ends = { from: floor2(piece.zoom.from * k), to: floor2(piece.zoom.to * k) };
      return [piece, 'zoom', zoomText(ends)] as const;
    });
    const title = `Set distance to ${lengthText(mm)} and focus to ${focus}, and zoom in ${num(k, 1)} times (the same picture, all of it sharp, fewer pixels)`;
    return set(title, [shot.camera, 'distance', lengthText(mm)], [shot.camera, 'focus', focus], ...zooms);
  }
  return undefined;
}

function frontOnly(shot: Shot, film: Film, found: Sharpness): FixIdea | undefined {
  if (shot.sharp === 'front') return undefined;
  const front = mustBeSharp(shot, film, 0, 'front');
  if (!front) return undefined;
  const tried = { ...found, wanted: front };
  const best = bestFocus(tried);
  if (!holds(tried, focusStepped(best.focusMm), found.lens.fNumber)) return undefined;
  const focus = focusText(best.focusMm);
  return set(
    `Ask only for the front to be sharp and set focus to ${focus}`,
    [shot, 'sharp', 'front'],
    [shot.camera, 'focus', focus],
  );
}
