/** A lamp with what shines, its beam, its cable and its way. */
import { hull } from '../../calc/plane.ts';
import { temperatureHex } from '../../calc/temperature.ts';
import type { LampPlace } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { LabelLine } from '../labels.ts';
import { blockRange } from '../picture.ts';
import type { SceneLamp } from '../scene.ts';
import { around, moved, toward } from '../shapes.ts';
import { type El, el, from, ink, line, type Point, polygon, strokes } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import { arrowHead, standOf, type Thing } from './thing.ts';

export function lampOf(sceneLamp: SceneLamp, side: Side, scale: Scale): Thing {
  const { lamp, at, path, target, face, beamDeg } = sceneLamp;
  const [here, there] = [scale.place(at), scale.place(target)];
  const outline = hull(face.map(scale.place));
  const way = toward(here, there);
  const length = Math.hypot(there.x - here.x, there.y - here.y);
  const stand = side.from === 'side' ? standOf(scale, at, lamp.held) : [];
  const moves = path.length > 0 ? [movePath(path.map(scale.place))] : [];
  const ranges = [blockRange(lamp)];
  const lines = lampLines(lamp, side.from === 'side' ? { at, target } : undefined);
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
  };
}

/** What is written of it; seen from the side with how steeply its light falls in place of its angle round the set. */
export function lampLines(lamp: LampPlace, seen?: Pick<SceneLamp, 'at' | 'target'>): LabelLine[] {
  const { role, distance, angle, height, level, temperature, heldAt, bouncesName } = lamp;
  const turned = seen ? `away, ${steepness(seen)}` : angle && `at ${angle.text}`;
  const name = role && role.value !== lamp.name ? `${lamp.name} (${role.value})` : lamp.name;
  return [
    { words: name, bold: true, range: lamp },
    ...worded([distance?.text, turned], ' ', distance ?? angle),
    ...worded(heldWords(lamp), ', ', height ?? heldAt ?? lamp),
    ...worded(lightWords(lamp), ', ', temperature ?? level ?? bouncesName ?? lamp),
  ];
}

function worded(
  words: readonly (string | false | undefined)[],
  between: string,
  range: LabelLine['range'],
): LabelLine[] {
  const said = words.filter(Boolean).join(between);
  return said ? [{ words: said, ...(range && { range }) }] : [];
}

function heldWords({ height, held, runsOn }: LampPlace): (string | false | undefined)[] {
  return [
    height && `${height.text} high`,
    held !== 'stand' && held !== 'nothing' && held,
    runsOn === 'battery' && 'battery',
  ];
}

function lightWords({ colour, temperature, level, modifierNames, bouncesName }: LampPlace): (string | undefined)[] {
  if (bouncesName) return [`gives back ${bouncesName.value}`];
  return [colour?.text ?? temperature?.text, level?.text, ...modifierNames.map((one) => one.value)];
}

/** The angle of its light to the level, at what it lights. */
function steepness({ at, target }: Pick<SceneLamp, 'at' | 'target'>): string {
  const across = Math.hypot(at.x - target.x, at.z - target.z);
  const up = (Math.atan2(at.y - target.y, across) * 180) / Math.PI;
  if (Math.abs(up) < 0.5) return 'level';
  return `${say.angleText(Math.abs(up))} from ${up > 0 ? 'above' : 'below'}`;
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
