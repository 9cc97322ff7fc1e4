import { roundFrom } from '../../core/derived/outline.ts';
import type { Film, Product, Shot, Turntable } from '../../core/film.ts';
import { turningRpm } from '../../core/derived/time.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Box, Grams, Mm } from '../../core/units.ts';
import { allSaid, careful, isMostlySaid } from './caution-text.ts';
import { breaksTurning, heldWhileTurning } from './turning.ts';

const messages = {
  glass:
    '{shot}: {what} turns on {table} at {speed} rpm. A drive that sticks, a weight off the middle or a knock tips it: put a non-slip mat under it (`non-slip-mat`) and its weight in the middle (`load-centred`), hands off edges, shoes on. {closing}',
  over: '{shot}: {what} reaches {over} past the edge of {table} ({size} across) as it turns: a larger plate, its weight within {within} of the middle, and a non-slip mat under it.{said} {closing}',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'turntable-hazard',
  family: 'care',
  summary: 'What turns breaks and is held by nothing, or reaches past its plate.',
  severity: 'warning',
  sources: ['common practice, no source (spin alone moves nothing: ω²·r < µ·g)'],
  messages,
  shot(shot, context) {
    if (!shot.turn || turningRpm(shot) === 0 || allSaid(context.film, heldWhileTurning)) return;
    const over = overhangMm(shot, context.film);
    if (over !== undefined && over > leastOverMm(shot, context.film)) checkOver(shot, over, context);
    else checkGlass(shot, context);
  },
});

function checkGlass(shot: Shot, { film, report }: Ctx): void {
  const { turn } = shot;
  const what = breaksTurning(shot, film);
  if (!what || isMostlySaid(film, heldWhileTurning)) return;
  const { closing } = careful(film, 'handling').data;
  const table = turn!.table ? quoted(turn!.table.name) : 'the turntable';
  const data = { shot: shot.name, what, table, speed: num(Math.abs(turningRpm(shot)), 1), closing };
  // At the speeds of a product turn little happens: it is to be thought of, and no fault of the plan.
  report({ message: 'glass', severity: 'info', data, at: turn!.speed ?? turn!.by ?? turn! });
}

function checkOver(shot: Shot, over: Mm, { film, report }: Ctx): void {
  const { turn } = shot;
  const table = turn!.table!;
  const { severity, data } = careful(film, 'handling', heldWhileTurning);
  report({
    message: 'over',
    severity: severity ?? (doesHarm(table, film.product) ? 'warning' : 'info'),
    data: {
      shot: shot.name,
      what: 'the product',
      over: lengthText(over),
      table: quoted(table.name),
      size: lengthText(2 * plateRadiusMm(table)!),
      within: lengthText((plateRadiusMm(table)! * 2) / 3),
      ...data,
    },
    at: turn!.speed ?? turn!.by ?? turn!,
  });
}

/** A tenth of the radius past the edge tips nothing, and of what falls without harm a third (common practice, no source). */
function leastOverMm({ turn }: Shot, film: Film): Mm {
  const radius = (turn?.table && plateRadiusMm(turn.table)) ?? 0;
  if (film.product.weight && turn?.table && !doesHarm(turn.table, film.product)) return radius / 3;
  return radius / 10;
}

/** What has a hazard, what is heavy, and what is more than twice as tall as the plate is wide and so falls easily (common practice, no source). */
function doesHarm(table: Turntable, { hazards, weight, size }: Product): boolean {
  if (hazards.length > 0 || (weight?.value ?? 0) >= heavyG) return true;
  return (size?.value.heightMm ?? 0) > 4 * (plateRadiusMm(table) ?? Infinity);
}

const heavyG: Grams = 3000;

/** How far the product, or its corners, sweep past the edge of the plate. */
function overhangMm({ turn }: Shot, { product }: Film): Mm | undefined {
  const box = product.size?.value;
  const radius = turn?.table && plateRadiusMm(turn.table);
  return box && radius ? sweptRadiusMm(box, hasNoCorners(product)) - radius : undefined;
}

/** What is round, or knitted or woven. */
function hasNoCorners({ symmetry, weave }: Product): boolean {
  return weave !== undefined || (symmetry?.value ?? 1) >= roundFrom;
}

function sweptRadiusMm({ widthMm, depthMm = 0 }: Box, isRound: boolean): Mm {
  return isRound ? widthMm / 2 : Math.hypot(widthMm, depthMm) / 2;
}

/** Half of the plate's shorter side: a square plate holds no more than the circle in it. */
function plateRadiusMm({ size }: Turntable): Mm | undefined {
  return size && Math.min(size.value.widthMm, size.value.heightMm) / 2;
}
