/** The set of a shot drawn to scale from one side; what is common to the view from above and the one from the side. */
import type { Vec3 } from '../calc/geometry.ts';
import { temperatureHex } from '../calc/temperature.ts';
import { sensorUsed, tiltDeg } from '../core/derived/optics.ts';
import type { Backdrop, LampPlace, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import { type Cover, type Label, type LabelLine, placeLabels } from './labels.ts';
import { textWidth, wrapped } from './measure.ts';
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
  type Source,
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
  /** Where drawing is allowed. */
  readonly page: Frame;
  place(point: Vec3): Point;
}

const top = 74;
const room = { x: 132, y: 52 };
/** How tall the place that is drawn may be; less where a page has to hold two drawings. */
const usualTallest = 500;

/** Fits points into the page, one scale for both directions. */
export function scaleFor(points: readonly Vec3[], side: Side, tallest = usualTallest): Scale {
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
  const bottom = top + 2 * room.y + (high - low) * pxPerMm;
  const page = { x: margin, y: top - 8, width: pageWidth - 2 * margin, height: bottom - top + 8 };
  return { pxPerMm, place, page, bottom };
}

interface Thing extends Place {
  /** Drawn below the words. */
  readonly drawn: readonly El[];
  readonly label?: Label;
  /** What words may not cover. */
  readonly covers?: readonly Cover[];
}

export function drawSet(source: Source, scene: Scene, side: Side, tallest?: number): Picture {
  const { shot } = scene;
  const scale = scaleFor(everything(scene), side, tallest);
  const things = [
    surfaceOf(scene, side, scale),
    backdropOf(scene, side, scale),
    ...scene.lamps.map((lamp) => lampOf(lamp, side, scale, scene)),
    sightOf(scene, side, scale),
    sharpOf(scene, side, scale),
    productOf(scene, scale),
    cameraOf(scene, side, scale),
    distanceOf(scene, side, scale),
  ].flatMap((thing) => thing ?? []);
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const circuit = circuitOf(shot, scene.film);
  const power: Place = { ranges: circuit?.ranges ?? [] };
  const { noted, at } = assign(source, [...things, head, power], shot.name);
  const labels = things.flatMap((thing) => (thing.label ? { ...thing.label, noted: at(thing) } : []));
  const placed = placeLabels(
    labels,
    [...things.flatMap((thing) => thing.covers ?? []), ...guideCovers(scene, side, scale)],
    scale.page,
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
      ...guides(scene, side, scale),
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
  const places = lamps.flatMap((lamp) => [...lamp.face, ...lamp.path]);
  return [...ends, ...wall, ...board, ...ground, ...places, ...product, ...(productEnd ?? []), middle];
}

/** Centre lines through the product, and where the angles are. */
function guides(scene: Scene, side: Side, { place, page }: Scale): El[] {
  const { middle, shot } = scene;
  const centre = place(middle);
  const dashes = { stroke: ink.faint, 'stroke-width': 0.8, 'stroke-dasharray': '14 4 2 4' };
  if (side.from === 'side') {
    const level = place({ ...middle, y: 0 }).y;
    return [
      line({ x: page.x, y: level }, { x: page.x + page.width, y: level }, dashes),
      ...floorOf(scene, place, page),
    ];
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

/** Where the words of the guides stand. */
function guideCovers({ middle }: Scene, side: Side, { place, page }: Scale): Cover[] {
  if (side.from === 'side') return [];
  const { x, y } = place(middle);
  return [
    { x, y: page.y + page.height - 14, width: 70, height: 14 },
    { x, y: page.y, width: 36, height: 12 },
    { x: page.x, y: y - 14, width: 90, height: 18 },
    { x: page.x + page.width - 100, y: y - 14, width: 100, height: 18 },
  ];
}

/** The floor with the height of the surface over it. */
function floorOf({ floorMm, shot, middle }: Scene, place: (point: Vec3) => Point, page: Frame): El[] {
  if (floorMm === undefined) return [];
  const [floor, level] = [place({ ...middle, y: floorMm }).y, place({ ...middle, y: 0 }).y];
  const x = page.x + 30;
  const strip = cornersOf({ x: page.x, y: floor, width: page.width, height: 6 });
  const words =
    floorMm === 0 ? 'the product stands on the floor' : `surface ${shot.surface!.height!.text} above the floor`;
  const measure =
    floor - level < 30
      ? []
      : [
          line({ x, y: level }, { x, y: floor }, { stroke: ink.line }),
          arrowHead({ x, y: level }, { x: 0, y: -1 }, ink.line, 6),
          arrowHead({ x, y: floor }, { x: 0, y: 1 }, ink.line, 6),
        ];
  const size = 11;
  return [
    line({ x: page.x, y: floor }, { x: page.x + page.width, y: floor }, { stroke: ink.line, 'stroke-width': 1.4 }),
    strokes(hatch(strip, 7, 135), { stroke: ink.line, 'stroke-width': 0.7 }),
    from(shot.surface!.height, [
      ...measure,
      text({ x: x + 8, y: floor - 8 }, words, { size, fill: ink.soft, halo: true }),
    ]),
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
  const label = {
    at: { x: board.x + board.width - 4, y: board.y + 8 },
    clear: 3,
    lines,
    toward: { x: 0, y: 1 },
    size: 11,
  };
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
  const [low, high] = hung
    ? [hung.bottomMm, hung.topMm]
    : [0, Math.max(300, ...(camera?.sees ?? []).map((one) => one.y))];
  const corners = [-1, 1].flatMap((x) => [low, high].map((y) => place({ x: x * half, y, z })));
  const frame = around(corners)!;
  const thick = 7;
  const thin = frame.width < thick || frame.height < thick;
  const outline = side.from === 'above' ? { ...frame, y: frame.y - thick, height: thick } : frame;
  const shown = thin && side.from === 'side' ? { ...frame, width: thick } : outline;
  const points = cornersOf(shown);
  const dash = hung ? undefined : '6 4';
  const lines = [...backdropLine(block), { words: `${block.behind.text} behind the product`, range: block.behind }];
  const above = side.from === 'above';
  const at = above ? { x: shown.x + shown.width - 70, y: shown.y } : { x: shown.x + thick, y: shown.y + 16 };
  return {
    ranges: [blockRange(block), block.behind, block.size, block.bottom],
    drawn: [
      from(block, [
        polygon(points, {
          fill: block.colour?.value ?? ink.paper,
          'fill-opacity': 0.35,
          stroke: ink.ink,
          'stroke-dasharray': dash,
        }),
        strokes(hatch(points, 6, 45), { stroke: ink.ink, 'stroke-width': 0.7 }),
      ]),
    ],
    label: { at, clear: 5, lines, toward: above ? { x: 0, y: -1 } : { x: 1, y: -0.3 } },
    covers: [shown],
  };
}

function backdropLine({ screenName, material, size, screen }: Backdrop): LabelLine[] {
  const name = screenName ? `${screenName.value} (screen)` : (material?.value ?? 'backdrop');
  const known = size ?? screen?.size;
  return [{ words: `${name}, ${known?.text ?? 'size not said'}`, range: size ?? screenName ?? material }];
}

function sightOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
  if (!camera || camera.sees.length === 0) return undefined;
  const outline = seenOutline(camera, side, scale);
  const { focal } = shot.camera;
  return {
    ranges: [focal, shot.camera.lensName],
    drawn: [
      from(shot.camera.lensName ?? focal, [
        polygon(outline, { fill: ink.accent, 'fill-opacity': 0.07, stroke: ink.accent, 'stroke-width': 1 }),
      ]),
    ],
  };
}

/** From above all that is seen, from the side what is seen in the middle of the picture; as far as the page goes. */
function seenOutline({ sees, section }: SceneCamera, side: Side, { place, page }: Scale): Point[] {
  return clipped(side.from === 'above' ? hull(sees.map(place)) : section.map(place), cornersOf(page));
}

function cameraLines(camera: SceneCamera, shot: Shot): LabelLine[] {
  const own = shot.camera;
  const tilt = tiltDeg(shot, 0);
  const height = own.height ? `lens ${own.height.text} high` : 'lens level with the subject';
  const looks = Math.abs(tilt) < 0.05 ? '' : `, looks ${tilt > 0 ? 'down' : 'up'} ${say.angleText(Math.abs(tilt))}`;
  const angle = own.angle ? ` at ${own.angle.text}` : '';
  return [
    { words: `camera${angle}`, bold: true, range: own.angle ?? own.bodyName ?? own },
    { words: height + looks, range: own.height },
    ...lensLine(camera, shot),
    ...(own.slide ? [{ words: `slides ${own.slide.text}`, range: own.slide }] : []),
  ];
}

function lensLine({ lens }: SceneCamera, shot: Shot): LabelLine[] {
  const sensor = sensorUsed(shot);
  if (!lens || !sensor) return [];
  const angle = (2 * Math.atan(sensor.widthMm / 2 / lens.focalMm) * 180) / Math.PI;
  const words = `${say.num(lens.focalMm)} mm sees ${say.angleText(angle)} across`;
  return [{ words, range: shot.camera.lensName ?? shot.camera.focal }];
}

function sharpOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
  if (!camera?.sharp || !camera.zone) return undefined;
  const { zone } = camera;
  const outline = clipped(seenOutline(camera, side, scale), hull(camera.sharp.map(scale.place)));
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
    polygon(outline, {
      fill: tint ?? ink.paper,
      'fill-opacity': tint ? 0.45 : 0.8,
      stroke: ink.ink,
      'stroke-width': 1.8,
    }),
  );
  const parts: El[] = subject.length
    ? [
        from(shot.subject, [
          polygon(hull(subject.map(place)), { fill: ink.paper, stroke: ink.ink, 'stroke-width': 1.4 }),
        ]),
      ]
    : [];
  const dot = place(middle);
  const cross = [
    [
      { x: dot.x - 5, y: dot.y },
      { x: dot.x + 5, y: dot.y },
    ],
    [
      { x: dot.x, y: dot.y - 5 },
      { x: dot.x, y: dot.y + 5 },
    ],
  ] as const;
  const size = film.product.size;
  const turning = turnWords(shot);
  const lines: LabelLine[] = [
    {
      words: shot.subject.name === 'product' ? 'product' : `product, ${shot.subject.name}`,
      bold: true,
      range: shot.subject,
    },
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
  const tilt = tiltDeg(shot, 0);
  if (side.from === 'side')
    more.push(...standOf(scale, pose.at, !own.supportName ? 'none' : tilt > 60 ? 'overhead' : 'stand', shot));
  const lines = cameraLines(camera, shot);
  const body = seenEndOn ? at : moved(at, way, -18);
  return {
    ranges: [
      own.height,
      own.angle,
      own.slide,
      own.supportName,
      own.wayUpAt,
      own.offCentre,
      own.bodyName,
      own.stabiliser,
    ],
    drawn: [from(own.bodyName ?? own, drawn), from(own.slide ?? own.angle ?? own.distance, more)],
    label: {
      at: body,
      clear: 22,
      lines,
      toward: seenEndOn ? { x: -1, y: -0.6 } : side.from === 'above' ? { x: -way.y, y: way.x } : { x: 0, y: 1 },
    },
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
  if (height === undefined || held === 'surface' || held === 'none' || held === 'hand') return [];
  const thing = scale.place(at);
  const style = { stroke: ink.line, 'stroke-width': 1.2 };
  if (held === 'overhead' || held === 'boom')
    return [line(thing, { x: thing.x, y: thing.y - 26 }, { ...style, 'stroke-dasharray': '3 2' })];
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
  const covers = Array.from({ length: 8 }, (_, index) => {
    const at = { x: a.x + ((b.x - a.x) * index) / 8, y: a.y + ((b.y - a.y) * index) / 8 };
    return { x: at.x - 5, y: at.y - 5, width: 10, height: 10, weight: 0.8 };
  });
  return { ranges: [distance], drawn: [from(distance, drawn)], label, covers };
}

function lampOf(sceneLamp: SceneLamp, side: Side, scale: Scale, { shot }: Scene): Thing {
  const { lamp, at, path, target, face, beamDeg } = sceneLamp;
  const [here, there] = [scale.place(at), scale.place(target)];
  const outline = hull(face.map(scale.place));
  const way = toward(here, there);
  const length = Math.hypot(there.x - here.x, there.y - here.y);
  const stand = side.from === 'side' ? standOf(scale, at, lamp.held, shot) : [];
  const moves = path.length > 0 ? [movePath(path.map(scale.place))] : [];
  const ranges = [blockRange(lamp)];
  const lines = lampLines(lamp);
  if (length < 14) {
    const box = around(outline)!;
    const corner = { x: box.x, y: box.y };
    return {
      ranges,
      drawn: [from(lamp, [...stand, ...moves, lampEndOn(here, outline, lampFill(lamp))])],
      label: { at: corner, clear: 4, lines, toward: { x: -1, y: -1 } },
    };
  }
  const fan = Math.min(52, length * 0.5);
  const aim = line(here, there, { stroke: ink.line, 'stroke-width': 0.9, 'stroke-dasharray': '2 3' });
  const cable = lamp.runsOn === 'mains' ? cableOf(here, way) : [];
  const drawn = [
    ...stand,
    ...cable,
    ...lampAlong(here, way, outline, lampFill(lamp)),
    ...beamOf(here, way, beamDeg, fan),
    aim,
    ...moves,
  ];
  return {
    ranges,
    drawn: [from(lamp, drawn)],
    label: { at: here, clear: 17, lines, toward: { x: -way.x, y: -way.y } },
    covers: [...lampCovers(here, way, outline), { ...around(fanCorners(here, way, fan))!, weight: 0.25 }],
  };
}

/** Small boxes along the face, its housing and its plug. */
function lampCovers(at: Point, way: Point, outline: readonly Point[]): Cover[] {
  const box = ({ x, y }: Point) => ({ x: x - 8, y: y - 8, width: 16, height: 16 });
  const spokes = outline.flatMap((corner) =>
    [0.2, 0.4, 0.6, 0.8, 1].map((part) =>
      box({ x: at.x + (corner.x - at.x) * part, y: at.y + (corner.y - at.y) * part }),
    ),
  );
  return [...spokes, box(moved(at, way, -18)), box(moved(at, way, -30))];
}

function fanCorners(at: Point, way: Point, length: number): Point[] {
  const off = { x: -way.y * length * 0.7, y: way.x * length * 0.7 };
  const tip = moved(at, way, length);
  return [at, tip, moved(tip, off, 1), moved(tip, off, -1)];
}

function lampLines(lamp: LampPlace): LabelLine[] {
  const { role, distance, angle, height, level, temperature, colour, modifierNames, held, heldAt, runsOn } = lamp;
  const place = [distance?.text, angle && `at ${angle.text}`].filter(Boolean).join(' ');
  const light = [colour?.text ?? temperature?.text, level?.text, ...modifierNames.map((one) => one.value)].filter(
    Boolean,
  );
  const how = [height && `${height.text} high`, held !== 'stand' && held, runsOn === 'battery' && 'battery'].filter(
    Boolean,
  );
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

/** Housing behind what shines, which is as large as it is. */
function lampAlong(at: Point, way: Point, outline: readonly Point[], fill: string | typeof ink.paper): El[] {
  const off = { x: -way.y, y: way.x };
  const spot = (back: number, aside: number) => moved(moved(at, way, -back), off, aside);
  const thick = hull([...outline, ...outline.map((point) => moved(point, way, -5))]);
  const housing = [spot(0, 9), spot(13, 6), spot(13, -6), spot(0, -9)];
  return [
    polygon(housing, { fill: ink.ink, stroke: ink.ink, 'stroke-linejoin': 'round' }),
    polygon(thick, { fill, 'fill-opacity': 0.45, stroke: ink.ink, 'stroke-width': 1.2, 'stroke-linejoin': 'round' }),
  ];
}

/** Seen along its own line it hangs over (or under) what is drawn there, so it is dashed. */
function lampEndOn({ x, y }: Point, outline: readonly Point[], fill: string | typeof ink.paper): El {
  return from(undefined, [
    polygon(outline, { fill, 'fill-opacity': 0.12, stroke: ink.ink, 'stroke-width': 1.4, 'stroke-dasharray': '7 4' }),
    el('circle', { cx: x, cy: y, r: 4, fill: 'none', stroke: ink.ink, 'stroke-width': 1.2 }),
  ]);
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
    strokes(
      [
        [spot(32, 2), spot(36, 2)],
        [spot(32, -2), spot(36, -2)],
      ],
      style,
    ),
  ];
}

function footOf(scale: Scale, circuit: Circuit | undefined, noted: readonly Noted[]): { body: El[]; bottom: number } {
  const y = scale.bottom + 14;
  const lengths = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
  const bar = lengths.findLast((mm) => mm * scale.pxPerMm <= 150) ?? 1;
  const px = bar * scale.pxPerMm;
  const body = [
    line({ x: margin, y }, { x: margin + px, y }, { 'stroke-width': 1.4 }),
    ...[0, 0.5, 1].map((part) =>
      line({ x: margin + px * part, y: y - 4 }, { x: margin + px * part, y: y + 4 }, { 'stroke-width': 1.4 }),
    ),
    text({ x: margin + px + 8, y: y + 4 }, say.lengthText(bar), { size: 12 }),
    text(
      { x: margin + px + 66, y: y + 4 },
      'Places and sizes are to scale; bodies of camera and lamps are symbols, a plug marks mains.',
      { size: 11, fill: ink.soft },
    ),
  ];
  if (!circuit) return { body, bottom: y + 14 };
  const lines = wrapped(circuit.words, 12, pageWidth - 2 * margin - 3 * markPitch);
  const last = y + 26 + (lines.length - 1) * 16;
  body.push(
    from(
      circuit.range,
      lines.map((words, index) => text({ x: margin, y: y + 26 + index * 16 }, words)),
    ),
    ...marksRow({ x: margin + textWidth(lines.at(-1)!, 12) + 16, y: last - 4 }, noted),
  );
  return { body, bottom: last + 10 };
}

function describe({ shot, lamps, camera, hung }: Scene, side: Side): string {
  const distance = shot.camera.distance ? ` ${shot.camera.distance.text} from ${shot.subject.name}` : '';
  const lit = lamps.map(
    ({ lamp }) =>
      `${lamp.name} ${lampLines(lamp)
        .slice(1)
        .map((one) => one.words)
        .join(', ')}`,
  );
  const behind = hung && shot.backdrop?.behind ? ` The backdrop hangs ${shot.backdrop.behind.text} behind.` : '';
  return `The set of ${shot.name} ${side.words}, to scale. The camera stands${distance}.${camera ? '' : ' Its place is not known.'} Lamps: ${lit.join('; ') || 'none'}.${behind}`;
}
