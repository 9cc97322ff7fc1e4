import { deg } from '../../calc/geometry.ts';
import { tableMirrorsMm } from '../../calc/reflect.ts';
import { hungBackdrop } from '../../core/derived/behind.ts';
import { cameraPose, tiltDeg } from '../../core/derived/optics.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText } from '../../core/say.ts';
import { deliverablesText } from '../framing/words.ts';

export default defineRule({
  id: 'backdrop-edge-mirrored',
  family: 'optics',
  summary: 'The shiny surface mirrors what is above the backdrop.',
  severity: 'info',
  sources: ['law of reflection'],
  messages: {
    mirrored:
      '{shot}: the front of the surface mirrors up to {mirrored} above it at the backdrop, which ends {top} above it: its upper edge and the room over it show in the surface in {deliverables}.',
  },
  shot(shot, { film, report }) {
    const { surface, room } = shot;
    const hung = hungBackdrop(shot, film);
    const size = surface?.size?.value;
    // In a dark room there is nothing to mirror above it.
    if (!hung || !surface || !size || !mirrors.has(surface.finish) || room?.light?.value === 0) return;
    let most: { mirrored: number; deliverables: string } | undefined;
    for (const showing of showingsOf(shot, film)) {
      for (const view of showing.views) {
        const pose = cameraPose(shot, view.actionMoment);
        // Only from the front: the backdrop hangs opposite 0°.
        if (!pose || !view.edges || pose.forward.z < 0.7 || pose.at.y <= 0) continue;
        const camera = {
          heightMm: pose.at.y,
          tiltDeg: tiltDeg(shot, view.actionMoment),
          halfFieldDeg: Math.atan(-view.edges.bottom) * deg,
        };
        const toEdge = -pose.at.z - (size.depthMm ?? size.heightMm) / 2;
        const mirrored = tableMirrorsMm(camera, hung.behindMm - pose.at.z, toEdge);
        if (mirrored > (most?.mirrored ?? hung.topMm * (1 + 1e-6)))
          most = { mirrored, deliverables: deliverablesText(showing) };
      }
    }
    if (!most) return;
    const mirrored = most.mirrored === Infinity ? 'anything' : lengthText(most.mirrored);
    const data = { shot: shot.name, mirrored, top: lengthText(hung.topMm), deliverables: most.deliverables };
    const at = surface.fields.text('finish') ?? surface;
    report({ message: 'mirrored', data, at, fixes: () => matte(surface) });
  },
});

const mirrors = new Set(['glossy', 'metallic', 'transparent']);

function matte(surface: Parameters<typeof set>[1][0]): FixIdea[] {
  return [set('Use a matte surface: it mirrors nothing', [surface, 'finish', 'matte'])];
}
