/** What the camera sees, and what of it is sharp. */
import { hull } from '../../calc/plane.ts';
import * as say from '../../core/say.ts';
import type { Scene, SceneCamera } from '../scene.ts';
import { clipped, cornersOf, hatch } from '../shapes.ts';
import { from, ink, type Point, polygon, strokes } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import type { Thing } from './thing.ts';

export function sightOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
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
function seenOutline({ sees, section }: SceneCamera, side: Side, { place, area }: Scale): Point[] {
  return clipped(side.from === 'above' ? hull(sees.map(place)) : section.map(place), cornersOf(area));
}

export function sharpOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
  if (!camera?.sharp || !camera.zone) return undefined;
  const { zone } = camera;
  const outline = clipped(seenOutline(camera, side, scale), hull(camera.sharp.map(scale.place)));
  if (outline.length < 3) return undefined;
  const { aperture, focus } = shot.camera;
  const end = zone.farMm === Infinity ? 'on' : `to ${say.lengthText(zone.farMm)}`;
  const words = `sharp from ${say.lengthText(zone.nearMm)} ${end}`;
  const right = outline.reduce((one, other) => (other.x - other.y > one.x - one.y ? other : one));
  return {
    tag: 'sharp',
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
