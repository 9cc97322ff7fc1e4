/** The recorded picture, with the parts of it that are shown. */
import { startsAtS } from '../../core/derived/time.ts';
import { fitted } from '../measure.ts';
import { smallest } from '../page.ts';
import type { View } from '../../core/derived/framing.ts';
import { litRecorded } from '../../core/derived/lit/index.ts';
import { cameraPose, lensAt, pictureRaster } from '../../core/derived/optics.ts';
import type { Showing } from '../../core/derived/showings.ts';
import { mapper, wholeCut } from '../../core/derived/sight.ts';
import type { Piece } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Raster } from '../../core/units.ts';
import { blockRange } from '../picture.ts';
import type { Scene } from '../scene.ts';
import type { Frame } from '../shapes.ts';
import { type El, from, ink, type Point, polygon } from '../svg.ts';
import type { FrameChoice } from './choice.ts';
import { contents, litContents } from './contents.ts';
import { framed, type Panel, type Seen } from './panel.ts';

/** With `isShort` without what a list of the settings beside it says. */
export function recordedPanel(
  scene: Scene,
  showings: readonly Showing[],
  { isRecorded: isShort = false, isLit = false }: Pick<FrameChoice, 'isRecorded' | 'isLit'> = {},
): Panel {
  const { shot } = scene;
  const { camera } = shot;
  const raster = pictureRaster(camera)!;
  const [{ piece, views }] = showings as [Showing];
  const moment = views[0].actionMoment;
  const lens = lensAt(shot, moment);
  const pose = cameraPose(shot, moment);
  const straighten = piece?.straightenDeg ?? 0;
  const { distance, height, angle, focal, offCentre } = camera;
  return {
    ranges: [piece && blockRange(piece), distance, height, angle, focal, offCentre, camera.raster, camera.wayUpAt],
    raster,
    ...(piece && { piece }),
    head: `${piece ? `Piece ${piece.index + 1}` : 'Not in the cut yet'}${isShort ? '' : ', as recorded'}`,
    sub: isShort
      ? ''
      : [say.rasterText(raster), lens && `${say.num(lens.namedMm)} mm`, distance && `at ${distance.text}`]
          .filter(Boolean)
          .join(' · '),
    foot: [
      pieceWords(piece),
      straighten ? `straightened by ${say.angleText(straighten)}, which costs the corners` : '',
    ].filter(Boolean),
    draw: (frame) => {
      const flat = lens && pose && mapper(wholeCut(lens, shot), frame);
      const sight = flat && pose && { scene, pose, flat, frame, showing: showings[0]! };
      const lit = isLit ? litRecorded(scene.film, shot, showings[0]!.fromTakeS) : undefined;
      // Lines would hide what is seen as lit.
      if (lit) return framed(frame, [litContents(scene, lit, frame)]);
      return framed(frame, [...(sight ? contents(sight, false) : []), windows(showings, raster, frame)]);
    },
  };
}

function pieceWords(piece: Piece | undefined): string {
  if (!piece?.length) return '';
  const speed = piece.speed === 1 ? '' : `, at ${say.percentText(piece.speed)} of real speed`;
  return `${piece.length.text} of it from ${say.secondsText(startsAtS(piece))}${speed}`;
}

/** The parts of the recorded picture that are shown, at the start and, where they change, at the end; equal ones once. */
function windows(showings: readonly Showing[], raster: Raster, frame: Frame): Seen {
  const byOutline = new Map<string, { names: string[]; drawn: El; corner: Point }>();
  for (const { views, piece, deliverables } of showings) {
    const [first, last] = [views[0], views.at(-1)!];
    const [start, end] = [first, last].map((view) => windowCorners(view, raster, frame, piece)) as [Point[], Point[]];
    const style = { stroke: ink.accent, 'stroke-width': 1.6 };
    const lines = [polygon(start, style), polygon(end, { ...style, 'stroke-dasharray': '6 4' })];
    const changes = first.zoom !== last.zoom || first.shift !== last.shift;
    const drawn = from(piece?.zoomAt ?? piece, changes ? lines : lines.slice(0, 1));
    const corner = start.reduce((one, other) => (other.x + other.y < one.x + one.y ? other : one));
    const key = JSON.stringify([start, end].flat().map(({ x, y }) => [Math.round(x), Math.round(y)]));
    const names = deliverables.map((one) => one.name);
    byOutline.set(key, { drawn, corner, names: [...(byOutline.get(key)?.names ?? []), ...names] });
  }
  const all = [...byOutline.values()];
  return {
    drawn: all.map(({ drawn }) => drawn),
    labels: all.map(({ names, corner }) => ({
      at: { x: corner.x + 2, y: corner.y + 2 },
      clear: 3,
      lines: [{ words: fitted(say.listText(names), smallest, frame.width - 12, true), bold: true }],
      toward: { x: 1, y: 1 },
      size: smallest,
    })),
  };
}

/** A picture turned clockwise about the recording's middle shows a window that is turned the other way. */
export function windowCorners(view: View, raster: Raster, frame: Frame, piece: Piece | undefined): Point[] {
  const scale = frame.width / raster.width;
  const turn = (-(piece?.straightenDeg ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const flip = piece?.flip?.value;
  const sign = { x: flip === undefined ? scale : -scale, y: flip === 'upright' ? -scale : scale };
  const middle = { x: frame.x + frame.width / 2, y: frame.y + frame.height / 2 };
  const moved = view.shift * view.cropWidthPx;
  const [w, h] = [view.cropWidthPx / 2, view.cropHeightPx / 2];
  return [
    [-w - moved, -h],
    [w - moved, -h],
    [w - moved, h],
    [-w - moved, h],
  ].map(([x, y]) => ({ x: middle.x + (x! * cos - y! * sin) * sign.x, y: middle.y + (x! * sin + y! * cos) * sign.y }));
}
