/**
 * Lines below each other in which somebody has put things into columns stay in columns: two values or names begin at one
 * place though what stands before them differs in width.
 */
import type { Gap } from './gaps.ts';

export interface Row {
  readonly line: number;
  readonly indent: number;
  /** Of all gaps of the line. */
  readonly gaps: readonly Gap[];
  /** Of the pieces between them, the first one before all gaps. */
  readonly widths: readonly number[];
}

/** Nobody puts more than so many things on a line into columns. */
const mostGaps = 200;

/** The same rows, with wider gaps where they stand in columns. Rows that stand apart are no table. */
export function inColumns(rows: readonly Row[]): Row[] {
  const tables: Row[][] = [];
  for (const row of rows) {
    const table = tables.at(-1);
    const above = table?.at(-1);
    const isShort = row.gaps.length <= mostGaps;
    if (isShort && above && above.gaps.length <= mostGaps && above.line === row.line - 1 && above.indent === row.indent)
      table!.push(row);
    else tables.push([row]);
  }
  return tables.flatMap((table) => (table.length > 1 ? arranged(table) : table));
}

function arranged(table: readonly Row[]): Row[] {
  const rows = [...table];
  const most = Math.max(...rows.map((row) => columnsOf(row).length));
  for (let nth = 0; nth < most; nth++) {
    const named = new Map<string, number[]>();
    for (const [index, row] of rows.entries()) {
      const gap = row.gaps[columnsOf(row)[nth] ?? -1];
      if (gap?.column === undefined) continue;
      const members = named.get(gap.column);
      if (members) members.push(index);
      else named.set(gap.column, [index]);
    }
    for (const members of named.values()) {
      const places = members.map((index) => ({ index, gap: columnsOf(rows[index]!)[nth]! }));
      if (!areArranged(places.map(({ index, gap }) => rows[index]!.gaps[gap]!))) continue;
      const column = Math.max(...places.map(({ index, gap }) => beginOf(rows[index]!, gap)));
      for (const { index, gap } of places)
        rows[index] = widened(rows[index]!, gap, column - beginOf(rows[index]!, gap));
    }
  }
  return rows;
}

function columnsOf({ gaps }: Row): number[] {
  return gaps.flatMap(({ column }, index) => (column === undefined ? [] : index));
}

/** Two that are as wide begin at one place by themselves. */
function areArranged(gaps: readonly Gap[]): boolean {
  const widths = new Map<number, number>();
  return gaps.some(({ start, end, at }) => {
    const other = widths.get(at) ?? end - start;
    widths.set(at, end - start);
    return other !== end - start;
  });
}

/** Where what is behind a gap will begin. */
function beginOf({ indent, gaps, widths }: Row, gap: number): number {
  return gaps.slice(0, gap + 1).reduce((sum, { width }, index) => sum + width + widths[index]!, indent);
}

function widened(row: Row, gap: number, by: number): Row {
  return { ...row, gaps: row.gaps.map((one, index) => (index === gap ? { ...one, width: one.width + by } : one)) };
}
