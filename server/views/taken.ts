/** What is shot and what is missing: for each shot its takes by how good they are, then what must be shown. */
import { isUsable, mustShowNotShot, type ShotSoFar, shotsOfCut, shotsSoFar } from '../core/derived/shooting.ts';
import { shownIn } from '../core/derived/shown.ts';
import type { Film, Val } from '../core/film.ts';
import { listFirst, listText, shown } from '../core/say.ts';
import type { Sheets, Take } from '../core/takes.ts';
import { type Page, type Room, usualRoom } from './page.ts';
import { blockRange, type Drawn, type Noted, paragraph, type Picture, type Source } from './picture.ts';
import { drawRows, type Row } from './rows.ts';
import { cornersOf, type Frame, hatch } from './shapes.ts';
import { type El, from, ink, polygon, strokes } from './svg.ts';

export interface TakenSource extends Source {
  readonly sheets?: Sheets | undefined;
}

interface TakenRow extends Row {
  readonly takes: readonly Take[];
  /** Planned and not made. */
  readonly open: number;
  readonly isMissing: boolean;
}

export function drawTaken(source: TakenSource, film: Film, room: Room = usualRoom): Picture {
  const rows = source.sheets?.length ? [...shotRows(film, source.sheets), ...mustShowRows(film, source.sheets)] : [];
  return drawRows(source, room, {
    view: 'taken',
    title: 'What is shot',
    legend: rows.length > 0 ? legend : undefined,
    nothing: 'No take sheet of this spec is there yet.',
    rows,
    draw: drawRow,
  });
}

const legend =
  'A box is a take: filled is best, hatched good, with one stroke spare, crossed bad, empty not seen yet; dashed is planned and not made';

function shotRows(film: Film, sheets: Sheets): TakenRow[] {
  const inCut = new Set(shotsOfCut(film));
  const all = [...shotsSoFar(film, sheets).values()].sort(
    (a, b) => Number(inCut.has(b.shot)) - Number(inCut.has(a.shot)),
  );
  return all.map((soFar) => {
    const { shot, takes, good } = soFar;
    return {
      group: inCut.has(shot) ? 'Shots' : 'Not in the cut',
      name: shot.name,
      words: shotWords(soFar),
      takes,
      open: Math.max(0, shot.takes - takes.length),
      isMissing: inCut.has(shot) && good === 0,
      ranges: [blockRange(shot)],
    };
  });
}

function shotWords({ shot, takes, good, unseen }: ShotSoFar): string {
  const planned = `${shot.takes} planned`;
  if (takes.length === 0) return `nothing yet, ${planned}`;
  const best = takes
    .filter(({ judged }) => judged?.value === 'best')
    .flatMap(({ clips }) => (clips[0] ? shown(clips[0].text, mostOfName) : []));
  const seen = unseen > 0 ? `, ${unseen} not seen yet` : '';
  const chosen = best.length > 0 ? `, best ${listFirst(best, 3)}` : '';
  return `${takes.length} taken, ${planned}: ${good === 0 ? 'none' : good} good${seen}${chosen}`;
}

function mustShowRows(film: Film, sheets: Sheets): TakenRow[] {
  const missing = new Map(mustShowNotShot(film, sheets).map(({ name, shots }) => [name, shots]));
  const soFar = shotsSoFar(film, sheets);
  return (film.brief?.mustShow ?? []).map((thing: Val<string>): TakenRow => {
    const open = missing.get(thing.value);
    const shots = shotsOfCut(film).filter((shot) => shownIn(shot).some((one) => one.value === thing.value));
    const isIn = shots.filter(({ name }) => soFar.get(name)?.takes.some(isUsable));
    const names = (of: typeof shots) => listText(of.map(({ name }) => name));
    const words = open
      ? `not shot yet, planned in ${names([...open])}`
      : isIn.length > 0
        ? `in ${names(isIn)}`
        : 'in no shot of the cut';
    return {
      group: 'Must be shown',
      name: thing.value,
      words,
      takes: [],
      open: 0,
      isMissing: isIn.length === 0,
      ranges: [thing],
    };
  });
}

/** So much of a clip's name leaves room for the rest. */
const mostOfName = 40;

const box = { width: 20, height: 14, gap: 5 };

/** Name, boxes and words in a row; on a narrow page the words beside the name and the boxes below. */
function drawRow(row: TakenRow, page: Page, y: number, noted: readonly Noted[]): Drawn {
  const [range] = row.ranges;
  const fill = row.isMissing ? ink.alarm : undefined;
  const count = row.takes.length + row.open;
  const pitch = box.width + box.gap;
  if (page.narrow) {
    const left = page.left + 8;
    const said = paragraph({ x: left, y }, page, `${row.name}: ${row.words}`, { range, noted, ...(fill && { fill }) });
    const boxes = drawBoxes(row, { x: left, y: said.bottom + 4 }, Math.floor((page.right - left) / pitch));
    return { body: [...said.body, ...boxes.body], bottom: boxes.bottom };
  }
  const left = page.left + 216;
  const perLine = Math.max(1, Math.floor(Math.min(420, page.inner * 0.42) / pitch));
  const head = paragraph({ x: page.left + 10, y }, page, row.name, { range, right: left - 12 });
  const boxes = drawBoxes(row, { x: left, y: y + 2 }, perLine);
  const after = left + (count === 0 ? 0 : Math.min(perLine, Math.max(count, commonColumns)) * pitch + 10);
  const said = paragraph({ x: after, y }, page, row.words, { range, noted, ...(fill && { fill }) });
  return {
    body: [...head.body, ...boxes.body, ...said.body],
    bottom: Math.max(head.bottom, boxes.bottom, said.bottom),
  };
}

/** So many boxes have room before the words, which so begin in one column mostly. */
const commonColumns = 6;

function drawBoxes({ takes, open }: TakenRow, { x, y }: { x: number; y: number }, perLine: number): Drawn {
  const count = takes.length + open;
  if (count === 0) return { body: [], bottom: y };
  const body = Array.from({ length: count }, (_, index) => {
    const frame = {
      x: x + (index % perLine) * (box.width + box.gap),
      y: y + Math.floor(index / perLine) * (box.height + box.gap),
      width: box.width,
      height: box.height,
    };
    const take = takes[index];
    return take ? from(take.clips[0] ?? take.shotName, boxOf(take, frame)) : plannedBox(frame);
  });
  return { body, bottom: y + Math.ceil(count / perLine) * (box.height + box.gap) };
}

function plannedBox(frame: Frame): El {
  return polygon(cornersOf(frame), { stroke: ink.line, 'stroke-dasharray': '3 2' });
}

function boxOf({ judged }: Take, frame: Frame): El[] {
  const corners = cornersOf(frame);
  const [a, b, c, d] = corners as [(typeof corners)[0], (typeof corners)[0], (typeof corners)[0], (typeof corners)[0]];
  switch (judged?.value) {
    case 'best':
      return [polygon(corners, { fill: ink.ink })];
    case 'good':
      return [polygon(corners), strokes(hatch(corners, 4, 45))];
    case 'spare':
      return [polygon(corners), strokes([[d, b]])];
    case 'bad':
      return [
        polygon(corners, { stroke: ink.line }),
        strokes(
          [
            [a, c],
            [d, b],
          ],
          { stroke: ink.line },
        ),
      ];
    case undefined:
      return [polygon(corners)];
  }
}
