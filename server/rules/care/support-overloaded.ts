import { bagForMarginKg, tipMargin } from '../../calc/tip.ts';
import { turningRpm } from '../../core/derived/time.ts';
import type { Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import type { Level, Severity } from '../../core/finding.ts';
import { lengthText, num, percentText, quoted } from '../../core/say.ts';
import type { Grams, Mm } from '../../core/units.ts';
import { cameraWeightG } from './placement.ts';
import { allSaid, careful } from './caution-text.ts';

const messages = {
  over: '{shot}: {load} on {gear}, which carries {rating}. Take a stronger one, or less on it.{said} {closing}',
  near: '{shot}: {load} on {gear}, which carries {rating}: {share} of it. Tighten everything twice.{said} {closing}',
  tips: '{shot}: {load} {reach} out on {gear} ({own}, its feet {foot} from the column): what holds it level is {margin} times what tips it, and 1.5 is the least for a nudge. A bag of {bag} kg at the column, or a shorter reach.{said} {closing}',
} as const;

type Ctx = Context<typeof messages, { near: Limit; margin: Limit }>;

export default defineRule({
  id: 'support-overloaded',
  family: 'care',
  summary: 'A stand, arm, slider or turntable carries too much, or tips over.',
  severity: 'error',
  sources: ['moments about the edge of the feet', 'margin 1.5 and 90 %: common practice, no source'],
  limits: {
    near: { quantity: 'share', default: '90 %', meaning: 'Share of the rating from which a note is made.' },
    margin: { quantity: 'number', default: '1.5', meaning: 'How many times what tips a stand must hold it level.' },
  },
  messages,
  shot(shot, context) {
    checkCamera(shot, context);
    checkTip(shot, context);
    checkTurntable(shot, context);
  },
});

function kgText(grams: Grams): string {
  return grams < 1000 ? `${num(grams, 0)} g` : `${num(grams / 1000, 2)} kg`;
}

function checkCamera(shot: Shot, context: Ctx): void {
  const { support, supportName } = shot.camera;
  const load = cameraWeightG(shot);
  if (!support?.load || load === undefined) return;
  checkLoad(shot, { gear: support.name, load, rating: support.load.value, at: supportName ?? shot }, context);
}

function checkTurntable(shot: Shot, context: Ctx): void {
  const { turn } = shot;
  const { weight } = context.film.product;
  if (!turn?.table?.load || !weight || turningRpm(shot) === 0) return;
  const at = turn.tableName ?? turn.speed ?? turn.by ?? turn;
  checkLoad(shot, { gear: turn.table.name, load: weight.value, rating: turn.table.load.value, at }, context);
}

interface Loaded {
  readonly gear: string;
  readonly load: Grams;
  readonly rating: Grams;
  readonly at: { readonly start: number; readonly end: number };
}

function checkLoad(shot: Shot, { gear, load, rating, at }: Loaded, { film, limits, report }: Ctx): void {
  if (load < rating * limits.near * (1 - 1e-6)) return;
  const { data } = careful(film, 'rigging');
  const all = { shot: shot.name, load: kgText(load), gear: quoted(gear), rating: kgText(rating), ...data };
  if (load > rating * (1 + 1e-6)) report({ message: 'over', data: all, at });
  else report({ message: 'near', severity: 'info', data: { ...all, share: percentText(load / rating) }, at });
}

function checkTip(shot: Shot, { film, limits, report }: Ctx): void {
  const { support, supportName } = shot.camera;
  const load = cameraWeightG(shot);
  const { reach, foot, weight } = support ?? {};
  if (!support || load === undefined || !reach || !foot || !weight) return;
  const stand = {
    loadKg: load / 1000,
    reachMm: reach.value,
    standKg: weight.value / 1000,
    footMm: foot.value,
  };
  const margin = tipMargin(stand);
  // A few hundredths are less than the reach is known to, and what a second hold keeps up does not fall over.
  if (margin >= limits.margin * 0.95 || allSaid(film, ['overhead-bond'])) return;
  const { severity, data } = careful(film, 'rigging', ['stands-weighted']);
  report({
    message: 'tips',
    severity: isClamped(stand) ? 'sheet' : answered(severity, margin),
    data: {
      shot: shot.name,
      load: kgText(load),
      reach: lengthText(reach.value),
      gear: quoted(support.name),
      own: kgText(weight.value),
      foot: lengthText(foot.value),
      margin: num(margin, 2),
      bag: num(Math.ceil(bagForMarginKg(stand, limits.margin) * 10 - 1e-6) / 10),
      ...data,
    },
    at: supportName ?? shot,
    excess: 1 / margin,
  });
}

/** What falls over by itself is told however it is weighted. */
function answered(severity: Level | undefined, margin: number): Level {
  return severity && margin < 1.05 ? 'info' : (severity ?? severityOf(margin));
}

/** On so small a foot nothing stands that reaches out so far: it is a clamp, and held by the table (common practice, no source). */
function isClamped({ reachMm, footMm }: { readonly reachMm: Mm; readonly footMm: Mm }): boolean {
  return footMm <= 100 && reachMm >= 4 * footMm;
}

/** It falls over by itself; it does at a nudge; or it stands, with less to spare than one would like. */
function severityOf(margin: number): Severity {
  if (margin < 1.05) return 'error';
  return margin < 1.25 ? 'warning' : 'info';
}
