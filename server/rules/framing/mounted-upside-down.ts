import { tiltDeg } from '../../core/derived/optics.ts';
import { defineRule, set } from '../../core/rule.ts';

export default defineRule({
  id: 'mounted-upside-down',
  family: 'framing',
  summary: 'The camera hangs upside down and nothing turns the picture, or it is turned without need.',
  severity: 'error',
  sources: ['common practice, no source'],
  limits: {
    steep: {
      quantity: 'angle',
      default: '80°',
      meaning: 'Looking down more steeply than this, either side may be up, and it is only a note.',
    },
  },
  messages: {
    hangs:
      '{shot}: the camera hangs upside down and the cut does not turn the picture: it is delivered on its head. Turn it in the edit, and lock the orientation of a phone so that it does not turn by itself.',
    turned:
      '{shot}: the cut turns the picture upright, but the camera is not upside down: it is delivered on its head. Leave the picture as it is, or hang the camera so.',
  },
  piece(piece, { limits, report }) {
    const { shot, flip } = piece;
    if (!shot) return;
    const hangs = shot.camera.wayUp === 'upside-down';
    if (hangs === (flip?.value === 'upright')) return;
    const severity = Math.abs(tiltDeg(shot, 0)) >= limits.steep ? ('info' as const) : undefined;
    const common = { data: { shot: shot.name }, severity };
    if (hangs) {
      const turn = set('Turn the picture upright in this piece', [piece, 'flip', 'upright']);
      const level = set('Hold the camera upright', [shot.camera, 'way-up', 'upright']);
      report({ message: 'hangs', at: flip ?? piece, fixes: flip ? [level] : [turn, level], ...common });
    } else if (shot.camera.wayUp === 'upright') {
      const level = set('Hold the camera upside down', [shot.camera, 'way-up', 'upside-down']);
      report({ message: 'turned', at: flip!, fixes: [level], ...common });
    }
  },
});
