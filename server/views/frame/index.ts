/** What each deliverable shows of a shot: the recorded picture with its windows, and every finished picture as it will be. */
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import { litShowing } from '../../core/derived/lit/index.ts';
import type { Film, Shot } from '../../core/film.ts';
import { litNote } from '../lit/index.ts';
import { pageFor, type Room, usualRoom } from '../page.ts';
import { assign, blockRange, heading, paragraph, type Picture, type Place, type Source } from '../picture.ts';
import { sceneOf } from '../scene.ts';
import type { FrameChoice } from './choice.ts';
import { finishedPanel } from './finished.ts';
import type { Panel } from './panel.ts';
import { recordedPanel } from './recorded.ts';
import { drawRows } from './rows.ts';

/** More pieces than this are said, not drawn. */
const mostPieces = 3;

export function drawFrame(
  source: Source,
  film: Film,
  shot: Shot,
  choice: FrameChoice = {},
  room: Room = usualRoom,
): Picture {
  const page = pageFor(room);
  const all = showingsOf(shot, film).filter((one) => isChosen(one, choice));
  const pieces = [...new Set(all.map((one) => one.piece))];
  const shown = pieces.slice(0, mostPieces);
  const scene = sceneOf(shot, film);
  const panels = shown.flatMap((piece) => {
    const showings = all.filter((one) => one.piece === piece);
    const finished = choice.isRecorded ? [] : showings.map((one) => finishedPanel(scene, one, choice.isLit === true));
    return [recordedPanel(scene, showings, choice), ...finished];
  });
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const { noted, at } = assign(source, [...panels, head], shot.name);
  const title = `${shot.name}: the frame`;
  const top = room.bare
    ? { body: [], bottom: 0 }
    : heading(page, title, choice.isLit ? '' : legendOf(all), shot, at(head));
  const rows = drawRows(panels, page, top.bottom + 2, at);
  const left = pieces.length - shown.length;
  const missing = panels.length === 0 ? nothing(shot) : '';
  const others = left > 0 ? `${left} more of its pieces ${left === 1 ? 'is' : 'are'} not drawn here.` : missing;
  const more = [choice.isLit && panels.length > 0 && litWords(film, all, choice), others].filter(Boolean).join(' ');
  const end = more ? paragraph({ x: page.left, y: rows.bottom }, page, more) : { body: [], bottom: rows.bottom };
  return {
    view: 'frame',
    title,
    description: describe(shot, panels),
    width: page.width,
    height: end.bottom + 2,
    body: [...top.body, ...rows.body, ...end.body],
    noted,
  };
}

function isChosen({ piece, deliverables }: Showing, choice: FrameChoice): boolean {
  const { piece: index, deliverable } = choice;
  return (
    (index === undefined || piece?.index === index) &&
    (deliverable === undefined || deliverables.some((one) => one.name === deliverable))
  );
}

/** What the strokes mean, of those that there are. */
function legendOf(all: readonly Showing[]): string {
  const changes = all.some(({ views, turns }) => views.at(-1)!.zoom !== views[0].zoom || turns.at(-1) !== turns[0]);
  return [
    changes && 'solid at the start, dashed at the end',
    all.length > 0 && 'dotted: action safe, 93 %',
    all.length > 0 && 'dashes: title safe, 90 %',
    all.length > 0 && 'crossed: covered by the player, or past the backdrop',
  ]
    .filter(Boolean)
    .join(' · ');
}

/** What the pictures are worth, and what had to be taken for granted in them. */
function litWords(film: Film, all: readonly Showing[], { isRecorded }: FrameChoice): string {
  const scene = all[0] && litShowing(film, all[0]);
  const assumed = (scene?.assumed ?? []).map((one) => `${one}.`);
  // Beside the settings it stands among many, and what holds for all of them is said elsewhere.
  return [...(isRecorded ? [] : [litNote]), ...assumed].join(' ');
}

function nothing({ name }: Shot): string {
  return `No deliverable shows ${name}, or the size of its picture is not known.`;
}

function describe(shot: Shot, panels: readonly Panel[]): string {
  if (panels.length === 0) return nothing(shot);
  return panels.map(({ head, sub, foot }) => [head, sub, ...foot].filter(Boolean).join('. ')).join('; ');
}
