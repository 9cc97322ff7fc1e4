import type { Range } from '../../core/document/node.ts';
import { focusHoldingMm } from '../../calc/optics.ts';
import { lensAt, sharpZone } from '../../core/derived/optics.ts';
import { cameraMoves } from '../../core/derived/time.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, pixelsText, quoted } from '../../core/say.ts';
import { deliverablesText, subjectText } from '../framing/framing-text.ts';
import { isCarried } from './carried.ts';
import {
  focusText,
  isSharp,
  liesText,
  mustBeSharp,
  pixelsOnSensor,
  sharpInCut,
  type Sharpness,
  sharpnessAt,
  strictest,
  worstBlurMm,
} from '../../core/derived/sharp.ts';

const allowed = {
  soft: {
    quantity: 'number',
    default: '2',
    meaning: 'How many circles of confusion of blur are a warning; less is a note.',
  },
  sway: { quantity: 'length', default: '20 mm', meaning: 'How far to and fro goes who holds a camera in the hand.' },
} as const;

const messages = {
  leaves:
    '{shot}: focused at {focus}, {near} to {far} is sharp when {subject} is worst off; it then {lies} and is {blur} soft in {deliverables}. It was sharp when the move started: pull focus during the move.',
  sways:
    '{shot}: the camera on {support} sways by some {sway} with whoever holds it, and focused at {focus} no more than {zone} is sharp. Let the focus follow, rest the camera on something, or stop down.',
} as const;

type Ctx = Context<typeof messages, typeof allowed>;

export default defineRule({
  id: 'focus-leaves-product',
  family: 'optics',
  summary: 'The subject is sharp when the move starts and leaves the sharp zone on the way.',
  severity: 'warning',
  sources: [
    'Photographic Lenses FAQ, no. 10 (near and far limit)',
    'common practice, no source (who holds a camera sways by 2 cm)',
  ],
  limits: allowed,
  messages,
  yieldsTo: ['nearer-than-lens-focuses', 'depth-of-field-short'],
  shot(shot, context) {
    const { film, limits, report } = context;
    const { camera } = shot;
    // A focus before a camera that stands still leaves nothing that it held.
    if (!cameraMoves(shot)) {
      checkSway(shot, film, context);
      return;
    }
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
      cause: { ...placeOf(camera.focus!), as: 'leaves' },
      excess: worstBlurMm(worst) / worst.circleMm,
      explainedBy: ['shallow-focus'],
      fixes: () => fixes(shot, film),
    });
  },
});

/** Of a camera in the hand the focus stays where it was, and what is sharp may be less deep than it sways. */
function checkSway(shot: Shot, film: Film, { limits, report }: Ctx): void {
  const { support, focus } = shot.camera;
  const isSet = focus?.value === 'locked' || (typeof focus?.value === 'object' && focus.value.from === focus.value.to);
  const sharp = sharpInCut(shot, film, 0);
  if (!support || !isCarried(support) || !isSet || !sharp || !mustBeSharp(shot, film, 0)) return;
  const deepMm = sharp.zone.farMm - sharp.zone.nearMm;
  if (deepMm >= limits.sway) return;
  report({
    message: 'sways',
    data: {
      shot: shot.name,
      support: quoted(support.name),
      sway: lengthText(limits.sway),
      focus: focusText(lensAt(shot, 0)!.focusMm),
      zone: lengthText(deepMm),
    },
    severity: 'info',
    at: focus,
    cause: { ...placeOf(focus), as: 'sways' },
    excess: limits.sway / deepMm,
    explainedBy: ['shallow-focus'],
    fixes: [set('Let focus follow the subject', [shot.camera, 'focus', 'follow'])],
  });
}

function placeOf({ start, end }: Range): Range {
  return { start, end };
}

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
