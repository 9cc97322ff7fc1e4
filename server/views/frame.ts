/** What each deliverable shows of a shot: the recorded picture with its windows, and every finished picture as it will be. */
import { addScaled, type CameraPose, fromCamera, type Vec3 } from '../calc/geometry.ts';
import type { EdgeTangents } from '../calc/framing.ts';
import { safeBox } from '../calc/safe-area.ts';
import { deliverablesOf } from '../core/derived/edit.ts';
import { pxPerMmAt, type View } from '../core/derived/framing.ts';
import { cameraPose, lensAt, pictureRaster, sharpZone } from '../core/derived/optics.ts';
import { depthOf, subjectCorners } from '../core/derived/outline.ts';
import { type Showing, showingsOf } from '../core/derived/showings.ts';
import { titleBox } from '../core/derived/titles.ts';
import type { Deliverable, Film, Piece, Shot, Title } from '../core/film.ts';
import * as say from '../core/say.ts';
import type { Raster } from '../core/units.ts';
import { fitted, textWidth, wrapped } from './measure.ts';
import {
  assign,
  blockRange,
  heading,
  margin,
  marksRow,
  type Noted,
  pageWidth,
  type Picture,
  type Place,
  type Source,
} from './picture.ts';
import { productAs, recordedEdges, type Scene, sceneOf } from './scene.ts';
import { clipped, cornersOf, type Frame, hatch, hull } from './shapes.ts';
import { el, type El, from, ink, line, type Point, polygon, strokes, text } from './svg.ts';

export interface FrameChoice {
  /** Number of the piece in the cut, from 0; all pieces of the shot where it is left out. */
  readonly piece?: number | undefined;
  readonly deliverable?: string | undefined;
}

const pictureHeight = 232;
const gap = 26;
const headHeight = 40;
const footHeight = 74;
const narrowest = 190;
/** More pieces than this are said, not drawn. */
const mostPieces = 3;

interface Panel extends Place {
  readonly width: number;
  readonly height: number;
  readonly head: string;
  readonly sub: string;
  readonly foot: readonly string[];
  readonly piece?: Piece;
  draw(frame: Frame): El[];
}

export function drawFrame(source: Source, film: Film, shot: Shot, choice: FrameChoice = {}): Picture {
  const scene = sceneOf(shot, film);
  const all = showingsOf(shot, film).filter(
    ({ piece, deliverables }) =>
      (choice.piece === undefined || piece?.index === choice.piece) &&
      (choice.deliverable === undefined || deliverables.some((one) => one.name === choice.deliverable)),
  );
  const pieces = [...new Set(all.map((one) => one.piece))];
  const shown = pieces.slice(0, mostPieces);
  const panels = shown.flatMap((piece) => {
    const showings = all.filter((one) => one.piece === piece);
    return [recordedPanel(scene, showings), ...showings.map((one) => finishedPanel(scene, one))];
  });
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const { noted, at } = assign(source, [...panels, head], shot.name);
  const { body, bottom } = flow(panels, at);
  const left = pieces.length - shown.length;
  const title = `${shot.name}: the frame`;
  const more =
    left > 0
      ? [text({ x: margin, y: bottom + 8 }, `${left} more of its pieces are not drawn here.`, { size: 12 })]
      : [];
  const height = bottom + (left > 0 ? 20 : 0);
  return {
    view: 'frame',
    title,
    description: describe(shot, panels),
    width: pageWidth,
    height,
    body: [heading(title, legend, shot, at(head)), ...body, ...more],
    noted,
  };
}

const legend =
  'Solid at the start, dashed at the end · dotted: action safe 93 % · dashes: title safe 90 % · crossed: covered by the player, or past backdrop and surface';

function describe(shot: Shot, panels: readonly Panel[]): string {
  if (panels.length === 0) return `No deliverable shows ${shot.name}, or the size of its picture is not known.`;
  return panels.map(({ head, sub, foot }) => [head, sub, ...foot].filter(Boolean).join('. ')).join('; ');
}

/** Panels from left to right, line by line. */
function flow(panels: readonly Panel[], at: (panel: Panel) => readonly Noted[]): { body: El[]; bottom: number } {
  const body: El[] = [];
  let [x, y] = [margin, 78];
  let piece: Piece | undefined;
  for (const panel of panels) {
    const width = Math.max(panel.width, narrowest);
    const next = piece !== panel.piece && piece !== undefined;
    if (x > margin && (next || x + width > pageWidth - margin + 1)) {
      x = margin;
      y += headHeight + pictureHeight + footHeight + 14;
    }
    piece = panel.piece;
    const frame = { x, y: y + headHeight, width: panel.width, height: panel.height };
    const noted = at(panel);
    const name = fitted(panel.head, 13, width - noted.length * 25, true);
    const foot = panel.foot
      .flatMap((words) => wrapped(words, 11.5, width + 10))
      .map((words, index) => text({ x, y: frame.y + frame.height + 16 + index * 15 }, words, { size: 11.5 }));
    body.push(
      from(panel.ranges[0], [
        text({ x, y: y + 16 }, name, { size: 13, bold: true }),
        text({ x, y: y + 32 }, fitted(panel.sub, 11.5, width), { size: 11.5, fill: ink.soft }),
        ...panel.draw(frame),
        ...foot,
      ]),
      ...marksRow({ x: x + textWidth(name, 13, true) + 16, y: y + 11 }, noted),
    );
    x += width + gap;
  }
  return { body, bottom: panels.length === 0 ? 90 : y + headHeight + pictureHeight + footHeight };
}

function sized({ width, height }: Raster): { width: number; height: number } {
  const scale = Math.min(pictureHeight / height, 440 / width);
  return { width: width * scale, height: height * scale };
}

// ---- the recorded picture ----------------------------------------------------------------------------------------

function recordedPanel(scene: Scene, showings: readonly Showing[]): Panel {
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
    ...sized(raster),
    ...(piece && { piece }),
    head: piece ? `Piece ${piece.index + 1}, as recorded` : 'Not in the cut yet, as recorded',
    sub: [say.rasterText(raster), lens && `${say.num(lens.focalMm)} mm`, distance && `at ${distance.text}`]
      .filter(Boolean)
      .join(' · '),
    foot: [
      pieceWords(piece),
      straighten ? `straightened by ${say.angleText(straighten)}, which costs the corners` : '',
    ].filter(Boolean),
    draw: (frame) => {
      const flat =
        lens && pose
          ? mapper(recordedEdges(lens, shot), frame, camera.wayUp === 'upside-down' ? 'turned' : 'as-is', 0)
          : undefined;
      return [
        ...(flat && pose ? contents({ scene, pose, flat, frame, showing: showings[0]! }, false) : []),
        ...windows(showings, raster, frame),
        border(frame),
      ];
    },
  };
}

function pieceWords(piece: Piece | undefined): string {
  if (!piece?.length) return '';
  const speed = piece.speed === 1 ? '' : `, at ${say.percentText(piece.speed)} of real speed`;
  return `${piece.length.text} of it from ${say.secondsText(piece.fromS)}${speed}`;
}

/** The parts of the recorded picture that are shown, at the start and, where they change, at the end; equal ones once. */
function windows(showings: readonly Showing[], raster: Raster, frame: Frame): El[] {
  const byOutline = new Map<string, { names: string[]; drawn: El; corner: Point }>();
  for (const { views, piece, deliverables } of showings) {
    const [first, last] = [views[0], views.at(-1)!];
    const [start, end] = [first, last].map((view) => windowCorners(view, raster, frame, piece?.straightenDeg ?? 0)) as [
      Point[],
      Point[],
    ];
    const style = { stroke: ink.accent, 'stroke-width': 1.6 };
    const lines = [polygon(start, style), polygon(end, { ...style, 'stroke-dasharray': '6 4' })];
    const changes = first.zoom !== last.zoom || first.shift !== last.shift;
    const drawn = from(piece?.zoomAt ?? piece, changes ? lines : lines.slice(0, 1));
    const corner = start.reduce((one, other) => (other.x + other.y < one.x + one.y ? other : one));
    const key = JSON.stringify([start, end].flat().map(({ x, y }) => [Math.round(x), Math.round(y)]));
    const names = deliverables.map((one) => one.name);
    byOutline.set(key, { drawn, corner, names: [...(byOutline.get(key)?.names ?? []), ...names] });
  }
  const style = { size: 10.5, fill: ink.accent, halo: true, bold: true };
  return [...byOutline.values()].flatMap(({ names, drawn, corner }) => [
    drawn,
    text({ x: corner.x + 4, y: corner.y + 12 }, say.listText(names), style),
  ]);
}

/** A picture turned clockwise shows a window that is turned the other way. */
export function windowCorners(view: View, raster: Raster, frame: Frame, straightenDeg: number): Point[] {
  const scale = frame.width / raster.width;
  const middle = {
    x: frame.x + (raster.width / 2 - view.shift * view.cropWidthPx) * scale,
    y: frame.y + frame.height / 2,
  };
  const turn = (-straightenDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [w, h] = [(view.cropWidthPx * scale) / 2, (view.cropHeightPx * scale) / 2];
  return [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ].map(([x, y]) => ({ x: middle.x + x! * cos - y! * sin, y: middle.y + x! * sin + y! * cos }));
}

// ---- the finished picture ----------------------------------------------------------------------------------------

function finishedPanel(scene: Scene, showing: Showing): Panel {
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
    ...sized(raster),
    ...(piece && { piece }),
    head: names,
    sub: `${say.rasterText(raster)} · ${zoomWords(first, last)}`,
    foot: [pixelWords(first, last, deliverable), sharpWords(scene, showing)].filter(Boolean),
    draw: (frame) => {
      const flat =
        pose && first.edges ? mapper(first.edges, frame, wayOf(shot, piece), piece?.straightenDeg ?? 0) : undefined;
      return [
        ...(flat && pose ? contents({ scene, pose, flat, frame, showing }, true) : []),
        ...safeAreas(deliverable, raster, frame),
        ...titles.flatMap((title) => titleDrawn(title, deliverable, raster, frame)),
        border(frame),
      ];
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

type Way = 'as-is' | 'turned' | 'mirrored';

/** How the recorded picture stands in the finished one. */
function wayOf({ camera }: Shot, piece: Piece | undefined): Way {
  if (piece?.flip?.value === 'mirror') return 'mirrored';
  return (camera.wayUp === 'upside-down') === (piece?.flip?.value === 'upright') ? 'as-is' : 'turned';
}

/** From tangents to the page: the picture's edges fill the frame; turned clockwise by the straightening. */
export function mapper(edges: EdgeTangents, frame: Frame, way: Way, straightenDeg: number): (tangent: Point) => Point {
  const { left, right, bottom, top } = edges;
  const scale = frame.width / (right - left);
  const middle = { x: (left + right) / 2, y: (bottom + top) / 2 };
  const turn = (straightenDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return (tangent) => {
    const sign = { x: way === 'as-is' ? 1 : -1, y: way === 'turned' ? -1 : 1 };
    const x = (tangent.x - middle.x) * scale * sign.x;
    const y = -(tangent.y - middle.y) * scale * sign.y;
    return { x: frame.x + frame.width / 2 + x * cos - y * sin, y: frame.y + frame.height / 2 + x * sin + y * cos };
  };
}

type Flat = (tangent: Point) => Point;

/** Points of a flat outline as the lens sees them, cut off just before it. */
function seen(pose: CameraPose, outline: readonly Vec3[], flat: Flat): Point[] {
  const nearest = 5;
  const points = outline.map((point) => fromCamera(pose, point));
  const front = points.flatMap((point, index) => {
    const before = points[(index + points.length - 1) % points.length]!;
    const cut =
      point.along > nearest === before.along > nearest
        ? []
        : [between(before, point, (nearest - before.along) / (point.along - before.along))];
    return point.along > nearest ? [...cut, point] : cut;
  });
  return front.map(({ right, up, along }) => flat({ x: right / along, y: up / along }));
}

type Seen = ReturnType<typeof fromCamera>;

function between(a: Seen, b: Seen, part: number): Seen {
  return {
    right: a.right + (b.right - a.right) * part,
    up: a.up + (b.up - a.up) * part,
    along: a.along + (b.along - a.along) * part,
  };
}

/** What is seen in a frame: from where, and how it lies on the page. */
interface Sight {
  readonly scene: Scene;
  readonly showing: Showing;
  readonly pose: CameraPose;
  readonly flat: Flat;
  readonly frame: Frame;
}

/** Backdrop, surface, lamps, product and the limits of focus, cut to the frame. */
function contents(sight: Sight, detail: boolean): El[] {
  const { scene, pose, flat, frame } = sight;
  const { shot, hung } = scene;
  const box = cornersOf(frame);
  const cut = (outline: readonly Vec3[]) => clipped(seen(pose, outline, flat), box);
  const wall = hung && cut(wallOutline(hung));
  const board = cut(boardOutline(scene));
  const drawn: El[] = [];
  if (hung)
    drawn.push(
      strokes(hatch(box, 9, 45), { stroke: ink.line, 'stroke-width': 0.6 }),
      strokes(hatch(box, 9, 135), { stroke: ink.line, 'stroke-width': 0.6 }),
    );
  if (wall && wall.length > 2)
    drawn.push(
      from(shot.backdrop!.size ?? shot.backdrop, [
        polygon(wall, { fill: ink.paper, stroke: 'none' }),
        polygon(wall, { fill: shot.backdrop!.colour?.value ?? ink.paper, 'fill-opacity': 0.22, stroke: ink.ink }),
      ]),
    );
  if (shot.surface && board.length > 2)
    drawn.push(
      from(shot.surface, [
        polygon(board, { fill: ink.paper, stroke: 'none' }),
        polygon(board, {
          fill: shot.surface.colour?.value ?? ink.line,
          'fill-opacity': 0.2,
          stroke: ink.ink,
          'stroke-width': 0.8,
        }),
      ]),
    );
  if (detail) drawn.push(...lampsSeen(sight, box));
  drawn.push(...products(sight));
  if (detail) drawn.push(...focusLines(sight));
  return drawn;
}

function wallOutline({ halfWidthMm: half, bottomMm, topMm, behindMm: z }: NonNullable<Scene['hung']>): Vec3[] {
  return [
    { x: -half, y: bottomMm, z },
    { x: half, y: bottomMm, z },
    { x: half, y: topMm, z },
    { x: -half, y: topMm, z },
  ];
}

/** Without a size the surface counts as reaching to the backdrop. */
function boardOutline({ surface, hung, shot }: Scene): Vec3[] {
  const back = hung?.behindMm ?? shot.backdrop?.behind?.value ?? 5000;
  const [w, near, far] = surface
    ? [surface.halfWidthMm, -surface.halfDepthMm, Math.min(back, surface.halfDepthMm)]
    : [20_000, -20_000, back];
  return [
    { x: -w, y: 0, z: near },
    { x: w, y: 0, z: near },
    { x: w, y: 0, z: far },
    { x: -w, y: 0, z: far },
  ];
}

function lampsSeen({ scene: { lamps, hung }, pose, flat }: Sight, box: readonly Point[]): El[] {
  return lamps.flatMap(({ lamp, face, at }) => {
    if (hung && at.z > hung.behindMm) return [];
    const outline = clipped(seen(pose, face, flat), box);
    if (outline.length < 3) return [];
    const middle = outline.reduce(
      (sum, one) => ({ x: sum.x + one.x / outline.length, y: sum.y + one.y / outline.length }),
      { x: 0, y: 0 },
    );
    const lines = strokes(hatch(outline, 4, 0), { stroke: ink.alarm, 'stroke-width': 0.7 });
    const name = text(middle, `lamp ${lamp.name}`, {
      size: 10.5,
      anchor: 'middle',
      halo: true,
      bold: true,
      fill: ink.alarm,
    });
    return [from(lamp, [polygon(outline, { stroke: ink.alarm, 'stroke-width': 1.4 }), lines, name])];
  });
}

/** The product as it stands at the start, its outline at the end, and the subject where that is a part. */
function products(sight: Sight): El[] {
  const { scene, showing, flat, frame } = sight;
  const { shot, film } = scene;
  const { views, turns } = showing;
  const whole = productAs(shot, film);
  const [start, end] = [turns[0]!, turns.at(-1)!];
  const tint = film.product.colour?.value;
  const style = { fill: tint ?? ink.paper, 'fill-opacity': tint ? 0.4 : 0.75, stroke: ink.ink, 'stroke-width': 1.7 };
  const drawn: El[] = [];
  const body = outlineIn(subjectCorners(whole, film, start), sight);
  if (body.length > 2) {
    const faces = facesIn(subjectCorners(whole, film, start)!, sight);
    const sides = faces.map((face) => polygon(face, { stroke: ink.ink, 'stroke-width': 0.9 }));
    const filled = [polygon(body, { fill: ink.paper, stroke: 'none' }), polygon(body, style), ...sides];
    drawn.push(from(film.product.size ?? film.product, filled));
  }
  const moment = views.at(-1)!.actionMoment;
  const later = moment === views[0].actionMoment && start === end ? undefined : cameraPose(shot, moment);
  const ended = later ? outlineIn(subjectCorners(whole, film, end), { pose: later, flat, frame }) : [];
  if (ended.length > 2) drawn.push(polygon(ended, { stroke: ink.ink, 'stroke-dasharray': '5 3' }));
  const part = shot.subject.name === 'product' ? [] : outlineIn(subjectCorners(shot, film, start), sight);
  if (part.length > 2) drawn.push(from(shot.subject, [polygon(part, { stroke: ink.ink, 'stroke-width': 2.4 })]));
  return drawn;
}

/** The outline of a thing within the frame; empty where some of it is beside or behind the lens. */
function outlineIn(
  corners: readonly Vec3[] | undefined,
  { pose, flat, frame }: Pick<Sight, 'pose' | 'flat' | 'frame'>,
): Point[] {
  if (!corners || corners.some((point) => fromCamera(pose, point).along <= 5)) return [];
  return clipped(hull(seen(pose, corners, flat)), cornersOf(frame));
}

/** The faces of a box that look at the lens; of a round thing only its top. Corners come in pairs, below and above. */
function facesIn(corners: readonly Vec3[], { pose, flat, frame }: Sight): Point[][] {
  const [below, above] = [0, 1].map((odd) => corners.filter((_, index) => index % 2 === odd)) as [Vec3[], Vec3[]];
  const faces: Vec3[][] = pose.at.y > above[0]!.y ? [above] : [];
  if (below.length === 4) {
    below.forEach((a, index) => {
      const next = (index + 1) % 4;
      const b = below[next]!;
      // Outward across the side from a to b, which run clockwise about the middle in x and z.
      const looks = (pose.at.x - a.x) * (b.z - a.z) + (pose.at.z - a.z) * (a.x - b.x);
      if (looks > 0) faces.push([a, b, above[next]!, above[index]!]);
    });
  }
  return faces.map((face) => clipped(seen(pose, face, flat), cornersOf(frame))).filter((face) => face.length > 2);
}

/** Where the near and the far limit of focus cross the surface. */
function focusLines({ scene: { shot }, showing: { views }, pose, flat, frame }: Sight): El[] {
  const lens = lensAt(shot, views[0].actionMoment);
  const zone = lens && sharpZone(lens, views[0].zoom);
  if (!zone || Math.abs(pose.up.y) < 0.05 || !shot.surface) return [];
  const limits = [
    { words: 'near limit of focus', mm: zone.nearMm, down: 10 },
    { words: 'far limit of focus', mm: zone.farMm, down: -3 },
  ].filter((one) => Number.isFinite(one.mm));
  return limits.flatMap(({ words, mm, down }) => {
    const up = -(pose.at.y + pose.forward.y * mm) / pose.up.y / mm;
    const behind = shot.backdrop?.behind?.value ?? Infinity;
    const depth = addScaled(addScaled(pose.at, pose.forward, mm), pose.up, up * mm).z;
    const y = flat({ x: 0, y: up }).y;
    if (y < frame.y + 2 || y > frame.y + frame.height - 2 || depth > behind) return [];
    const [a, b] = [
      { x: frame.x, y },
      { x: frame.x + frame.width, y },
    ];
    const style = { size: 10, anchor: 'end', fill: ink.accent, halo: true } as const;
    return [
      from(shot.camera.aperture ?? shot.camera.focus, [
        line(a, b, { stroke: ink.accent, 'stroke-width': 1.2, 'stroke-dasharray': '10 3 2 3' }),
        text({ x: b.x - 4, y: y + down }, words, style),
      ]),
    ];
  });
}

function safeAreas({ keepClear, fields }: Deliverable, raster: Raster, frame: Frame): El[] {
  const scale = frame.width / raster.width;
  const inner = (area: 'action' | 'title', dashes: string) => {
    const box = safeBox({ widthPx: raster.width, heightPx: raster.height }, area);
    const [width, height] = [box.widthPx * scale, box.heightPx * scale];
    const place = { x: frame.x + (frame.width - width) / 2, y: frame.y + (frame.height - height) / 2, width, height };
    return polygon(cornersOf(place), { stroke: ink.soft, 'stroke-width': 0.9, 'stroke-dasharray': dashes });
  };
  const { x, y, width, height } = frame;
  const bands: Frame[] = [
    { x, y, width, height: keepClear.top * height },
    { x, y: y + (1 - keepClear.bottom) * height, width, height: keepClear.bottom * height },
    { x, y, width: keepClear.left * width, height },
    { x: x + (1 - keepClear.right) * width, y, width: keepClear.right * width, height },
  ].filter((band) => band.width > 0.5 && band.height > 0.5);
  const covered = bands.flatMap((band) => {
    const corners = cornersOf(band);
    const style = { stroke: ink.ink, 'stroke-width': 0.6 };
    return [polygon(corners, style), strokes([...hatch(corners, 8, 45), ...hatch(corners, 8, 135)], style)];
  });
  return [from(fields.node('keep-clear'), covered), inner('action', '1.5 3'), inner('title', '6 3')];
}

function titlesOf(film: Film, deliverable: Deliverable, piece: Piece | undefined): Title[] {
  return film.titles.filter((title) => {
    if (!deliverablesOf(title, film).includes(deliverable) || title.atS === undefined || !title.text) return false;
    if (piece?.startS === undefined || piece.endS === undefined) return false;
    return title.atS < piece.endS - 1e-6 && title.atS + (title.holdS ?? 0) > piece.startS + 1e-6;
  });
}

/** Capitals of a plain sans are this part of its size. */
const capitalShare = 0.716;

/** The words at their true size, on the colour that is behind them. */
export function titleDrawn(title: Title, deliverable: Deliverable, raster: Raster, frame: Frame): El[] {
  const scale = frame.width / raster.width;
  const box = titleBox(title, raster);
  const { x, y, anchor } = titlePlace(title, deliverable, raster, frame, box.heightPx * scale);
  const size = (box.capitalPx * scale) / capitalShare;
  const behind = title.panel ?? title.over;
  const width = Math.max(box.widthPx * scale, ...box.lines.map((one) => textWidth(one, size)));
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  const pad = size * 0.3;
  const back = behind
    ? [
        el('rect', {
          x: left - pad,
          y: y - pad,
          width: width + 2 * pad,
          height: box.heightPx * scale + 2 * pad,
          fill: behind.value,
          'fill-opacity': title.panel ? 1 : 0.85,
        }),
      ]
    : [];
  const words = box.lines.map((one, index) =>
    text({ x, y: y + box.capitalPx * scale * (1 + index * 1.7) }, one, {
      size,
      anchor,
      fill: behind ? title.colour : ink.ink,
      halo: !behind,
    }),
  );
  return [from(title.text ?? title, [...back, ...words])];
}

/** Top of the letters, and the side that they keep to, inside what is title-safe and free. */
function titlePlace(
  title: Title,
  { keepClear }: Deliverable,
  raster: Raster,
  frame: Frame,
  height: number,
): Point & { anchor: 'start' | 'middle' | 'end' } {
  const safe = safeBox({ widthPx: raster.width, heightPx: raster.height }, 'title');
  const [side, edge] = [(1 - safe.widthPx / raster.width) / 2, (1 - safe.heightPx / raster.height) / 2];
  const left = frame.x + Math.max(side, keepClear.left) * frame.width;
  const right = frame.x + (1 - Math.max(side, keepClear.right)) * frame.width;
  const top = frame.y + Math.max(edge, keepClear.top) * frame.height;
  const bottom = frame.y + (1 - Math.max(edge, keepClear.bottom)) * frame.height;
  const upright = title.place.startsWith('top')
    ? top
    : title.place.startsWith('bottom')
      ? bottom - height
      : (top + bottom - height) / 2;
  if (title.place.endsWith('left')) return { x: left, y: upright, anchor: 'start' };
  if (title.place.endsWith('right')) return { x: right, y: upright, anchor: 'end' };
  return { x: (left + right) / 2, y: upright, anchor: 'middle' };
}

function border(frame: Frame): El {
  return polygon(cornersOf(frame), { stroke: ink.ink, 'stroke-width': 2 });
}
