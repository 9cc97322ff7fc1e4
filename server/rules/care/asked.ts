/** What is left to the sheet. */
import type { Film } from '../../core/film.ts';
import { stillAsked } from './caution-text.ts';
import { darkRoom } from './dark-room.ts';
import { flames } from './open-flame.ts';
import { hangingIn, overheadDeg } from './hanging.ts';
import { breaksTurning, heldWhileTurning } from './turning.ts';

/** Words of `care.precautions` that the film asks for and that are not there, whether or not a finding says so. */
export function askedPrecautions(film: Film): string[] {
  const isTurning = [...film.shots.values()].some((shot) => breaksTurning(shot, film));
  const isBurning = [...film.shots.values()].some((shot) => flames(shot).length > 0);
  return [
    ...stillAsked(film, darkRoom(film)?.asked ?? []),
    ...(hangingIn(film, overheadDeg).length > 0 ? stillAsked(film, ['overhead-bond']) : []),
    ...(isTurning ? stillAsked(film, heldWhileTurning) : []),
    ...(isBurning ? stillAsked(film, ['flame-watched', 'flame-kept-away', 'air-moving']) : []),
  ];
}
