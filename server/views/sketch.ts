/** What a shot is to look like, as somebody drew or photographed it. */
import type { Film, Shot } from '../core/film.ts';
import type { Sketch } from '../core/sketch.ts';
import { base64 } from './lit/index.ts';
import { pageFor, type Room, usualRoom } from './page.ts';
import { assign, blockRange, heading, type Picture, paragraph, type Source } from './picture.ts';
import type { Frame } from './shapes.ts';
import { el, type El, from, ink } from './svg.ts';

const title = 'Sketch';
/** So high where nobody says how much room there is. */
const usualHeight = 560;

export function drawSketch(source: Source, film: Film, shot: Shot, room: Room = usualRoom): Picture {
  const page = pageFor(room);
  const { noted } = assign(source, [{ ranges: [shot.sketch] }], shot.name);
  const sub = shot.sketch ? `${shot.name}: ${shot.sketch.value}` : `${shot.name} has no sketch: \`sketch\` names one.`;
  const head = room.bare
    ? paragraph({ x: page.left, y: 8 }, page, title, { bold: true })
    : heading(page, title, sub, shot.sketch ?? blockRange(shot), noted);
  const sketch = sketchOf(film, shot);
  const drawn = sketch
    ? framed(sketch, {
        x: page.left,
        y: head.bottom + 4,
        width: page.inner,
        height: (page.height ?? usualHeight) - head.bottom - 8,
      })
    : undefined;
  const words = missing(film, shot);
  const said =
    drawn || !words ? undefined : paragraph({ x: page.left, y: head.bottom + 12 }, page, words, { fill: ink.soft });
  return {
    view: 'sketch',
    title: `${title} of ${shot.name}`,
    description: drawn ? `The sketch of ${shot.name}, from ${shot.sketch!.value}.` : sub,
    width: page.width,
    height: Math.ceil((drawn?.bottom ?? said?.bottom ?? head.bottom) + 6),
    body: [...head.body, ...(drawn ? [from(shot.sketch, drawn.body)] : []), ...(said?.body ?? [])],
    noted,
  };
}

/** Undefined where there is none, or none that can be used. */
export function sketchOf(film: Film, { sketch }: Shot): Sketch | undefined {
  const found = sketch && film.sketch(sketch.value);
  return typeof found === 'object' ? found : undefined;
}

function missing(film: Film, { sketch }: Shot): string {
  const found = sketch && film.sketch(sketch.value);
  return typeof found === 'string' ? `${sketch!.value} ${found}.` : '';
}

/** As large as it fits, at the left, with a thin line round it. */
function framed(sketch: Sketch, { x, y, width: mostWidth, height: mostHeight }: Frame): { body: El[]; bottom: number } {
  const scale = Math.min(mostWidth / sketch.widthPx, Math.max(40, mostHeight) / sketch.heightPx);
  const [width, height] = [sketch.widthPx * scale, sketch.heightPx * scale];
  const middle = { x: x + width / 2, y: y + height / 2 };
  const isLying = sketch.turnDeg % 180 !== 0;
  const [own, across] = isLying ? [height, width] : [width, height];
  const image = el('image', {
    x: middle.x - own / 2,
    y: middle.y - across / 2,
    width: own,
    height: across,
    href: `data:image/${sketch.kind};base64,${base64(sketch.bytes)}`,
    preserveAspectRatio: 'none',
    ...(sketch.turnDeg !== 0 && { transform: `rotate(${sketch.turnDeg} ${middle.x} ${middle.y})` }),
  });
  return { body: [image, el('rect', { x, y, width, height, fill: 'none', stroke: ink.line })], bottom: y + height };
}
