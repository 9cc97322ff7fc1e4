/** Pictures side by side, as large as the page lets them be. */
import { letters, type Page, smallest } from '../page.ts';
import { type Drawn, type Noted, paragraph } from '../picture.ts';
import { type El, from, ink, type Point } from '../svg.ts';
import type { Panel } from './panel.ts';

const gap = 18;
/** As wide as its words need at least. */
const leastWidth = 140;

/** How high a picture is drawn at least and at most, where the page is wide enough. */
function heights(page: Page): { least: number; most: number } {
  if (page.height === undefined) return { least: page.narrow ? 120 : 190, most: page.narrow ? 260 : 330 };
  const most = Math.max(80, page.height - 120);
  return { least: Math.min(most, 190), most };
}

const shapeOf = ({ raster }: Panel) => raster.width / raster.height;

function rowWidth(row: readonly Panel[], height: number): number {
  return row.reduce((sum, panel) => sum + Math.max(leastWidth, shapeOf(panel) * height) + gap, -gap);
}

/** Each row takes as many as stand in it at the least height. A piece begins a row of its own. */
function rowsOf(panels: readonly Panel[], page: Page): Panel[][] {
  const { least } = heights(page);
  const rows: Panel[][] = [];
  for (const panel of panels) {
    const row = rows.at(-1);
    const fits = row && row[0]!.piece === panel.piece && rowWidth([...row, panel], least) <= page.inner;
    if (fits) row.push(panel);
    else rows.push([panel]);
  }
  return rows;
}

/** The height at which a row is as wide as the page, within bounds. */
function heightOf(row: readonly Panel[], page: Page): number {
  let [low, high] = [20, heights(page).most];
  if (rowWidth(row, high) <= page.inner) return high;
  for (let step = 0; step < 30; step++) {
    const middle = (low + high) / 2;
    if (rowWidth(row, middle) <= page.inner) low = middle;
    else high = middle;
  }
  return low;
}

export function drawRows(
  panels: readonly Panel[],
  page: Page,
  top: number,
  at: (panel: Panel) => readonly Noted[],
): Drawn {
  const body: El[] = [];
  let y = top;
  for (const row of rowsOf(panels, page)) {
    const drawn = drawRow(row, page, y, at);
    body.push(...drawn.body);
    y = drawn.bottom + 14;
  }
  return { body, bottom: y };
}

function drawRow(row: readonly Panel[], page: Page, top: number, at: (panel: Panel) => readonly Noted[]): Drawn {
  const height = heightOf(row, page);
  let x = page.left;
  const places = row.map((panel) => {
    const place = { panel, x, width: Math.min(page.inner, shapeOf(panel) * height) };
    x += Math.max(leastWidth, place.width) + gap;
    return place;
  });
  const heads = places.map(({ panel, x: left, width }) => headOf(panel, { x: left, y: top }, width, page, at(panel)));
  const frameTop = Math.max(...heads.map((head) => head.bottom)) + 4;
  const shown = places.map(({ panel, x: left, width }) => {
    const frame = { x: left, y: frameTop, width, height: width / shapeOf(panel) };
    const foot = footOf(panel, left, width, page, frameTop + frame.height + 5);
    return { body: [from(panel.ranges[0], [...panel.draw(frame), ...foot.body])], bottom: foot.bottom };
  });
  const all = [...heads, ...shown];
  return { body: all.flatMap((one) => one.body), bottom: Math.max(...all.map((one) => one.bottom)) };
}

function headOf(panel: Panel, { x, y }: Point, width: number, page: Page, noted: readonly Noted[]): Drawn {
  const right = Math.min(page.right, x + Math.max(leastWidth, width));
  const [range] = panel.ranges;
  const head = paragraph({ x, y }, page, panel.head, { range, noted, right, size: letters.head, bold: true });
  if (!panel.sub) return head;
  const sub = paragraph({ x, y: head.bottom }, page, panel.sub, { range, right, size: smallest, fill: ink.soft });
  return { body: [...head.body, ...sub.body], bottom: sub.bottom };
}

function footOf({ foot }: Panel, x: number, width: number, page: Page, top: number): Drawn {
  const right = Math.min(page.right, x + Math.max(leastWidth, width));
  const body: El[] = [];
  let y = top;
  for (const words of foot) {
    const said = paragraph({ x, y }, page, words, { right, size: smallest });
    body.push(...said.body);
    y = said.bottom;
  }
  return { body, bottom: y };
}
