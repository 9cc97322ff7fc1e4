import { focusHoldingMm } from '../../calc/optics.ts';
import { sharpZone } from '../../core/derived/optics.ts';
import { cameraMoves } from '../../core/derived/time.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { pixelsText } from '../../core/say.ts';
import { deliverablesText, subjectText } from '../framing/framing-text.ts';
import {
  focusText,
  isSharp,
  liesText,
  mustBeSharp,
  pixelsOnSensor,
  type Sharpness,
  sharpnessAt,
  strictest,
  worstBlurMm,
} from '../../core/derived/sharp.ts';

export default defineRule({
  id: 'focus-leaves-product',
  family: 'optics',
  summary: 'The subject is sharp when the move starts and leaves the sharp zone on the way.',
  severity: 'warning',
  sources: ['Photographic Lenses FAQ, no. 10 (near and far limit)'],
  limits: {
    soft: {
      quantity: 'number',
      default: '2',
      meaning: 'How many circles of confusion of blur are a warning; less is a note.',
    },
  },
  messages: {
    leaves:
      '{shot}: focused at {focus}, {near} to {far} is sharp when {subject} is worst off; it then {lies} and is {blur} soft in {deliverables}. It was sharp when the move started: pull focus during the move.',
  },
  yieldsTo: ['nearer-than-lens-focuses', 'depth-of-field-short'],
  shot(shot, { film, limits, report }) {
    const { camera } = shot;
    // A focus before a camera that stands still leaves nothing that it held.
    if (!cameraMoves(shot)) return;
    const focus = camera.focus?.value;
    const set = focus === 'locked' || typeof focus === 'object';
    // Pulling focus before a camera that stands still is a move of its own.
    const pulled = typeof focus === 'object' && focus.from !== focus.to;
    const travels = camera.distance && camera.distance.value.from !== camera.distance.value.to;
    const closest = strictest(shot, film);
    if (!set || !closest || (pulled && !travels)) return;
    const path = pathOf(shot, film, closest.zoom);
    const [first] = path;
    const worst = path.reduce<Sharpness | undefined>(
      (most, one) => (!most || worstBlurMm(one) > worstBlurMm(most) ? one : most),
      undefined,
    );
    if (!first || !worst || !isSharp(first) || worstBlurMm(worst) <= worst.circleMm * 1.05) return;
    const zone = sharpZone(worst.lens, closest.zoom)!;
    report({
      message: 'leaves',
      data: {
        shot: shot.name,
        subject: subjectText(shot),
        focus: focusText(worst.lens.focusMm),
        near: focusText(zone.nearMm),
        far: zone.farMm === Infinity ? 'infinity' : focusText(zone.farMm),
        lies: liesText(worst.wanted),
        blur: pixelsText(worstBlurMm(worst) * pixelsOnSensor(shot, worst.lens, closest.scale)),
        deliverables: deliverablesText(closest.showing),
      },
      severity: worstBlurMm(worst) <= limits.soft * worst.circleMm * (1 + 1e-6) ? 'info' : undefined,
      at: camera.focus!,
      explainedBy: ['shallow-focus'],
      fixes: () => fixes(shot, film),
    });
  },
});

/** In the order of the move; the start of the action first, for there the focus was set. */
function pathOf(shot: Shot, film: Film, zoom: number): Sharpness[] {
  const moments = showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.actionMoment));
  return [...new Set([0, ...moments.sort((a, b) => a - b)])].flatMap(
    (moment) => sharpnessAt(shot, film, moment, zoom) ?? [],
  );
}

function fixes(shot: Shot, film: Film): FixIdea[] {
  const [start, end] = [0, 1].map((moment) => mustBeSharp(shot, film, moment));
  if (!start || !end) return [];
  const [from, to] = [start, end].map((span) => focusText(focusHoldingMm(span.nearMm, span.farMm)));
  return [
    set(`Pull focus from ${from} to ${to} during the move`, [shot.camera, 'focus', `${from} to ${to}`]),
    set('Let focus follow the subject', [shot.camera, 'focus', 'follow']),
  ];
}
