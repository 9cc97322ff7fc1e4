/** The views by name: a checked spec and what to look at in, a drawing out. */
import type { CheckResult } from '../core/checker.ts';
import type { Film, Shot } from '../core/film.ts';
import { drawBudgets } from './budgets.ts';
import { drawColour } from './colour/index.ts';
import { drawFrame } from './frame/index.ts';
import { type Room, usualRoom } from './page.ts';
import type { Picture, Source } from './picture.ts';
import { drawAbove } from './set/above.ts';
import { drawSide } from './set/side.ts';
import { drawTaken, type TakenSource } from './taken.ts';
import { drawSketch } from './sketch.ts';
import { drawTimeline } from './timeline/index.ts';

export { type Picture, pictureText } from './picture.ts';

/** What to look at; a view takes of it what it needs. */
export interface Choice {
  /** A shot's name; the first shot where it is left out. */
  readonly shot?: string | undefined;
  /** Number of a piece in the cut, from 0. */
  readonly piece?: number | undefined;
  readonly deliverable?: string | undefined;
  /** Draws frames with their light. */
  readonly isLit?: boolean | undefined;
  /** Where it is shown; a page of its own where that is left out. */
  readonly room?: Room | undefined;
}

export interface ViewKind {
  readonly name: string;
  readonly title: string;
  /** What it shows. */
  readonly about: 'shot' | 'film';
  readonly summary: string;
}

interface ShotView extends ViewKind {
  readonly about: 'shot';
  draw(source: Source, film: Film, shot: Shot, choice: Choice, room: Room): Picture;
}

interface FilmView extends ViewKind {
  readonly about: 'film';
  draw(source: TakenSource, film: Film, room: Room): Picture;
}

export const views: readonly (ShotView | FilmView)[] = [
  {
    name: 'set-above',
    title: 'Set from above',
    about: 'shot',
    summary: 'Camera, picture, sharp zone, product, surface, backdrop and lamps, to scale.',
    draw: (source, film, shot, _choice, room) => drawAbove(source, film, shot, room),
  },
  {
    name: 'set-side',
    title: 'Set from the side',
    about: 'shot',
    summary: 'The same cut along the line from camera to subject, with heights.',
    draw: (source, film, shot, _choice, room) => drawSide(source, film, shot, room),
  },
  {
    name: 'frame',
    title: 'Frame',
    about: 'shot',
    summary: 'What each deliverable shows: outline, safe areas, windows at start and end, titles.',
    draw: drawFrame,
  },
  {
    name: 'sketch',
    title: 'Sketch',
    about: 'shot',
    summary: 'What the shot is to look like, as somebody drew or photographed it.',
    draw: (source, film, shot, _choice, room) => drawSketch(source, film, shot, room),
  },
  {
    name: 'colour',
    title: 'Light and colour',
    about: 'shot',
    summary: 'Lamps on a scale of temperature against the camera, and brightness in stops.',
    draw: (source, _film, shot, _choice, room) => drawColour(source, shot, room),
  },
  {
    name: 'timeline',
    title: 'Film in time',
    about: 'film',
    summary: 'Beats, pieces, movement, light, titles, sound, flashes and deliverables.',
    draw: drawTimeline,
  },
  {
    name: 'budgets',
    title: 'Budgets',
    about: 'film',
    summary: 'Cards, batteries, power, time and file sizes against what there is.',
    draw: drawBudgets,
  },
  {
    name: 'taken',
    title: 'What is shot',
    about: 'film',
    summary: 'Takes of each shot by how good they are, and what is still missing, from the take sheets.',
    draw: drawTaken,
  },
];

/** Those that have something to show: what is shot only where a take sheet is there, sketches where a shot has one. */
export function viewsFor({ film, sheets = [] }: CheckResult): readonly ViewKind[] {
  const hasSketch = film && [...film.shots.values()].some(({ sketch }) => sketch);
  return views.filter(({ name }) => (name !== 'taken' || sheets.length > 0) && (name !== 'sketch' || hasSketch));
}

/** Undefined for a view or a shot that is not there, and for a spec that could not be read. */
export function draw(name: string, result: CheckResult, choice: Choice = {}): Picture | undefined {
  const view = views.find((one) => one.name === name);
  const { film } = result;
  if (!view || !film) return undefined;
  const { room = usualRoom } = choice;
  if (view.about === 'film') return view.draw(result, film, room);
  const shot = choice.shot === undefined ? [...film.shots.values()][0] : film.shots.get(choice.shot);
  return shot && view.draw(result, film, shot, choice, room);
}
