/** What work costs, from `shootspec.yaml`: read for the estimate, and checked for what the schema can't see. */
import { decimalsOf, minorUnits } from '../calc/money.ts';
import { child, type Node, pairOf } from './document/node.ts';
import type { Finding } from './finding.ts';
import { dateText, quoted } from './say.ts';
import * as u from './units.ts';
import type { Seconds } from './units.ts';

/** Amounts as written, to be read exactly by `calc/money.ts`. */
export interface Fees {
  readonly currency?: string;
  /** For each hour, or for each day, of filming. */
  readonly shootingHour?: string;
  readonly shootingDay?: string;
  readonly editingHour?: string;
  /** Of editing for each minute of film, and for each deliverable after the first. */
  readonly editingTimeS?: Seconds;
  readonly versionTimeS?: Seconds;
  /** By their names; a discount has a minus. */
  readonly fixed?: ReadonlyMap<string, string>;
  /** In percent, as a plain number. */
  readonly tax?: string;
  /** Days since 1970-01-01. */
  readonly validUntil?: number;
}

const amountKeys = ['shooting-hour', 'shooting-day', 'editing-hour'] as const;

/** What a file says; what it leaves out, or what can't be read, is not there. */
export function readFees(block: Node | undefined): Fees | undefined {
  if (block?.kind !== 'map') return undefined;
  const currency = text(block, 'currency');
  const [shootingHour, shootingDay, editingHour] = amountKeys.map((key) => amount(child(block, key)));
  const fixed = child(block, 'fixed');
  const items = fixed?.kind === 'map' ? fixed.pairs : [];
  const said: Fees = {
    currency,
    shootingHour,
    shootingDay,
    editingHour,
    editingTimeS: u.realTimeS(text(block, 'editing-time') ?? ''),
    versionTimeS: u.realTimeS(text(block, 'version-time') ?? ''),
    fixed: fixed && new Map(items.flatMap(({ key, value }) => pairOrNone(key.text, amount(value)))),
    tax: /^(\d{1,3}(?:\.\d{1,9})?) %$/.exec(text(block, 'tax') ?? '')?.[1],
    validUntil: u.dateDays(text(block, 'valid-until') ?? ''),
  };
  return Object.fromEntries(Object.entries(said).filter(([, value]) => value !== undefined));
}

/** Of a folder further down, over those above it: nearest wins, item by item. */
export function feesOver(near: Fees | undefined, above: Fees | undefined): Fees | undefined {
  if (!near || !above) return near ?? above;
  const fixed = near.fixed || above.fixed ? new Map([...(above.fixed ?? []), ...(near.fixed ?? [])]) : undefined;
  const { shootingHour, shootingDay } = near;
  // One way to reckon takes the place of the other.
  const before = (shootingHour ?? shootingDay) ? { ...above, shootingHour: undefined, shootingDay: undefined } : above;
  return { ...before, ...near, ...(fixed && { fixed }) };
}

/** What the schema can't see: decimals that the currency does not have, two ways to reckon the same work, a day that is over. */
export function checkFees(block: Node | undefined, today?: number): Finding[] {
  if (block?.kind !== 'map') return [];
  const currency = text(block, 'currency');
  const decimals = decimalsOf(currency);
  const fixed = child(block, 'fixed');
  const amounts = [
    ...amountKeys.flatMap((key) => child(block, key) ?? []),
    ...(fixed?.kind === 'map' ? fixed.pairs.map(({ value }) => value) : []),
  ];
  return [...amounts.flatMap((node) => tooFine(node, decimals, currency)), ...twice(block), ...over(block, today)];
}

function tooFine(node: Node, decimals: number, currency: string | undefined): Finding[] {
  const written = amount(node);
  if (written === undefined || minorUnits(written, decimals) !== undefined) return [];
  const [whole = '', rest = ''] = written.split('.');
  // `1.250` may be a thousand and more with a mark in it.
  const meant = [
    ...(rest.length === 3 ? [whole + rest] : []),
    `${whole}.${rest.slice(0, decimals)}`.replace(/\.$/, ''),
  ];
  const message =
    `${quoted(written)} has ${rest.length} decimals, and ${currency ? quoted(currency) : 'an amount of money'} has ` +
    `${decimals === 0 ? 'none' : decimals}. Write ${meant.map(quoted).join(' or ')}; thousands have no mark between them.`;
  const { start, end } = node;
  const fixes = meant.map((one) => ({
    title: `Write ${quoted(one)}`,
    edits: [{ start, end, text: one }],
    safe: false,
  }));
  return [{ rule: 'amount-too-fine', severity: 'error', message, start, end, related: [], fixes }];
}

function twice(block: Node): Finding[] {
  const [hour, day] = (['shooting-hour', 'shooting-day'] as const).map((key) => pairOf(block, key));
  if (!hour || !day) return [];
  const [, later] = [hour, day].sort((a, b) => a.key.start - b.key.start);
  const message =
    'Filming is paid by the hour or by the day: keep `shooting-hour` or `shooting-day`. Until then days count.';
  const { start, end } = later!.key;
  return [{ rule: 'two-fees-for-shooting', severity: 'warning', message, start, end, related: [], fixes: [] }];
}

function over(block: Node, today: number | undefined): Finding[] {
  const node = child(block, 'valid-until');
  const until = u.dateDays(text(block, 'valid-until') ?? '');
  if (!node || until === undefined || today === undefined || until >= today) return [];
  const message = `These fees hold until ${dateText(until)}, and today is ${dateText(today)}: the next estimate needs another day.`;
  const { start, end } = node;
  return [{ rule: 'fees-over', severity: 'info', message, start, end, related: [], fixes: [] }];
}

function pairOrNone(name: string, value: string | undefined): [string, string][] {
  return value === undefined ? [] : [[name, value]];
}

/** A plain decimal number, as it is written. */
function amount(node: Node | undefined): string | undefined {
  const written = node?.kind === 'scalar' && !node.quoted ? node.text : undefined;
  return written !== undefined && u.number(written) !== undefined ? written : undefined;
}

function text(block: Node, key: string): string | undefined {
  const node = child(block, key);
  return node?.kind === 'scalar' && node.text !== '' ? node.text : undefined;
}
