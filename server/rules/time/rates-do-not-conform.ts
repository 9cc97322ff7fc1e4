import { type Conform, conform, type Rate, rateFps, sameRate } from '../../calc/rate.ts';
import { angleInFilm, steadyShuttersS, stepping } from '../../core/derived/shutters.ts';
import { moves, shutterSeconds } from '../../core/derived/time.ts';
import type { Deliverable, Film, Piece, Shot, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, num, percentText, quoted, timesText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { canRecord } from './rates.ts';
import { shutterFix } from './shutter-fix.ts';

export default defineRule({
  id: 'rates-do-not-conform',
  family: 'time',
  summary: 'Recorded rate, timeline and deliverable do not divide, and no speed change says how to fit them.',
  severity: 'warning',
  sources: ['arithmetic on exact fractions', 'ITU-R BT.709-6 (60, 30 and 24 Hz, and these ÷ 1.001)'],
  messages: {
    recorded:
      '{shot}: recorded at {rate} for a {edit} film, so {what}, {times} a second, and what moves jumps. Record at {edit}, or play it at a speed that uses every frame.',
    held: '{shot}: recorded at {rate} for a {edit} film, so each frame is shown {count}: it moves less smoothly than the rest.',
    slips:
      '{shot}: recorded at {rate} for a {edit} film, so {what} every {every} s. Record at {edit}, or play it at a speed that uses every frame.',
    delivered:
      '{deliverable}: {rate} out of a {edit} timeline, so {what}, {times} a second, and what moves jumps. Deliver at {edit}, or cut at {rate}.',
    deliveredSlips:
      '{deliverable}: {rate} out of a {edit} timeline, so {what} every {every} s. Deliver at {edit}, or cut at {rate}.',
    noTimeline:
      'The deliverables have different rates ({rates}) and no timeline says which one the cut is made at. Say it, such as `timeline: {example}`.',
  },
  film(film, { report }) {
    const rates = [...film.deliverables.values()].filter((one) => one.rate);
    const odd = rates.find((one) => !sameRate(one.rate!.value, rates[0]!.rate!.value));
    if (!odd || film.timeline.rate || film.timeline.fields.said('rate')) return;
    const texts = rates.map((one) => `${one.rate!.text} for ${quoted(one.name)}`);
    const best = commonRate(film) ?? rates[0]!.rate!;
    report({
      message: 'noTimeline',
      data: { rates: listText(texts), example: `{ rate: ${best.text} }` },
      at: odd.rate!,
      fixes: [set(`Set rate of the timeline to ${best.text}`, [film.timeline, 'rate', best.text])],
    });
  },
  shot(shot, { film, report }) {
    const { rate } = shot.camera;
    const edit = film.timeline.rate;
    // A declared speed says how the frames are used: another rule reads it. Stills have no rate.
    const plain = shot.pieces.filter((piece) => !piece.speedAt);
    if (!rate || !edit || plain.length === 0 || shot.interval || !moves(shot)) return;
    const joint = conform(rate.value, edit.value);
    if (joint.whole) return;
    const data = { shot: shot.name, rate: rate.text, edit: edit.text };
    const held = conform(edit.value, rate.value);
    if (held.whole) {
      const fixes = recordAt(shot, film, edit);
      report({ message: 'held', data: { ...data, count: timesText(held.nearest) }, at: rate, severity: 'info', fixes });
      return;
    }
    const fixes = [...recordAt(shot, film, edit), ...playAt(shot, plain, edit.value)];
    const all = { ...data, what: whatHappens(rate.value, edit.value) };
    if (slips(joint)) {
      if (seenS(plain) < joint.slipEveryS) return;
      report({ message: 'slips', data: { ...all, every: everyText(joint) }, at: rate, severity: 'info', fixes });
    } else {
      report({ message: 'recorded', data: { ...all, times: slipsText(joint) }, at: rate, fixes });
    }
  },
  deliverable(deliverable, { film, report }) {
    const { rate } = deliverable;
    const edit = film.timeline.rate;
    if (!rate || !edit || !deliverable.pieces.some((piece) => pictureMoves(piece))) return;
    const joint = conform(edit.value, rate.value);
    // Every frame twice (25 in a file of 50) plays as evenly as before.
    if (joint.whole || conform(rate.value, edit.value).whole) return;
    const what = whatHappens(edit.value, rate.value);
    const data = { deliverable: deliverable.name, rate: rate.text, edit: edit.text, what };
    const fixes = fitDeliverable(deliverable, film, edit);
    if (slips(joint)) {
      if (seenS(deliverable.pieces) < joint.slipEveryS) return;
      const every = everyText(joint);
      report({ message: 'deliveredSlips', data: { ...data, every }, at: rate, severity: 'info', fixes });
    } else {
      report({ message: 'delivered', data: { ...data, times: slipsText(joint) }, at: rate, fixes });
    }
  },
});

/** Rates that differ only by 1.001 slip so seldom that it is a note. */
function slips({ offBy }: Conform): boolean {
  return offBy < 0.002;
}

/** What happens to frames of `from` in a line at `to`. */
function whatHappens(from: Rate, to: Rate): string {
  if (conform(from, to).nearest > 1) return 'the step from frame to frame is uneven';
  return rateFps(from) > rateFps(to) ? 'a frame is dropped' : 'a frame is shown twice';
}

function slipsText({ slipEveryS }: Conform): string {
  return timesText(1 / slipEveryS);
}

/** Pieces that are shorter together slip nowhere, or once: the editing program takes each frame for one. */
function seenS(pieces: readonly Piece[]): Seconds {
  return pieces.reduce((sum, { lengthS = 0 }) => sum + lengthS, 0);
}

function everyText({ slipEveryS }: Conform): string {
  return num(slipEveryS, 1);
}

function pictureMoves({ shot, zoom, shift, footage }: Piece): boolean {
  const reframed = zoom.from !== zoom.to || shift.from !== shift.to;
  return reframed || footage !== undefined || (shot !== undefined && moves(shot));
}

/** Records at the film's rate where the camera can; the shutter follows where it would be far from half a frame. */
function recordAt(shot: Shot, film: Film, edit: Val<Rate>): FixIdea[] {
  if (!canRecord(shot, edit.value)) return [];
  const speed = stepping(shot, film)?.speed ?? 1;
  const step = { fps: rateFps(edit.value), k: speed, speed };
  const now = shutterSeconds(shot);
  const { shutter } = shot.camera;
  const angle = shutter && shutter.value !== 'auto' && shutter.value.kind === 'angle';
  const stays = now === undefined || angle || Math.abs(angleInFilm(now, step) - 180) <= 40 + 1e-6;
  const timeS = stays ? undefined : steadyShuttersS(shot, film, step, 40)[0];
  if (timeS !== undefined) return [shutterFix(shot, film, step, timeS, edit.text)];
  return [set(`Set rate to ${edit.text}`, [shot.camera, 'rate', edit.text])];
}

/** The speed at which each film frame takes a whole number of recorded ones; not where sound would change its pitch. */
function playAt(shot: Shot, pieces: readonly Piece[], edit: Rate): FixIdea[] {
  const recorded = shot.camera.rate!.value;
  const { nearest } = conform(recorded, edit);
  const speed = (nearest * rateFps(edit)) / rateFps(recorded);
  if (pieces.some((piece) => piece.sound === 'keep')) return [];
  const text = percentText(speed, 2);
  const use =
    nearest === 1
      ? 'every frame is used'
      : `every ${nearest}${nearest === 2 ? 'nd' : nearest === 3 ? 'rd' : 'th'} frame is used`;
  return [set(`Play it at ${text} (${use})`, ...pieces.map((piece) => [piece, 'speed', text] as const))];
}

/** The one rate of a deliverable that everything divides into: all deliverables and all that is recorded. */
function commonRate(film: Film): Val<Rate> | undefined {
  const rates = [...film.deliverables.values()].flatMap((one) => one.rate ?? []);
  const recorded = film.cut.flatMap((piece) => (piece.speedAt ? [] : (piece.shot?.camera.rate ?? [])));
  return rates.find(
    (edit) =>
      rates.every((one) => conform(edit.value, one.value).whole || conform(one.value, edit.value).whole) &&
      recorded.every((one) => conform(one.value, edit.value).whole),
  );
}

function fitDeliverable(deliverable: Deliverable, film: Film, edit: Val<Rate>): FixIdea[] {
  const common = commonRate(film);
  const fixes = [set(`Set rate of ${quoted(deliverable.name)} to ${edit.text}`, [deliverable, 'rate', edit.text])];
  if (common && !sameRate(common.value, edit.value))
    fixes.unshift(set(`Set rate of the timeline to ${common.text}`, [film.timeline, 'rate', common.text]));
  return fixes;
}
