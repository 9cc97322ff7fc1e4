import { deg } from '../../calc/geometry.ts';
import { tableMirrorsMm } from '../../calc/reflect.ts';
import { type Hung, hungBackdrop } from '../../core/derived/past-backdrop.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import { picturesOf, type Showing, showingsOf } from '../../core/derived/showings.ts';
import { surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText } from '../../core/say.ts';
import { deliverablesText } from '../framing/framing-text.ts';

export default defineRule({
  id: 'backdrop-edge-mirrored',
  family: 'optics',
  summary: 'The shiny surface mirrors what is above the backdrop.',
  severity: 'info',
  sources: ['law of reflection'],
  messages: {
    mirrored:
      '{shot}: the front of the surface mirrors up to {mirrored} above it at the backdrop, which ends {top} above it: its upper edge and the room over it show in the surface in {deliverables}. Raise the backdrop, or use a matte surface.',
  },
  shot(shot, { film, report }) {
    const { surface, room } = shot;
    const hung = hungBackdrop(shot, film);
    // In a dark room there is nothing to mirror above it.
    if (!hung || !surface?.size || !mirrors.has(surface.finish) || room?.light?.value === 0) return;
    const most = highest(shot, film, hung);
    if (!most || most.mirrored <= hung.topMm * (1 + 1e-6)) return;
    const mirrored = most.mirrored === Infinity ? 'anything' : lengthText(most.mirrored);
    const data = {
      shot: shot.name,
      mirrored,
      top: lengthText(hung.topMm),
      deliverables: deliverablesText(most.showing),
    };
    const at = surface.fields.text('finish') ?? surface;
    report({ message: 'mirrored', data, at, fixes: () => matte(surface) });
  },
});

/** How high up the backdrop the surface mirrors, at most. */
function highest(shot: Shot, film: Film, hung: Hung): { mirrored: number; showing: Showing } | undefined {
  const { frontMm } = surfaceOutline(shot)!;
  const all = picturesOf(showingsOf(shot, film)).flatMap(({ showing, view, pose }) => {
    // Only from the front: the backdrop hangs opposite 0°.
    if (!view.edges || pose.forward.z < 0.7 || pose.at.y <= 0) return [];
    const camera = {
      heightMm: pose.at.y,
      tiltDeg: tiltDeg(shot, view.actionMoment),
      halfFieldDeg: Math.atan(-view.edges.bottom) * deg,
    };
    const toEdge = frontMm - pose.at.z;
    return { mirrored: tableMirrorsMm(camera, hung.behindMm - pose.at.z, toEdge), showing };
  });
  return all.reduce<(typeof all)[0] | undefined>(
    (most, one) => (most && most.mirrored >= one.mirrored ? most : one),
    undefined,
  );
}

const mirrors = new Set(['glossy', 'metallic', 'transparent']);

function matte(surface: Parameters<typeof set>[1][0]): FixIdea[] {
  return [set('Use a matte surface (it mirrors nothing)', [surface, 'finish', 'matte'])];
}
