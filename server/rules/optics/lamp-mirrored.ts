import { parseHex, relativeLuminance } from '../../calc/colour.ts';
import { dot, subtract, type Vec3 } from '../../calc/geometry.ts';
import {
  type BeforeFace,
  faceLuminanceCdM2,
  lampLuminanceCdM2,
  mirrorReachMm,
  mirrorSpotMm,
} from '../../calc/reflect.ts';
import { faceLight, lampPosition, outputLuxAt1m } from '../../core/derived/light.ts';
import { productPlace, poseInSet } from '../../core/derived/optics.ts';
import { type Face, facesOf, isCurved } from '../../core/derived/outline.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { along } from '../../core/derived/moments.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, num, quoted } from '../../core/say.ts';
import { lampSides, lampSize } from '../../core/derived/lamp-size.ts';

/** Gloss throws back 4 % straight on: ((n − 1) ÷ (n + 1))² at n = 1.5. */
const gloss = 0.04;
/** Of a label, or of light letters on what is dark. */
const usualReflects = 0.4;

export default defineRule({
  id: 'lamp-mirrored',
  family: 'optics',
  summary: 'A lamp mirrors in the flat glossy face that must be read, and burns part of it out.',
  severity: 'info',
  sources: ['law of reflection', 'Fresnel’s equations: 4 % at n = 1.5, straight on'],
  limits: {
    brighter: {
      quantity: 'number',
      default: '2',
      meaning: 'How many times brighter than the face the reflection must be.',
    },
  },
  messages: {
    mirrored:
      '{shot}: {lamp} mirrors in {label} and, if that is as glossy as the product, is {times} times as bright there as the label itself: its letters wash out. Move the lamp, or turn the face.',
  },
  shot(shot, { film, limits, report }) {
    // Letters on a gloss; metal is lit by its reflections, so there they are wanted.
    if (film.product.finish !== 'glossy' || !shot.subject.letters || isCurved(shot, film)) return;
    for (const lamp of shot.lit) {
      if (wanted.has(lamp.role?.value ?? '') || lamp.aim === 'backdrop') continue;
      const times = timesBrighter(shot, film, lamp);
      if (times === undefined || times <= limits.brighter || !mirrors(shot, film, lamp)) continue;
      const data = { shot: shot.name, lamp: quoted(lamp.name), label: quoted(shot.subject.name), times: num(times, 0) };
      report({
        message: 'mirrored',
        data,
        at: lamp.angle ?? lamp,
        cause: lamp.angle ?? { start: lamp.start, end: lamp.end },
        excess: times,
        fixes: () => [...onEdge(shot, film, lamp), ...turned(shot, film, lamp)],
      });
    }
  },
});

const wanted = new Set(['highlight', 'rim', 'practical', 'accent']);

/** Luminance of the lamp in the gloss over that of the face; undefined where the light is not known. */
function timesBrighter(shot: Shot, film: Film, lamp: LampPlace): number | undefined {
  const lux = outputLuxAt1m(lamp);
  const { widthM, heightM } = lampSize(lamp);
  const light = faceLight(shot, 0);
  if (lux === undefined || !widthM || !heightM || !light.complete || light.totalLux <= 0) return undefined;
  const level = along(lamp.level?.value, 0) ?? 1;
  const lost = lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0);
  const own = film.product.colour && parseHex(film.product.colour.value);
  // On what is dark the letters are light.
  const reflects = Math.max(usualReflects, own ? relativeLuminance(own) : 0);
  const face = faceLuminanceCdM2(light.totalLux, reflects);
  return face > 0 ? (gloss * lampLuminanceCdM2(lux * level * 2 ** -lost, widthM * heightM)) / face : Infinity;
}

/** Does the lamp's image touch the front of the subject at a moment when that is looked at? */
function mirrors(shot: Shot, film: Film, lamp: LampPlace): boolean {
  return showingsOf(shot, film).some(({ views, turns }) =>
    views.some((view) => {
      const pose = poseInSet(shot, view.actionMoment);
      const place = lampPosition(lamp, productPlace(shot), view.actionMoment);
      if (!pose || !place) return false;
      const fronts = turns.flatMap((turn) => facesOf(shot, film, turn).filter((face) => face.name === 'front'));
      return fronts.some((face) => touches(face, pose.at, place, lamp));
    }),
  );
}

function touches(face: Face, camera: Vec3, place: Vec3, lamp: LampPlace): boolean {
  const { levelMm, uprightMm } = lampSides(lamp);
  const before = (point: Vec3, axis: Vec3): BeforeFace => {
    const to = subtract(point, face.middle);
    return { alongMm: dot(to, axis), outMm: dot(to, face.normal) };
  };
  return [
    { axis: face.across, side: face.widthMm, lampMm: levelMm },
    { axis: { x: 0, y: 1, z: 0 }, side: face.heightMm, lampMm: uprightMm },
  ].every(({ axis, side, lampMm }) => {
    const [c, l] = [before(camera, axis), before(place, axis)];
    const spot = mirrorSpotMm(c, l);
    return spot !== undefined && Math.abs(spot) < mirrorReachMm(c, l, side, lampMm);
  });
}

/** A tube laid the other way, where its narrow image then misses the face. */
function onEdge(shot: Shot, film: Film, lamp: LampPlace): FixIdea[] {
  const { widthM, heightM } = lampSize(lamp);
  const way = lamp.longSide === 'upright' ? 'level' : 'upright';
  const long = Math.max(widthM, heightM) > 2 * Math.min(widthM, heightM);
  if (!long || mirrors(shot, film, { ...lamp, longSide: way })) return [];
  return [
    set(`Set long side of ${quoted(lamp.name)} ${way} (its reflection is off the label)`, [lamp, 'long-side', way]),
  ];
}

/** The least change of its angle that takes its image off the face. */
function turned(shot: Shot, film: Film, lamp: LampPlace): FixIdea[] {
  const { angle } = lamp;
  if (!angle || lamp.changes) return [];
  for (let step = 5; step <= 60; step += 5) {
    for (const sign of [1, -1]) {
      const now = (((angle.value.from + sign * step) % 360) + 360) % 360;
      const tried = { ...lamp, angle: { ...angle, value: { from: now, to: now } } };
      if (mirrors(shot, film, tried)) continue;
      return [
        set(`Set angle of ${quoted(lamp.name)} to ${angleText(now)} (its reflection is off the label)`, [
          lamp,
          'angle',
          angleText(now),
        ]),
      ];
    }
  }
  return [];
}
