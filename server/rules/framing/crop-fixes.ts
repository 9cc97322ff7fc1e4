/** What brings a subject back into the pictures that cut it off. */
import type { EdgeTangents } from '../../calc/framing.ts';
import { type Showing, showingsOf, tryShot } from '../../core/derived/showings.ts';
import { sideways, wayOf } from '../../core/derived/sight.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, percentText, quoted } from '../../core/say.ts';
import { distanceChange, fartherCm } from '../optics/distance-change.ts';
import {
  byDeliverable,
  deliverablesText,
  floor2,
  pieceText,
  subjectText,
  zoomText,
  zoomTitle,
} from './framing-text.ts';
import { isCutByShape, withZoom, worst } from './past-crop.ts';

export function fixes(shot: Shot, film: Film, where: Showing, spare: number): FixIdea[] {
  const choices = [lessZoom(where, film, spare), moved(where, film, spare)];
  return [...choices.filter((fix) => fix !== undefined), ...farther(shot, film, where, spare)];
}

/** What runs or is carried may go beside the camera: the plan says so, not the numbers. */
export function sayGoesAlong({ action }: Shot, subject: string): FixIdea[] {
  if (!action?.what || action.fields.said('moves')) return [];
  return [set(`Say that ${subject} goes beside the camera, at its pace`, [action, 'moves', 'both'])];
}

/** The same slide, so much shorter that all is in the picture from its start to its end. */
export function lessSlide(shot: Shot, film: Film, spare: number): FixIdea[] {
  const { slide } = shot.camera;
  for (let share = 0.9; slide && share > 0.05; share -= 0.1) {
    const value = { from: slide.value.from * share, to: slide.value.to * share };
    const tried = tryShot(shot, { camera: { slide: { ...slide, value } } });
    if (showingsOf(tried, film).some((where) => worst(where, film, spare).past > 0)) continue;
    const text = `${lengthText(value.from)} to ${lengthText(value.to)}`;
    return [
      set(`Set slide to ${quoted(text)} (all of ${subjectText(shot)} stays in the picture)`, [
        shot.camera,
        'slide',
        text,
      ]),
    ];
  }
  return [];
}

/** Moves the picture of these deliverables so that the subject lies in the middle, where that is enough. */
function moved(where: Showing, film: Film, spare: number): FixIdea | undefined {
  const { piece, deliverables, views } = where;
  const { outline, edges, side } = worst(where, film, spare);
  if (!piece || (side !== 'left' && side !== 'right')) return undefined;
  const width = edges.right - edges.left;
  const sign = sideways(wayOf(where.shot, piece));
  const share = sign * Math.round((50 * (edges.left + edges.right - outline.left - outline.right)) / width);
  const slid = views.map((view) => ({ ...view, edges: view.edges && slide(view.edges, (-sign * share) / 100) }));
  if (share === 0 || worst({ ...where, views: slid as unknown as Showing['views'] }, film, spare).past > 0)
    return undefined;
  const changes = deliverables.map((one) => {
    const total = Math.round((piece.shiftBy.get(one.name)?.value ?? 0) * 100) + share;
    return [byDeliverable(piece, 'shift-by'), one.name, `${total} %`] as const;
  });
  const way = share > 0 ? 'right' : 'left';
  return set(`Move the picture ${Math.abs(share)} % to the ${way} in ${deliverablesText(where)}`, ...changes);
}

function slide(edges: EdgeTangents, share: number): EdgeTangents {
  const by = (edges.right - edges.left) * share;
  return { ...edges, left: edges.left + by, right: edges.right + by };
}

/** A smaller zoom of this piece, where it has one to give. */
function lessZoom(where: Showing, film: Film, spare: number): FixIdea | undefined {
  const { piece } = where;
  if (!piece?.zoomAt) return undefined;
  const top = Math.max(piece.zoom.from, piece.zoom.to);
  // Nobody zooms in 20 times, so nothing beyond is tried.
  for (let most = floor2(Math.min(top, 20) - 0.01); most >= 1; most = floor2(most - 0.01)) {
    const factor = piece.zoomBy.get(where.deliverables[0].name)?.value ?? 1;
    if (worst(withZoom(where, most * factor)!, film, spare).past > 0) continue;
    const text = zoomText({ from: Math.min(piece.zoom.from, most), to: Math.min(piece.zoom.to, most) });
    const which = where.shot.pieces.length > 1 ? ` of ${pieceText(piece)}` : '';
    return set(`Set zoom${which} to ${zoomTitle(text)} (all of ${subjectText(where.shot)} is in the picture)`, [
      piece,
      'zoom',
      text,
    ]);
  }
  return undefined;
}

/** From here on it would be too small elsewhere, where a shape of its own cuts it in one deliverable. */
const tooSmall = 1.3;

export function farther(shot: Shot, film: Film, where: Showing, spare: number): FixIdea[] {
  const cm = holdingCm(shot, film, spare);
  if (cm === undefined) return [];
  const times = (cm * 10) / shot.camera.distance!.value.from;
  const change = distanceChange(shot, cm * 10, `${cm} cm`);
  const title = `Set distance to ${cm} cm (it fits with ${percentText(spare, 1)} to spare, ${num(times, 2)} times smaller)`;
  const plain = set(title, ...change);
  if (!isCutByShape(shot, film, where)) return [plain];
  const cut = showingsOf(shot, film).filter((one) => worst(one, film, spare).past > 1e-9);
  const zooms = shot.pieces.flatMap((piece) => {
    const names = cut.flatMap((one) => (one.piece === piece ? one.deliverables.map(({ name }) => name) : []));
    const zoom = { from: floor2(piece.zoom.from * times), to: floor2(piece.zoom.to * times) };
    // So that the picture still fills it.
    const by = (name: string) =>
      (Math.ceil(((piece.zoomBy.get(name)?.value ?? 1) * piece.zoom.from * 1000) / zoom.from - 1e-6) / 1000).toString();
    return [
      [piece, 'zoom', zoomText(zoom)] as const,
      ...names.map((name) => [byDeliverable(piece, 'zoom-by'), name, by(name)] as const),
    ];
  });
  const both = `Set distance to ${cm} cm and zoom in again, but in ${deliverablesText(where)} (it fits there, the others stay as they are)`;
  return [set(both, ...change, ...zooms), ...(times > tooSmall ? [] : [plain])];
}

/** The nearest whole centimetre farther back from which every deliverable holds the subject. */
function holdingCm(shot: Shot, film: Film, spare: number): number | undefined {
  const isHeld = (tried: Shot) => showingsOf(tried, film).every((where) => worst(where, film, spare).past <= 0);
  return fartherCm(shot, (nowCm) => Math.floor(nowCm) + 1 + 3 * nowCm, isHeld);
}
