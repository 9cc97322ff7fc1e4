import { zoomHeadroom } from '../../calc/framing.ts';
import { pictureRaster } from '../../core/derived/optics.ts';
import { type Showing, showingsOfPiece } from '../../core/derived/showings.ts';
import type { View } from '../../core/derived/framing.ts';
import type { Deliverable, Film, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted, rasterText } from '../../core/say.ts';
import { sameRate } from '../../calc/rate.ts';
import type { Share } from '../../core/units.ts';
import { byDeliverable, deliverablesText, floor2, zoomText, zoomTitle } from './framing-text.ts';

export default defineRule({
  id: 'zoom-outruns-raster',
  family: 'framing',
  summary: 'Zoom and crop leave fewer recorded pixels than the deliverable has, so the picture is enlarged.',
  severity: 'warning',
  sources: [
    'geometry of the crop',
    'common practice, no source (10 % passes unseen, and twice as much where pixels are that fine)',
  ],
  limits: {
    told: {
      quantity: 'share',
      default: '10 %',
      meaning:
        'How far a picture may be enlarged before this is told; twice as far where it has more than 2560 pixels.',
    },
    soft: {
      quantity: 'share',
      default: '20 %',
      meaning: 'The same before it is a warning rather than a hint.',
    },
  },
  messages: {
    zoomed:
      '{shot}: zoom {zoom} leaves {pixels} recorded pixels for a width of {wanted} in {deliverables}: the picture is enlarged {by} times and will look soft. Zoom less, or film nearer.',
    recorded:
      '{shot}: {raster} leaves {pixels} recorded pixels for a width of {wanted} in {deliverables}, even without a zoom: the picture is enlarged {by} times and will look soft. Record a larger raster, or deliver a smaller one.',
  },
  piece(piece, { film, limits, report }) {
    const { shot } = piece;
    if (!shot) return;
    for (const showing of showingsOfPiece(piece, film)) {
      const worst = showing.views.reduce((least, view) => (view.scale < least.scale ? view : least));
      const [first] = showing.deliverables;
      const least = isFine(first) ? 2 : 1;
      if (1 / worst.scale <= 1 + least * limits.told + 1e-6) continue;
      const by = piece.zoomBy.get(first.name);
      const data = {
        shot: shot.name,
        deliverables: deliverablesText(showing),
        pixels: Math.floor(worst.cropWidthPx + 1e-6),
        wanted: first.raster!.value.width,
        by: num(1 / worst.scale, 2),
      };
      const common = {
        severity:
          1 / worst.scale <= 1 + Math.max(least * limits.soft, knownFor(worst)) + 1e-6 ? ('hint' as const) : undefined,
        excess: 1 / worst.scale,
        explainedBy: ['soft-picture'] as const,
        fixes: () => fixes(showing, piece, film),
      };
      if (worst.scale * worst.zoom < 1 - 1e-6) {
        const raster = rasterText(shot.camera.raster!.value);
        report({
          message: 'recorded',
          data: { ...data, raster },
          at: shot.camera.raster!,
          cause: shot.camera.raster!,
          ...common,
        });
      } else {
        report({
          message: 'zoomed',
          data: { ...data, zoom: num(worst.zoom, 3) },
          at: by && by.value > 1 ? by : (piece.zoomAt ?? by ?? piece),
          cause: piece.zoomAt ?? piece,
          ...common,
        });
      }
    }
  },
});

/** Who records little more than is delivered knows that a zoom enlarges: up to a third it is a hint (common practice, no source). */
const closeRaster = { scale: 1.1, by: 0.35 };

function knownFor({ scale, zoom }: View): Share {
  const unzoomed = scale * zoom;
  return unzoomed >= 1 - 1e-6 && unzoomed <= closeRaster.scale ? closeRaster.by : 0;
}

/** Of more pixels than one sees apart at the usual distance: a UHD picture from 3200 recorded ones looks the same. */
function isFine({ raster }: Deliverable): boolean {
  return raster !== undefined && Math.max(raster.value.width, raster.value.height) > 2560;
}

function fixes(showing: Showing, piece: Piece, film: Film): FixIdea[] {
  return [
    lowerFactor(showing, piece, film),
    lowerZoom(showing, piece, film),
    ...largerRaster(showing, piece.shot!),
  ].filter((fix) => fix !== undefined);
}

/** The greatest zoom with a recorded pixel for each delivered one. */
function mostZoom({ views: [view] }: Showing): number {
  return view.scale * view.zoom;
}

function leastZoom({ views }: Showing): number {
  return views.reduce((most: number, view: View) => Math.max(most, view.leastZoom), 1);
}

/** Keeps the push-in as it is everywhere else, where the smaller zoom of this deliverable leaves no empty edge. */
function lowerFactor(showing: Showing, piece: Piece, film: Film): FixIdea | undefined {
  const [one, ...more] = showing.deliverables;
  if (more.length > 0 || film.deliverables.size < 2) return undefined;
  const { from, to } = piece.zoom;
  const factor = floor2(mostZoom(showing) / Math.max(from, to));
  if (factor <= 0 || Math.min(from, to) * factor < leastZoom(showing) - 1e-6) return undefined;
  const ends = zoomText({ from: from * factor, to: to * factor });
  const title = `Set the zoom-by of ${quoted(one.name)} to ${num(factor, 2)} (zoom ${ends} there, the others keep theirs)`;
  return set(title, [byDeliverable(piece, 'zoom-by'), one.name, num(factor, 2)]);
}

function lowerZoom(showing: Showing, piece: Piece, film: Film): FixIdea | undefined {
  const by = piece.zoomBy.get(showing.deliverables[0].name)?.value ?? 1;
  const most = floor2(mostZoom(showing) / by);
  if (most * by < leastZoom(showing) - 1e-6) return undefined;
  const text = zoomText({ from: Math.min(piece.zoom.from, most), to: Math.min(piece.zoom.to, most) });
  const where = film.deliverables.size > 1 ? ' in every deliverable' : '';
  const others = showingsOfPiece(piece, film);
  const isEnough = others.every(
    (one) => mostZoom(one) >= most * (piece.zoomBy.get(one.deliverables[0].name)?.value ?? 1),
  );
  const there = isEnough ? '' : ` in ${deliverablesText(showing)}`;
  return set(`Set zoom to ${zoomTitle(text)}${where} (no pixel is enlarged${there})`, [piece, 'zoom', text]);
}

/** A larger raster of the kit at the same rate, the smallest that does. */
function largerRaster(showing: Showing, shot: Shot): FixIdea[] {
  const { body, raster, rate, bits, colourSpace } = shot.camera;
  if (!body || !raster || !rate) return [];
  const wanted = showing.views.reduce((least, view) => Math.min(least, view.scale), 1);
  const enough = body.modes
    .filter((mode) => mode.rates.some((one) => sameRate(one.value, rate.value)))
    .filter((mode) => !bits || mode.bits === bits.value)
    .filter((mode) => !colourSpace || mode.colourSpaces.includes(colourSpace.value))
    .flatMap((mode) => mode.raster?.value ?? [])
    .filter((one) => headroom(showing, shot, one) >= (headroom(showing, shot, raster.value) / wanted) * (1 - 1e-6))
    .sort((a, b) => a.width * a.height - b.width * b.height);
  const [best] = enough;
  return best ? [set(`Record at ${rasterText(best)}`, [shot.camera, 'raster', rasterText(best)])] : [];
}

function headroom({ deliverables: [one] }: Showing, shot: Shot, value: { width: number; height: number }): number {
  const recorded = pictureRaster({ ...shot.camera, raster: { ...shot.camera.raster!, value } })!;
  const out = one.raster!.value;
  return zoomHeadroom(
    { widthPx: recorded.width, heightPx: recorded.height },
    { widthPx: out.width, heightPx: out.height },
  );
}
