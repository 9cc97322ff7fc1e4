/** A finished picture, as a deliverable shows it. */
import { deliverablesOf } from '../../core/derived/edit.ts';
import { standsOver } from '../../core/derived/titles.ts';
import { cutOf, pxPerMmAt, type View } from '../../core/derived/framing.ts';
import { litShowing } from '../../core/derived/lit/index.ts';
import { cameraPose, lensAt, sharpZone } from '../../core/derived/optics.ts';
import { depthOf, subjectCorners } from '../../core/derived/outline.ts';
import type { Showing } from '../../core/derived/showings.ts';
import { mapper } from '../../core/derived/sight.ts';
import type { Deliverable, Film, Piece, Title } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { blockRange } from '../picture.ts';
import type { Scene } from '../scene.ts';
import { contents, litContents } from './contents.ts';
import { framed, type Panel } from './panel.ts';
import { safeAreas } from './safe-areas.ts';
import { titleDrawn } from './titles.ts';

export function finishedPanel(scene: Scene, showing: Showing, isLit: boolean): Panel {
  const { shot } = scene;
  const { deliverables, views, piece } = showing;
  const [deliverable] = deliverables;
  const raster = deliverable.raster!.value;
  const [first, last] = [views[0], views.at(-1)!];
  const pose = cameraPose(shot, first.actionMoment);
  const names = say.listText(deliverables.map((one) => one.name));
  const titles = titlesOf(scene.film, deliverable, piece);
  return {
    ranges: [
      deliverable,
      deliverable.raster,
      deliverable.fields.node('keep-clear'),
      piece?.zoomBy.get(deliverable.name),
      ...titles.map(blockRange),
    ],
    raster,
    ...(piece && { piece }),
    head: names,
    sub: `${say.rasterText(raster)} · ${zoomWords(first, last)}`,
    foot: [pixelWords(first, last, deliverable), sharpWords(scene, showing)].filter(Boolean),
    draw: (frame) => {
      const cut = cutOf(shot, piece, first);
      const flat = pose && cut && mapper(cut, frame);
      const written = [
        ...(isLit ? [] : safeAreas(deliverable, raster, frame)),
        ...titles.flatMap((title) => titleDrawn(title, deliverable, raster, frame)),
      ];
      const sight = flat && pose && { scene, pose, flat, frame, showing };
      const lit = isLit ? litShowing(scene.film, showing) : undefined;
      const seen = lit ? [litContents(scene, lit, frame)] : sight ? contents(sight, true) : [];
      return framed(frame, [...seen, { drawn: written, labels: [] }]);
    },
  };
}

function zoomWords(first: View, last: View): string {
  return first.zoom === last.zoom
    ? `zoom ${say.num(first.zoom, 2)}`
    : `zoom ${say.num(first.zoom, 2)} to ${say.num(last.zoom, 2)}`;
}

function pixelWords(first: View, last: View, deliverable: Deliverable): string {
  const least = Math.min(first.scale, last.scale);
  const px = pxPerMmAt(last, deliverable);
  return px ? `${spareWords(least)}, ${say.num(px)} px a mm` : spareWords(least);
}

function spareWords(scale: number): string {
  if (Math.abs(scale - 1) < 0.005) return 'just the pixels it needs';
  return scale > 1 ? `${say.num(scale, 2)} times the pixels it needs` : `enlarged by ${say.percentText(1 / scale - 1)}`;
}

/** The sharp zone against the subject. */
function sharpWords({ shot, film }: Scene, { views, turns, piece }: Showing): string {
  const lens = lensAt(shot, views[0].actionMoment);
  const zone = lens && sharpZone(lens, piece ? views[0].zoom : 1);
  const pose = cameraPose(shot, views[0].actionMoment);
  if (!zone || !pose || !piece) return '';
  const corners = subjectCorners(shot, film, turns[0]!);
  const end = zone.farMm === Infinity ? 'on' : `to ${say.lengthText(zone.farMm)}`;
  if (!corners) return `sharp from ${say.lengthText(zone.nearMm)} ${end}`;
  const { nearMm, farMm } = depthOf(pose, corners);
  return `sharp from ${say.lengthText(zone.nearMm)} ${end}; ${shot.subject.name} ${say.lengthText(nearMm)} to ${say.lengthText(farMm)}`;
}

function titlesOf(film: Film, deliverable: Deliverable, piece: Piece | undefined): Title[] {
  if (!piece) return [];
  return film.titles.filter(
    (title) => title.text && standsOver(title, piece, film) && deliverablesOf(title, film).includes(deliverable),
  );
}
