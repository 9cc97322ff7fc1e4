import { type Showing, showingsOfPiece } from '../../core/derived/showings.ts';
import type { Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, num, percentText, quoted } from '../../core/say.ts';
import { byDeliverable, ceil2, deliverablesText, zoomText, zoomTitle } from './framing-text.ts';

export default defineRule({
  id: 'edges-empty',
  family: 'framing',
  summary: 'Zoom, straightening or shift leave a corner or edge of the finished picture empty.',
  severity: 'warning',
  sources: ['geometry of a turned and moved rectangle'],
  messages: {
    corners:
      '{shot}: straightened by {angle}, the picture needs a zoom of {wanted} in {deliverables} to hide the empty corners, and has {zoom}.',
    shifted:
      '{shot}: shifted by {shift}, the picture needs a zoom of {wanted} in {deliverables} to hide the empty edge, and has {zoom}.',
    small:
      '{shot}: the zoom is {zoom} in {deliverables}: below 1 the picture does not reach the edges, and black shows round it.',
  },
  piece(piece, { film, report }) {
    if (!piece.shot) return;
    for (const showing of showingsOfPiece(piece, film)) {
      const worst = showing.views.reduce((most, view) => (spare(view) < spare(most) ? view : most));
      if (spare(worst) >= -1e-6) continue;
      const by = piece.zoomBy.get(showing.deliverables[0].name);
      const data = {
        shot: piece.shot.name,
        deliverables: deliverablesText(showing),
        wanted: num(Math.ceil(worst.leastZoom * 1000 - 1e-6) / 1000, 3),
        zoom: num(worst.zoom, 3),
      };
      const fixes = [raiseZoom(showing, piece), straight(piece)].filter((fix) => fix !== undefined);
      const excess = -spare(worst);
      const zoomAt = by && by.value < 1 ? by : (piece.zoomAt ?? by ?? piece);
      if (worst.leastZoom <= 1 + 1e-6) {
        report({ message: 'small', data, at: zoomAt, excess, fixes });
      } else if (piece.straightenAt && piece.straightenDeg !== 0) {
        const angle = angleText(Math.abs(piece.straightenDeg));
        report({
          message: 'corners',
          data: { ...data, angle },
          at: piece.straightenAt,
          excess,
          cause: piece.straightenAt,
          fixes,
        });
      } else {
        const at = piece.shiftBy.get(showing.deliverables[0].name) ?? piece.shiftAt ?? piece;
        const shift = percentText(worst.shift, 1);
        report({ message: 'shifted', data: { ...data, shift }, at, excess, cause: piece.shiftAt, fixes });
      }
    }
  },
});

function spare(view: { zoom: number; leastZoom: number }): number {
  return view.zoom - view.leastZoom;
}

/** Raises what is too small: this deliverable's factor where that alone makes it so, else the piece's zoom at the ends that need it. */
function raiseZoom(showing: Showing, piece: Piece): FixIdea {
  const [first] = showing.views;
  const last = showing.views.at(-1)!;
  const [one] = showing.deliverables;
  const factor = piece.zoomBy.get(one.name)?.value ?? 1;
  const enough = Math.max(first.leastZoom, last.leastZoom);
  const least = Math.min(piece.zoom.from, piece.zoom.to);
  if (factor < 1 && least >= enough - 1e-6) {
    const text = num(ceil2(enough / least), 2);
    return set(`Set the zoom-by of ${quoted(one.name)} to ${text} (its edges are filled)`, [
      byDeliverable(piece, 'zoom-by'),
      one.name,
      text,
    ]);
  }
  const from = Math.max(piece.zoom.from, ceil2(first.leastZoom / factor));
  const to = Math.max(piece.zoom.to, ceil2(last.leastZoom / factor));
  const fixed = piece.zoom.from === piece.zoom.to ? { from: Math.max(from, to), to: Math.max(from, to) } : { from, to };
  const text = zoomText(fixed);
  return set(`Set zoom to ${zoomTitle(text)} (corners and edges are filled)`, [piece, 'zoom', text]);
}

function straight(piece: Piece): FixIdea | undefined {
  if (!piece.straightenAt || piece.straightenDeg === 0) return undefined;
  return set('Set straighten to 0° (level the camera on the set)', [piece, 'straighten', '0°']);
}
