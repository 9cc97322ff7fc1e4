/**
 * Tables for a spreadsheet: RFC 4180. The first line says what stands in each column, with its unit. Words that a
 * spreadsheet would reckon as a formula get an apostrophe before them; numbers of ours stay numbers.
 */
import { rateFps } from '../calc/rate.ts';
import { around, packing } from '../core/derived/packing.ts';
import { dayPlans } from '../core/derived/schedule.ts';
import { shutterSeconds } from '../core/derived/time.ts';
import type { Film, Shot, Val } from '../core/film.ts';
import { dateText, rasterText } from '../core/say.ts';
import type { Take } from '../core/takes.ts';
import type { Ends } from '../core/units.ts';
import { harmless } from '../formats/escape.ts';
import { CannotHandOver, type HandOverOptions, type Kind, type ToHandOver } from './kind.ts';

export const csv: Kind = {
  make(asked) {
    const { columns, rows } = tables[asked.options.table](asked);
    return { text: [columns, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join(''), notes: [] };
  },
};

type Cell = string | number | undefined;

interface Table {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

/** Each column with what it says of a row. */
type Columns<Row> = Readonly<Record<string, (row: Row) => Cell>>;

function tableOf<Row>(columns: Columns<Row>, rows: readonly Row[]): Table {
  return { columns: Object.keys(columns), rows: rows.map((row) => Object.values(columns).map((say) => say(row))) };
}

const tables: Readonly<Record<HandOverOptions['table'], (asked: ToHandOver) => Table>> = {
  shots: ({ film }) => tableOf(shotColumns, inOrderOfWork(film)),
  packing: ({ film }) =>
    tableOf({ item: (one) => one.kind, name: (one) => one.name, count: (one) => one.count }, [
      ...packing(film),
      ...around(film),
    ]),
  takes: ({ sheets }) => {
    const takes = sheets.flatMap((sheet) => sheet.takes);
    if (takes.length === 0) throw new CannotHandOver('There is no take yet: no take sheet names this spec.');
    return tableOf(takeColumns, takes);
  },
};

interface ShotOfDay {
  readonly day: number;
  readonly shot: Shot;
}

function inOrderOfWork(film: Film): ShotOfDay[] {
  const planned = dayPlans(film).flatMap(({ number, shots }) => shots.map((shot) => ({ day: number, shot })));
  const left = [...film.shots.values()].filter((shot) => !planned.some((one) => one.shot === shot));
  return [...planned, ...left.map((shot) => ({ day: 0, shot }))];
}

const shotColumns: Columns<ShotOfDay> = {
  day: ({ day }) => day || undefined,
  'set-up': ({ shot }) => shot.setUpName?.value,
  shot: ({ shot }) => shot.name,
  subject: ({ shot }) => shot.subject.name,
  shows: ({ shot }) => shot.shows.map((one) => one.value).join('; '),
  action: ({ shot }) => shot.action?.what?.value,
  takes: ({ shot }) => shot.takes,
  'record (s)': ({ shot }) => shot.record?.value,
  camera: ({ shot: { camera } }) => camera.body?.name ?? camera.bodyName?.value,
  lens: ({ shot: { camera } }) => camera.lens?.name ?? camera.lensName?.value,
  support: ({ shot: { camera } }) => camera.supportName?.value,
  filters: ({ shot: { camera } }) => camera.filterNames.map((one) => one.value).join('; '),
  'distance (mm)': ({ shot: { camera } }) => endsText(camera.distance?.value),
  'height (mm)': ({ shot: { camera } }) => endsText(camera.height?.value),
  'angle (°)': ({ shot: { camera } }) => endsText(camera.angle?.value),
  raster: ({ shot: { camera } }) => camera.raster && rasterText(camera.raster.value),
  'rate (frames/s)': ({ shot: { camera } }) => camera.rate && rounded(rateFps(camera.rate.value)),
  codec: ({ shot: { camera } }) => camera.codec?.value,
  bits: ({ shot: { camera } }) => camera.bits?.value,
  'colour space': ({ shot: { camera } }) => camera.colourSpace?.value,
  'shutter (s)': ({ shot }) => rounded(shutterSeconds(shot), 6),
  'aperture (f/)': ({ shot: { camera } }) => setTo(camera.aperture),
  ISO: ({ shot: { camera } }) => setTo(camera.iso),
  'white balance (K)': ({ shot: { camera } }) => setTo(camera.whiteBalance),
  focus: ({ shot: { camera } }) => camera.focus?.text,
  lamps: ({ shot }) => shot.lit.map((lamp) => lamp.name).join('; '),
};

const takeColumns: Columns<Take> = {
  shot: ({ shotName }) => shotName.text,
  clip: ({ clips }) => clips.map(({ value }) => value).join('; '),
  judged: ({ judged }) => judged?.value,
  'from (s)': ({ part }) => rounded(part?.value.from),
  'to (s)': ({ part }) => rounded(part?.value.to),
  'action (s)': ({ action }) => rounded(action?.value),
  piece: ({ piece }) => piece?.value,
  camera: ({ use, sheet, shot }) => (use ?? sheet.use)?.value ?? shot?.camera.body?.name,
  day: ({ day, sheet }) => {
    const said = day ?? sheet.day;
    return said && dateText(said.value);
  },
  sound: ({ sound }) => sound?.path?.value,
  notes: ({ fields }) => fields.text('notes')?.value,
};

function setTo(val: Val<number | 'auto'> | undefined): Cell {
  return typeof val?.value === 'number' ? rounded(val.value) : val?.value;
}

/** `660`, or both ends of a move: `660 to 400`. */
function endsText(ends: Ends | undefined): Cell {
  if (!ends) return undefined;
  const [from, to] = [rounded(ends.from)!, rounded(ends.to)!];
  return from === to ? from : `${from} to ${to}`;
}

function rounded(value: number | undefined, digits = 3): number | undefined {
  return value === undefined ? undefined : Number(value.toFixed(digits));
}

function cell(value: Cell): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return String(value);
  // Line feeds may stand in a cell, between quotes; whatever else acts may not.
  const plain = harmless(value.replace(/\r\n?/g, '\n').replace(/\t/g, ' ')).trim();
  const shown = /^[=+\-@＝＋－＠]/.test(plain) ? `'${plain}` : plain;
  return /[",\n]/.test(shown) ? `"${shown.replaceAll('"', '""')}"` : shown;
}
