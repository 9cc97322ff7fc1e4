/** What changed as pictures: each shot that its camera sees otherwise than before, as lit, before and after. */
import { litShowing, type LitScene } from '../core/derived/lit/index.ts';
import { showingsOf } from '../core/derived/showings.ts';
import type { Film, Shot } from '../core/film.ts';
import type { CheckResult } from '../core/checker.ts';
import { litFile } from '../views/lit/index.ts';
import { paintLit } from '../views/lit/paint.ts';

/** A shot as PNG files; one side is missing where the shot is new or gone, or can't be drawn. */
export interface ChangedPicture {
  readonly shot: string;
  readonly before?: Uint8Array;
  readonly after?: Uint8Array;
}

/** Of a film of many shots in which all changed, these many are enough to see it. */
const most = 12;
const widthPx = 480;
/** A look at this width is enough to tell whether anybody would see a difference, which is more codes than this. */
const lookPx = 96;
const seenCodes = 5;

/** In the order of the shots now, then those that are gone. */
export function changedPictures(was: CheckResult | undefined, is: CheckResult | undefined): ChangedPicture[] {
  const [before, after] = [was?.film, is?.film];
  // Photographs of the product are those that are there now: no commit is searched for them.
  const photograph = (path: string) => (after ?? before)?.photograph(path);
  const [old, fresh] = [before, after].map((film) => film && { ...film, photograph });
  const names = [...new Set([...(fresh?.shots.keys() ?? []), ...(old?.shots.keys() ?? [])])];
  const found: ChangedPicture[] = [];
  for (const shot of names) {
    if (found.length === most) break;
    const [a, b] = [sceneOf(old, shot), sceneOf(fresh, shot)];
    if ((!a && !b) || (a && b && looksAlike(a, b, photograph))) continue;
    found.push({
      shot,
      ...(a && { before: litFile(a, { photograph }, widthPx) }),
      ...(b && { after: litFile(b, { photograph }, widthPx) }),
    });
  }
  return found;
}

function sceneOf(film: Film | undefined, name: string): LitScene | undefined {
  const shot: Shot | undefined = film?.shots.get(name);
  const showing = film && shot && showingsOf(shot, film)[0];
  return showing && litShowing(film, showing);
}

function looksAlike(a: LitScene, b: LitScene, photograph: Film['photograph']): boolean {
  if (JSON.stringify(a) === JSON.stringify(b)) return true;
  if (Math.abs(a.aspect - b.aspect) > 0.001) return false;
  const height = Math.round(lookPx / a.aspect);
  const [one, other] = [a, b].map((scene) => paintLit(scene, lookPx, height, { photograph }));
  return one!.every((code, at) => Math.abs(code - other![at]!) <= seenCodes);
}
