/** How long the work takes and what it costs, as far as plan and settings say. Sums are exact: `calc/money.ts`. */
import { amountText, decimalsOf, minorUnits, partOf, percentOf } from '../../calc/money.ts';
import { runsS } from '../../core/derived/edit.ts';
import { dayPlans } from '../../core/derived/schedule.ts';
import type { Film } from '../../core/film.ts';
import { slotsOf } from '../sheet/clock.ts';
import { capital, plain } from './plain-words.ts';

type Minutes = number;

export interface Estimate {
  readonly days: readonly DayEstimate[];
  /** Undefined where the settings do not say how long editing takes. */
  readonly editing?: Quarters;
  readonly costs?: Costs;
}

export interface DayEstimate {
  /** Days since 1970-01-01, where it is known. */
  readonly day?: number | undefined;
  /** Without a name where the shots have no set-up. */
  readonly setUps: readonly { readonly name?: string | undefined; readonly minutes: Minutes }[];
  readonly breakMinutes: Minutes;
  /** Of work, breaks left out. */
  readonly hours: Quarters;
}

/** Whole quarters of an hour, as they are paid. */
export type Quarters = number;

export interface Costs {
  readonly lines: readonly CostLine[];
  readonly net: string;
  readonly tax?: { readonly percent: string; readonly amount: string } | undefined;
  readonly total: string;
  readonly validUntil?: number | undefined;
}

export interface CostLine {
  readonly what: string;
  /** `6.25 h × 80.00 EUR`; nothing for a fixed item. */
  readonly how: string;
  readonly amount: string;
}

/** Undefined where there is nothing to film or to edit yet. */
export function estimateOf(film: Film): Estimate | undefined {
  const days = daysOf(film);
  const editing = editingOf(film);
  if (days.length === 0 && editing === undefined) return undefined;
  return { days, editing, costs: costsOf(film, days, editing) };
}

function daysOf(film: Film): DayEstimate[] {
  const plans = dayPlans(film).filter(({ works }) => works.length > 0);
  return plans.map((plan) => {
    const slots = slotsOf(plan, film).map(({ from, to, work }) => ({ minutes: to - from, work }));
    const worked = slots.filter(({ work }) => work);
    return {
      day: plan.day?.day?.value,
      setUps: worked.map(({ work, minutes }) => ({ name: work?.name, minutes })),
      breakMinutes: slots.reduce((sum, { minutes, work }) => sum + (work ? 0 : minutes), 0),
      hours: quarters(worked.reduce((sum, { minutes }) => sum + minutes, 0)),
    };
  });
}

/** Rounded up: common practice, no source. */
function quarters(minutes: Minutes): Quarters {
  return Math.ceil(minutes / 15 - 1e-6);
}

/** The longest deliverable is edited, and the others are made from it. */
function editingOf(film: Film): Quarters | undefined {
  const { editingTimeS, versionTimeS = 0 } = film.fees ?? {};
  const lengths = [...film.deliverables.values()].map((one) => runsS(one, film) ?? film.cutS ?? 0);
  const longestS = Math.max(film.cutS ?? 0, ...lengths);
  if (editingTimeS === undefined || longestS <= 0) return undefined;
  const versions = Math.max(0, film.deliverables.size - 1);
  return quarters(((longestS / 60) * editingTimeS + versions * versionTimeS) / 60);
}

function costsOf(film: Film, days: readonly DayEstimate[], editing: Quarters | undefined): Costs | undefined {
  const { fees } = film;
  if (!fees) return undefined;
  const decimals = decimalsOf(fees.currency);
  const text = (units: bigint) => [amountText(units, decimals), fees.currency].filter(Boolean).join(' ');
  const lines: { what: string; how: string; units: bigint }[] = [];
  const add = (what: string, written: string | undefined, times?: { how: string; units: (fee: bigint) => bigint }) => {
    const fee = written === undefined ? undefined : minorUnits(written, decimals);
    if (fee === undefined) return;
    lines.push({ what, how: times ? `${times.how} × ${text(fee)}` : '', units: times ? times.units(fee) : fee });
  };
  const byHour = (count: Quarters) => ({
    how: hoursText(count),
    units: (fee: bigint) => partOf(fee, BigInt(count), 4n),
  });
  if (fees.shootingDay !== undefined) {
    const count = days.length;
    add('Filming', fees.shootingDay, {
      how: `${count} ${count === 1 ? 'day' : 'days'}`,
      units: (fee) => fee * BigInt(count),
    });
  } else {
    add('Filming', fees.shootingHour, byHour(days.reduce((sum, { hours }) => sum + hours, 0)));
  }
  if (editing !== undefined) add('Editing', fees.editingHour, byHour(editing));
  for (const [name, amount] of fees.fixed ?? []) add(capital(plain(name)), amount);
  if (lines.length === 0) return undefined;
  const net = lines.reduce((sum, { units }) => sum + units, 0n);
  const tax = fees.tax === undefined ? 0n : percentOf(net, fees.tax);
  return {
    lines: lines.map(({ what, how, units }) => ({ what, how, amount: text(units) })),
    net: text(net),
    ...(fees.tax !== undefined && { tax: { percent: fees.tax, amount: text(tax) } }),
    total: text(net + tax),
    validUntil: fees.validUntil,
  };
}

/** `6.25 h`. */
export function hoursText(count: Quarters): string {
  return `${count / 4} h`;
}
