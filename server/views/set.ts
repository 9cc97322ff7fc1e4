/** The set of a shot drawn to scale from one side; what is common to the view from above and the one from the side. */
import type { Vec3 } from '../calc/geometry.ts';
import { temperatureHex } from '../calc/temperature.ts';
import type { CheckResult } from '../core/checker.ts';
import { sensorUsed, tiltDeg } from '../core/derived/optics.ts';
import type { LampPlace, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import { type Label, type LabelLine, placeLabels } from './labels.ts';
import { fitted, textWidth } from './measure.ts';
import {
  assign,
  blockRange,
  heading,
  margin,
  markPitch,
  marksRow,
  type Noted,
  pageWidth,
  type Picture,
  type Place,
} from './picture.ts';
import type { Scene, SceneCamera, SceneLamp } from './scene.ts';
import { around, clipped, cornersOf, type Frame, hatch, hull, moved, toward } from './shapes.ts';
import { el, type El, from, ink, line, type Point, polygon, strokes, text } from './svg.ts';
import { type Circuit, circuitOf } from './power.ts';

/** A side to look from: how a point in space lies on the page, right and up plus, in millimetres. */
export interface Side {
  readonly view: string;
  readonly words: string;
  readonly from: 'above' | 'side';
  flat(point: Vec3): { readonly right: number; readonly up: number };
}

/** Millimetres to the page. */
export interface Scale {
  readonly pxPerMm: number;
  readonly bottom: number;
  place(point: Vec3): Point;
}

const top = 74;
const room = { x: 132, y: 52 };
const tallest = 500;

/** Fits points into the page, one scale for both directions. */
export function scaleFor(points: readonly Vec3[], side: Side): Scale {
  const flat = points.map((point) => side.flat(point));
  const [rights, ups] = [flat.map((one) => one.right), flat.map((one) => one.up)];
  const [left, right, low, high] = [Math.min(...rights), Math.max(...rights), Math.min(...ups), Math.max(...ups)];
  const width = pageWidth - 2 * room.x;
  const pxPerMm = Math.min(width / Math.max(right - left, 1), tallest / Math.max(high - low, 1));
  const middle = (left + right) / 2;
  const place = (point: Vec3) => {
    const { right: x, up } = side.flat(point);
    return { x: pageWidth / 2 + (x - middle) * pxPerMm, y: top + room.y + (high - up) * pxPerMm };
  };
  return { pxPerMm, place, bottom: top + 2 * room.y + (high - low) * pxPerMm };
}

interface Thing extends Place {
  /** Drawn below the words. */
  readonly drawn: readonly El[];
  readonly label?: Label;
  /** What words may not cover. */
  readonly covers?: readonly Frame[];
}

export function drawSet(result: CheckResult, scene: Scene, side: Side): Picture {
  const { shot } = scene;
  const scale = scaleFor(everything(scene), side);
  const things = [
    surfaceOf(scene, side, scale),
    backdropOf(scene, side, scale),
    sightOf(scene, side, scale),
    sharpOf(scene, scale),
    ...scene.lamps.map((lamp) => lampOf(lamp, side, scale, scene)),
    productOf(scene, scale),
    cameraOf(scene, side, scale),
    distanceOf(scene, side, scale),
  ].flatMap((thing) => thing ?? []);
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const circuit = circuitOf(shot, scene.film);
  const power: Place = { ranges: circuit?.ranges ?? [] };
  const { noted, at } = assign(result.findings, [...things, head, power], shot.name);
  const page = { x: margin, y: top - 8, width: pageWidth - 2 * margin, height: scale.bottom - top + 8 };
  const labels = things.flatMap((thing) => (thing.label ? { ...thing.label, noted: at(thing) } : []));
  const placed = placeLabels(
    labels,
    things.flatMap((thing) => thing.covers ?? []),
    page,
  );
  const foot = footOf(scale, circuit, at(power));
  return {
    view: side.view,
    title: `${shot.name}: the set ${side.words}`,
    description: describe(scene, side),
    width: pageWidth,
    height: foot.bottom,
    body: [
      heading(`${shot.name}: the set ${side.words}`, subtitle(shot), shot, at(head)),
      ...guides(scene, side, scale, page),
      ...things.flatMap((thing) => thing.drawn),
      ...placed.map((one) => one.drawn),
      ...foot.body,
    ],
    noted,
  };
}

function subtitle({ setUpName, camera, subject }: Shot): string {
  const parts = [
    setUpName && `set-up ${setUpName.value}`,
    camera.body && `${camera.body.name}${camera.lens ? ` with ${camera.lens.name}` : ''}`,
    camera.supportName && `on ${camera.supportName.value}`,
    subject.name !== 'product' && `aimed at ${subject.name}`,
  ];
  return parts.filter(Boolean).join(' · ');
}

function everything({ camera, lamps, hung, surface, product, productEnd, middle, floorMm, shot }: Scene): Vec3[] {
  const ends = camera ? [camera.pose.at, ...(camera.end ? [camera.end.at] : []), ...camera.path] : [];
  const wall = hung
    ? [-1, 1].flatMap((x) => [hung.bottomMm, hung.topMm].map((y) => ({ x: x * hung.halfWidthMm, y, z: hung.behindMm })))
    : shot.backdrop?.behind
      ? [{ x: 0, y: middle.y, z: shot.backdrop.behind.value }]
      : [];
  const board = surface
    ? [-1, 1].flatMap((x) => [-1, 1].map((z) => ({ x: x * surface.halfWidthMm, y: 0, z: z * surface.halfDepthMm })))
    : [];
  const ground = floorMm === undefined ? [] : [{ x: 0, y: floorMm, z: 0 }];
  const places = lamps.flatMap((lamp) => [lamp.at, ...lamp.path]);
  return [...ends, ...wall, ...board, ...ground, ...places, ...product, ...(productEnd ?? []), middle];
}

/** Centre lines through the product, and where the angles are. */
function guides({ middle, shot }: Scene, side: Side, { place }: Scale, page: Frame): El[] {
  const centre = place(middle);
  const dashes = { stroke: ink.faint, 'stroke-width': 0.8, 'stroke-dasharray': '14 4 2 4' };
  if (side.from === 'side') {
    const level = place({ ...middle, y: 0 }).y;
    return [line({ x: page.x, y: level }, { x: page.x + page.width, y: level }, dashes)];
  }
  const bottom = page.y + page.height;
  const note = (at: Point, words: string, anchor: 'start' | 'middle' | 'end') =>
    text(at, words, { size: 10.5, fill: ink.soft, anchor, halo: true });
  const cameraSide = shot.camera.angle ? '0°' : '0° camera';
  return [
    line({ x: page.x, y: centre.y }, { x: page.x + page.width, y: centre.y }, dashes),
    line({ x: centre.x, y: page.y }, { x: centre.x, y: bottom }, dashes),
    note({ x: page.x, y: centre.y - 4 }, '90° camera left', 'start'),
    note({ x: page.x + page.width, y: centre.y - 4 }, 'camera right 270°', 'end'),
    note({ x: centre.x + 5, y: page.y + 10 }, '180°', 'start'),
    note({ x: centre.x + 5, y: bottom - 2 }, cameraSide, 'start'),
  ];
}

function surfaceOf({ surface, shot, floorMm }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const block = shot.surface;
  if (!block) return undefined;
  const words = [block.material?.value ?? 'surface', block.finish].join(', ');
  const lines: LabelLine[] = [{ words, range: block.material ?? block }];
  const ranges = [blockRange(block)];
  if (!surface) {
    if (side.from === 'above') return undefined;
    const at = place({ x: 0, y: 0, z: 0 });
    return { ranges, drawn: [], label: { at: { x: 90, y: at.y }, clear: 4, lines, toward: { x: 0, y: 1 }, size: 11 } };
  }
  const corners = [-1, 1].flatMap((x) =>
    [-1, 1].map((z) => place({ x: x * surface.halfWidthMm, y: 0, z: z * surface.halfDepthMm })),
  );
  lines.push({ words: block.size!.text, range: block.size });
  if (side.from === 'above') {
    const outline = hull(corners);
    const edge = outline.reduce((one, other) => (other.x + other.y > one.x + one.y ? other : one));
    const drawn = [polygon(outline, { fill: ink.shade, stroke: ink.line, 'stroke-width': 1.2 })];
    const label = { at: { x: edge.x - 4, y: edge.y }, clear: 3, lines, toward: { x: 0.3, y: 1 }, size: 11 };
    return { ranges, drawn: [from(block, drawn)], label };
  }
  const frame = around(corners)!;
  const board = { x: frame.x, y: frame.y, width: frame.width, height: 6 };
  const outline = cornersOf(board);
  const drawn = [
    polygon(outline, { fill: ink.shade, stroke: ink.ink }),
    strokes(hatch(outline, 5, 60), { stroke: ink.line, 'stroke-width': 0.7 }),
  ];
  if (floorMm !== undefined && floorMm < 0) drawn.push(...legs(board, place({ x: 0, y: floorMm, z: 0 }).y));
  const label = { at: { x: board.x + board.width - 4, y: board.y + 8 }, clear: 3, lines, toward: { x: 0, y: 1 }, size: 11 };
  return { ranges, drawn: [from(block, drawn)], label, covers: [board] };
}

function legs(board: Frame, floorY: number): El[] {
  const style = { stroke: ink.line, 'stroke-width': 1.2 };
  return [board.x + 10, board.x + board.width - 10].map((x) =>
    line({ x, y: board.y + board.height }, { x, y: floorY }, style),
  );
}

function backdropOf({ hung, shot, camera }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const block = shot.backdrop;
  if (!block?.behind) return undefined;
  const z = block.behind.value;
  const wide = camera?.sees.map((point) => point.x) ?? [];
  const half = hung?.halfWidthMm ?? Math.max(300, ...wide.map(Math.abs));
  const [low, high] = hung ? [hung.bottomMm, hung.topMm] : [0, Math.max(300, ...(camera?.sees ?? []).map((one) => one.y))];
  const corners = [-1, 1].flatMap((x) => [low, high].map((y) => place({ x: x * half, y, z })));
  const frame = around(corners)!;
  const thick = 7;
  const thin = frame.width < thick || frame.height < thick;
  const outline = side.from === 'above' ? { ...frame, y: frame.y - thick, height: thick } : frame;
  const shown = thin && side.from === 'side' ? { ...frame, width: thick } : outline;
  const points = cornersOf(shown);
  const dash = hung ? undefined : '6 4';
  const name = block.screenName ? `${block.screenName.value} (screen)` : (block.material?.value ?? 'backdrop');
  const size = block.size ? `${name}, ${block.size.text}` : `${name}, size not said`;
  const lines = [
    { words: size, range: block.size ?? block.screenName ?? block.material },
    { words: `${block.behind.text} behind the product`, range: block.behind },
  ];
  const above = side.from === 'above';
  const at = above ? { x: shown.x + shown.width - 70, y: shown.y } : { x: shown.x + thick, y: shown.y + 16 };
  return {
    ranges: [blockRange(block), block.behind, block.size, block.bottom],
    drawn: [
      from(block, [
        polygon(points, { fill: block.colour?.value ?? ink.paper, 'fill-opacity': 0.35, stroke: ink.ink, 'stroke-dasharray': dash }),
        strokes(hatch(points, 6, 45), { stroke: ink.ink, 'stroke-width': 0.7 }),
      ]),
    ],
    label: { at, clear: 5, lines, toward: above ? { x: 0, y: -1 } : { x: 1, y: -0.3 } },
    covers: [shown],
  };
}

function sightOf({ camera, shot }: Scene, side: Side, { place }: Scale): Thing | undefined {
  if (!camera || camera.sees.length === 0) return undefined;
  const outline = hull(camera.sees.map(place));
  const { focal } = shot.camera;
  return {
    ranges: [focal, shot.camera.lensName],
    drawn: [
      from(focal ?? shot.camera.lensName, [
        polygon(outline, { fill: ink.accent, 'fill-opacity': 0.07, stroke: ink.accent, 'stroke-width': 1 }),
      ]),
    ],
    ...(side.from === 'above' && { label: fieldLabel(camera, shot, place) }),
  };
}

/** How wide the picture is at the subject, written at its edge there. */
function fieldLabel({ lens, pose }: SceneCamera, shot: Shot, place: (point: Vec3) => Point): Label | undefined {
  const sensor = sensorUsed(shot);
  if (!lens || !sensor) return undefined;
  const angle = (2 * Math.atan(sensor.widthMm / 2 / lens.focalMm) * 180) / Math.PI;
  const words = `${say.num(lens.focalMm)} mm lens, sees ${say.angleText(angle)} across`;
  const at = place(pose.at);
  return { at, clear: 44, lines: [{ words, range: shot.camera.lensName ?? shot.camera.focal }], toward: { x: 1, y: 0.2 }, size: 11 };
}

function sharpOf({ camera, shot }: Scene, { place }: Scale): Thing | undefined {
  if (!camera?.sharp || !camera.zone) return undefined;
  const { zone } = camera;
  const outline = clipped(hull(camera.sharp.map(place)), hull(camera.sees.map(place)));
  if (outline.length < 3) return undefined;
  const { aperture, focus } = shot.camera;
  const end = zone.farMm === Infinity ? 'on' : `to ${say.lengthText(zone.farMm)}`;
  const words = `sharp from ${say.lengthText(zone.nearMm)} ${end}`;
  const right = outline.reduce((one, other) => (other.x - other.y > one.x - one.y ? other : one));
  return {
    ranges: [aperture, focus, shot.camera.iso],
    drawn: [
      from(focus ?? aperture, [
        polygon(outline, { fill: ink.accent, 'fill-opacity': 0.1, stroke: ink.accent, 'stroke-width': 1.2 }),
        strokes(hatch(outline, 6, 45), { stroke: ink.accent, 'stroke-width': 0.8 }),
      ]),
    ],
    label: {
      at: right,
      clear: 5,
      lines: [
        { words, range: focus ?? aperture },
        ...(aperture ? [{ words: `at ${aperture.text}, focus ${focus?.text ?? 'not said'}`, range: aperture }] : []),
      ],
      toward: { x: 1, y: -0.2 },
      size: 11,
    },
  };
}

function productOf({ product, productEnd, subject, shot, film, middle }: Scene, { place }: Scale): Thing {
  const outline = hull(product.map(place));
  const frame = around(outline) ?? { ...place(middle), width: 0, height: 0 };
  const tint = film.product.colour?.value;
  const drawn: El[] = [];
  if (productEnd) {
    const end = hull(productEnd.map(place));
    drawn.push(polygon(end, { stroke: ink.ink, 'stroke-dasharray': '4 3', 'stroke-width': 1.1 }));
  }
  drawn.push(
    polygon(outline, { fill: tint ?? ink.paper, 'fill-opacity': tint ? 0.45 : 0.8, stroke: ink.ink, 'stroke-width': 1.8 }),
  );
  const parts: El[] = subject.length
    ? [from(shot.subject, [polygon(hull(subject.map(place)), { fill: ink.paper, stroke: ink.ink, 'stroke-width': 1.4 })])]
    : [];
  const dot = place(middle);
  const cross = [
    [{ x: dot.x - 5, y: dot.y }, { x: dot.x + 5, y: dot.y }],
    [{ x: dot.x, y: dot.y - 5 }, { x: dot.x, y: dot.y + 5 }],
  ] as const;
  const size = film.product.size;
  const turning = turnWords(shot);
  const lines: LabelLine[] = [
    { words: shot.subject.name === 'product' ? 'product' : `product, ${shot.subject.name}`, bold: true, range: shot.subject },
    ...(size ? [{ words: size.text, range: size }] : [{ words: 'size not said', range: film.product }]),
    ...(turning ? [{ words: turning, range: shot.turn }] : []),
  ];
  const reach = Math.hypot(frame.width, frame.height) / 2;
  return {
    ranges: [size, film.product, shot.subject, shot.turn && blockRange(shot.turn)],
    drawn: [from(size ?? film.product, drawn), ...parts, strokes(cross, { stroke: ink.ink, 'stroke-width': 0.9 })],
    label: { at: dot, clear: reach + 3, lines, toward: { x: -0.8, y: 0.6 } },
    covers: [frame],
  };
}

function turnWords({ turn }: Shot): string | undefined {
  if (turn?.by) return `turns by ${turn.by.text}`;
  if (turn?.speed) return `turns at ${turn.speed.text}`;
  return turn?.starts && turn.starts.value !== 0 ? `stands turned by ${turn.starts.text}` : undefined;
}

function cameraOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
  if (!camera) return undefined;
  const { place } = scale;
  const { pose, end, path } = camera;
  const own = shot.camera;
  const at = place(pose.at);
  const ahead = place({ x: pose.at.x + pose.forward.x, y: pose.at.y + pose.forward.y, z: pose.at.z + pose.forward.z });
  const seenEndOn = Math.hypot(ahead.x - at.x, ahead.y - at.y) < 0.2 * scale.pxPerMm;
  const way = toward(at, ahead);
  const drawn = seenEndOn ? cameraEndOn(at) : cameraAlong(at, way);
  const more: El[] = [];
  if (end) {
    const there = place(end.at);
    const points = path.map(place);
    more.push(polygon(points, { stroke: ink.accent, 'stroke-width': 1.4, 'stroke-dasharray': '5 3' }, true));
    more.push(arrowHead(there, toward(points.at(-2) ?? at, there), ink.accent));
  }
  if (side.from === 'side') more.push(...standOf(scale, pose.at, own.supportName ? 'stand' : 'none', shot));
  const tilt = tiltDeg(shot, 0);
  const height = own.height ? `lens ${own.height.text} high` : 'lens level with the subject';
  const looks = Math.abs(tilt) < 0.05 ? '' : `, looks ${tilt > 0 ? 'down' : 'up'} ${say.angleText(Math.abs(tilt))}`;
  const angle = own.angle ? ` at ${own.angle.text}` : '';
  const lines: LabelLine[] = [
    { words: `camera${angle}`, bold: true, range: own.angle ?? own.bodyName ?? own },
    { words: height + looks, range: own.height },
    ...(own.slide ? [{ words: `slides ${own.slide.text}`, range: own.slide }] : []),
  ];
  const body = seenEndOn ? at : moved(at, way, -18);
  return {
    ranges: [own.height, own.angle, own.slide, own.supportName, own.wayUpAt, own.offCentre, own.bodyName, own.stabiliser],
    drawn: [from(own.bodyName ?? own, drawn), from(own.slide ?? own.angle ?? own.distance, more)],
    label: { at: body, clear: 22, lines, toward: seenEndOn ? { x: -1, y: -0.6 } : { x: -way.y - way.x, y: way.x - way.y } },
    covers: [{ x: body.x - 20, y: body.y - 20, width: 40, height: 40 }],
  };
}

/** Body behind, lens in front; the front of the lens is at the point. */
function cameraAlong(at: Point, way: Point): El[] {
  const off = { x: -way.y, y: way.x };
  const spot = (back: number, aside: number) => moved(moved(at, way, -back), off, aside);
  const lens = [spot(0, 8), spot(12, 6), spot(12, -6), spot(0, -8)];
  const body = [spot(12, 11), spot(36, 11), spot(36, -11), spot(12, -11)];
  const style = { fill: ink.ink, stroke: ink.ink, 'stroke-width': 1.2, 'stroke-linejoin': 'round' };
  return [polygon(lens, { ...style, fill: ink.paper }), polygon(body, style)];
}

function cameraEndOn({ x, y }: Point): El[] {
  const body = cornersOf({ x: x - 15, y: y - 11, width: 30, height: 22 });
  return [
    polygon(body, { fill: ink.paper, 'fill-opacity': 0.7, stroke: ink.ink, 'stroke-width': 2 }),
    el('circle', { cx: x, cy: y, r: 7, fill: 'none', stroke: ink.ink, 'stroke-width': 1.6 }),
    el('circle', { cx: x, cy: y, r: 1.5, fill: ink.ink }),
  ];
}

function arrowHead(at: Point, way: Point, fill: typeof ink.ink, size = 8): El {
  const off = { x: -way.y, y: way.x };
  const back = moved(at, way, -size);
  return polygon([at, moved(back, off, size * 0.4), moved(back, off, -size * 0.4)], { fill, stroke: fill });
}

/** What holds a thing up, as far as the floor is known. */
function standOf(scale: Scale, at: Vec3, held: string, { surface }: Shot): El[] {
  const height = surface?.height?.value;
  if (height === undefined || held === 'none' || held === 'hand') return [];
  const thing = scale.place(at);
  const style = { stroke: ink.line, 'stroke-width': 1.2 };
  if (held === 'overhead') return [line(thing, { x: thing.x, y: thing.y - 26 }, { ...style, 'stroke-dasharray': '3 2' })];
  const floor = scale.place({ ...at, y: -height }).y;
  const foot = Math.min(20, (floor - thing.y) / 3);
  return [
    line(thing, { x: thing.x, y: floor }, style),
    line({ x: thing.x, y: floor - foot }, { x: thing.x - foot * 0.7, y: floor }, style),
    line({ x: thing.x, y: floor - foot }, { x: thing.x + foot * 0.7, y: floor }, style),
  ];
}

/** The tape from the lens to the middle of the subject. */
function distanceOf({ camera, shot, middle }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const { distance } = shot.camera;
  if (!camera || !distance) return undefined;
  const [a, b] = [place(camera.pose.at), place(middle)];
  if (Math.hypot(b.x - a.x, b.y - a.y) < 30) return undefined;
  const way = toward(a, b);
  const drawn = [
    line(a, b, { stroke: ink.accent, 'stroke-width': 1.2 }),
    arrowHead(b, way, ink.accent, 7),
    arrowHead(a, { x: -way.x, y: -way.y }, ink.accent, 7),
  ];
  const third = { x: a.x + (b.x - a.x) * 0.4, y: a.y + (b.y - a.y) * 0.4 };
  const label = {
    at: third,
    clear: 4,
    lines: [{ words: distance.text, bold: true, range: distance }],
    toward: side.from === 'above' ? { x: 1, y: 0 } : { x: 0, y: -1 },
    size: 13,
  };
  return { ranges: [distance], drawn: [from(distance, drawn)], label };
}

function lampOf({ lamp, at, end, path, target, levelMm, uprightMm, beamDeg }: SceneLamp, side: Side, scale: Scale, scene: Scene): Thing {
  const { place, pxPerMm } = scale;
  const [here, there] = [place(at), place(target)];
  const length = Math.hypot(there.x - here.x, there.y - here.y);
  const endOn = length < 14;
  const way = toward(here, there);
  const wideMm = side.from === 'above' ? levelMm : uprightMm;
  const fill = lampFill(lamp);
  const face = endOn
    ? squareLamp(here, levelMm * pxPerMm, uprightMm * pxPerMm, fill)
    : lampAlong(here, way, Math.max(12, wideMm * pxPerMm), fill);
  const fan = Math.min(52, length * 0.5);
  const beam = endOn ? [] : beamOf(here, way, beamDeg, fan);
  const aim = endOn ? [] : [line(here, there, { stroke: ink.line, 'stroke-width': 0.9, 'stroke-dasharray': '2 3' })];
  const moves = end ? [movePath(path.map(place))] : [];
  const stand = side.from === 'side' ? standOf(scale, at, lamp.held, scene.shot) : [];
  const cable = lamp.runsOn === 'mains' ? cableOf(here, endOn ? { x: 0, y: 1 } : way) : [];
  const half = Math.max(12, wideMm * pxPerMm) / 2;
  const cover = endOn
    ? { x: here.x - 12, y: here.y - 12, width: 24, height: 24 }
    : around([moved(here, { x: -way.y, y: way.x }, half), moved(here, { x: way.y, y: -way.x }, half), moved(here, way, -14)])!;
  return {
    ranges: [blockRange(lamp)],
    drawn: [from(lamp, [...aim, ...beam, ...stand, ...cable, ...moves, ...face])],
    label: { at: here, clear: 17, lines: lampLines(lamp), toward: { x: -way.x, y: -way.y } },
    covers: [cover],
  };
}

function lampLines(lamp: LampPlace): LabelLine[] {
  const { role, distance, angle, height, level, temperature, colour, modifierNames, held, heldAt, runsOn } = lamp;
  const place = [distance?.text, angle && `at ${angle.text}`].filter(Boolean).join(' ');
  const light = [
    colour?.text ?? temperature?.text,
    level?.text,
    ...modifierNames.map((one) => one.value),
  ].filter(Boolean);
  const how = [height && `${height.text} high`, held !== 'stand' && held, runsOn === 'battery' && 'battery'].filter(Boolean);
  return [
    { words: role && role.value !== lamp.name ? `${lamp.name} (${role.value})` : lamp.name, bold: true, range: lamp },
    ...(place ? [{ words: place, range: distance ?? angle }] : []),
    ...(how.length > 0 ? [{ words: how.join(', '), range: height ?? heldAt ?? lamp }] : []),
    ...(light.length > 0 ? [{ words: light.join(', '), range: temperature ?? level ?? lamp }] : []),
  ];
}

/** The colour of its light: as set, or of its temperature. */
function lampFill({ colour, temperature }: LampPlace): string | typeof ink.paper {
  if (colour) return colour.value;
  return temperature ? temperatureHex(temperature.value.from) : ink.paper;
}

/** Housing behind a face as wide as what shines. */
function lampAlong(at: Point, way: Point, widePx: number, fill: string | typeof ink.paper): El[] {
  const off = { x: -way.y, y: way.x };
  const spot = (back: number, aside: number) => moved(moved(at, way, -back), off, aside);
  const half = widePx / 2;
  const narrow = Math.min(half, 8);
  const housing = [spot(0, half), spot(7, half * 0.9), spot(13, narrow), spot(13, -narrow), spot(7, -half * 0.9), spot(0, -half)];
  return [
    polygon(housing, { fill, stroke: ink.ink, 'stroke-width': 1.3, 'stroke-linejoin': 'round' }),
    line(spot(0, half), spot(0, -half), { 'stroke-width': 3 }),
  ];
}

function squareLamp(at: Point, widePx: number, highPx: number, fill: string | typeof ink.paper): El[] {
  const [width, height] = [Math.max(14, widePx), Math.max(14, highPx)];
  const frame = cornersOf({ x: at.x - width / 2, y: at.y - height / 2, width, height });
  return [
    polygon(frame, { fill, 'fill-opacity': 0.5, stroke: ink.ink, 'stroke-width': 2 }),
    strokes([[frame[0]!, frame[2]!], [frame[1]!, frame[3]!]], { 'stroke-width': 0.8 }),
  ];
}

/** The edges of the beam, and the way it goes. */
function beamOf(at: Point, way: Point, beamDeg: number, length: number): El[] {
  const half = (Math.min(beamDeg, 178) / 2) * (Math.PI / 180);
  const turned = (by: number) => ({
    x: way.x * Math.cos(by) - way.y * Math.sin(by),
    y: way.x * Math.sin(by) + way.y * Math.cos(by),
  });
  const rim = Array.from({ length: 13 }, (_, index) => moved(at, turned(half * (index / 6 - 1)), length));
  return [
    polygon([at, ...rim], { fill: ink.line, 'fill-opacity': 0.1, stroke: ink.line, 'stroke-width': 0.9 }),
    arrowHead(moved(at, way, length), way, ink.ink, 7),
  ];
}

function movePath(points: readonly Point[]): El {
  const end = points.at(-1)!;
  return from(undefined, [
    polygon(points, { 'stroke-width': 1.3, 'stroke-dasharray': '5 3' }, true),
    arrowHead(end, toward(points.at(-2) ?? end, end), ink.ink),
  ]);
}

/** A tail of cable with a plug, away from the light: where it is really laid nobody has said. */
function cableOf(at: Point, way: Point): El[] {
  const back = { x: -way.x, y: -way.y };
  const off = { x: -back.y, y: back.x };
  const spot = (along: number, aside: number) => moved(moved(at, back, along), off, aside);
  const tail = [spot(12, 0), spot(17, 3), spot(22, -3), spot(27, 0)];
  const style = { stroke: ink.ink, 'stroke-width': 1.1 };
  return [
    polygon(tail, style, true),
    polygon([spot(27, 4), spot(32, 4), spot(32, -4), spot(27, -4)], { fill: ink.ink }),
    strokes([[spot(32, 2), spot(36, 2)], [spot(32, -2), spot(36, -2)]], style),
  ];
}

function footOf(scale: Scale, circuit: Circuit | undefined, noted: readonly Noted[]): { body: El[]; bottom: number } {
  const y = scale.bottom + 14;
  const lengths = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
  const bar = lengths.findLast((mm) => mm * scale.pxPerMm <= 150) ?? 1;
  const px = bar * scale.pxPerMm;
  const body = [
    line({ x: margin, y }, { x: margin + px, y }, { 'stroke-width': 1.4 }),
    ...[0, 0.5, 1].map((part) => line({ x: margin + px * part, y: y - 4 }, { x: margin + px * part, y: y + 4 }, { 'stroke-width': 1.4 })),
    text({ x: margin + px + 8, y: y + 4 }, say.lengthText(bar), { size: 12 }),
    text({ x: margin + px + 66, y: y + 4 }, 'Places and sizes are to scale; bodies of camera and lamps are symbols, a plug marks mains.', { size: 11, fill: ink.soft }),
  ];
  if (!circuit) return { body, bottom: y + 14 };
  const words = fitted(circuit.words, 12, pageWidth - 2 * margin - noted.length * markPitch);
  body.push(
    from(circuit.range, [text({ x: margin, y: y + 26 }, words, { size: 12 })]),
    ...marksRow({ x: margin + textWidth(words, 12) + 16, y: y + 22 }, noted),
  );
  return { body, bottom: y + 36 };
}

function describe({ shot, lamps, camera, hung }: Scene, side: Side): string {
  const distance = shot.camera.distance ? ` ${shot.camera.distance.text} from ${shot.subject.name}` : '';
  const lit = lamps.map(({ lamp }) => `${lamp.name} ${lampLines(lamp).slice(1).map((one) => one.words).join(', ')}`);
  const behind = hung && shot.backdrop?.behind ? ` The backdrop hangs ${shot.backdrop.behind.text} behind.` : '';
  return `The set of ${shot.name} ${side.words}, to scale. The camera stands${distance}.${camera ? '' : ' Its place is not known.'} Lamps: ${lit.join('; ') || 'none'}.${behind}`;
}
