/** What was shot so far, over all sheets of a spec. */
import type { Film, Piece, Shot } from '../film.ts';
import type { Sheets, Take, TakeSheet } from '../takes.ts';
import { shownIn } from './shown.ts';

/** A shot of the cut with its takes, in the order of the sheets. */
export interface ShotSoFar {
  readonly shot: Shot;
  readonly takes: readonly Take[];
  readonly best: number;
  /** Those that the film can well use: best ones among them. */
  readonly good: number;
  readonly spare: number;
  readonly unseen: number;
}

const known = new WeakMap<Sheets, ReadonlyMap<string, ShotSoFar>>();

/** Every shot of the film, by name. */
export function shotsSoFar(film: Film, sheets: Sheets): ReadonlyMap<string, ShotSoFar> {
  const before = known.get(sheets);
  if (before) return before;
  const takes = new Map<string, Take[]>();
  for (const take of sheets.flatMap((sheet) => sheet.takes)) {
    const all = takes.get(take.shotName.value);
    if (all) all.push(take);
    else takes.set(take.shotName.value, [take]);
  }
  const all = new Map([...film.shots].map(([name, shot]) => [name, soFar(shot, takes.get(name) ?? [])]));
  known.set(sheets, all);
  return all;
}

function soFar(shot: Shot, takes: readonly Take[]): ShotSoFar {
  const count = (...words: (string | undefined)[]) =>
    takes.filter(({ judged }) => words.includes(judged?.value)).length;
  return {
    shot,
    takes,
    best: count('best'),
    good: count('best', 'good'),
    spare: count('spare'),
    unseen: count(undefined),
  };
}

/** The shots that the cut uses. */
export function shotsOfCut(film: Film): Shot[] {
  return [...film.shots.values()].filter(({ pieces }) => pieces.length > 0);
}

/** May a take be in the film? One that nobody has seen yet may. */
export function isUsable({ judged }: Take): boolean {
  return judged?.value !== 'bad';
}

/** Has a shot all the takes that it needs: one that is chosen for each piece, or as many as planned? */
export function isDone({ shot, takes, good }: ShotSoFar): boolean {
  return (
    piecesWithout(shot, takes, ({ judged }) => judged?.value === 'best').length === 0 ||
    (good > 0 && takes.length >= shot.takes)
  );
}

/** The pieces of a shot for which there is no such take; those kept for a piece serve it alone. */
export function piecesWithout(shot: Shot, takes: readonly Take[], such: (take: Take) => boolean): Piece[] {
  const fit = takes.filter(such);
  if (fit.some(({ piece }) => !piece)) return [];
  const kept = new Set(fit.map(({ piece }) => piece!.value));
  return shot.pieces.filter((_, index) => !kept.has(index + 1));
}

/** What must be shown, and no usable take shows. */
export function mustShowNotShot(
  film: Film,
  sheets: Sheets,
): { readonly name: string; readonly shots: readonly Shot[] }[] {
  const all = shotsSoFar(film, sheets);
  return (film.brief?.mustShow ?? []).flatMap(({ value: name }) => {
    const shots = shotsOfCut(film).filter((shot) => shownIn(shot).some((one) => one.value === name));
    const isShot = shots.some((shot) => all.get(shot.name)?.takes.some(isUsable));
    return isShot || shots.length === 0 ? [] : [{ name, shots }];
  });
}

/** The last day that is planned for filming, or on which somebody filmed. */
export function lastShootingDay(film: Film, sheets: Sheets): number | undefined {
  const days = [
    ...film.schedule.flatMap(({ day }) => day?.value ?? []),
    ...sheets.flatMap(({ day, takes }) => [day?.value ?? [], takes.flatMap((take) => take.day?.value ?? [])].flat()),
  ];
  return days.length === 0 ? undefined : Math.max(...days);
}

/** What is to be said of all sheets is said once: on that of the newest day. */
export function isNewest(sheet: TakeSheet, sheets: Sheets): boolean {
  return sheets.at(-1) === sheet;
}
