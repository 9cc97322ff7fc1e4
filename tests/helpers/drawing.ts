/** Looks into drawings: the elements of a picture, and those that come from some characters of the spec. */
import type { Film, Shot } from '../../server/core/film.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import type { Picture } from '../../server/views/picture.ts';
import type { El, Point } from '../../server/views/svg.ts';
import { checkSpec, spec } from './workspace.ts';

export function checked(blocks = ''): { result: CheckResult; film: Film; shot: Shot } {
  const result = checkSpec(spec(blocks));
  const film = result.film!;
  return { result, film, shot: [...film.shots.values()][0]! };
}

/** All elements, the outer ones first. */
export function elements(roots: readonly El[]): El[] {
  return roots.flatMap((one) => [
    one,
    ...elements(one.children.filter((child): child is El => typeof child !== 'string')),
  ]);
}

/** What is drawn for a value: the elements inside every group that starts where it does. */
export function drawnFor(picture: Picture, at: { readonly start: number }): El[] {
  const groups = elements(picture.body).filter((one) => one.attrs['data-start'] === at.start);
  return elements(groups.flatMap((one) => one.children.filter((child): child is El => typeof child !== 'string')));
}

/** All words of a picture, line by line. */
export function wordsOf(picture: Picture): string[] {
  const texts = elements(picture.body).filter((one) => one.name === 'text');
  return texts.map((one) => one.children.join(''));
}

export function lineLength(line: El): number {
  const value = (name: string) => Number(line.attrs[name]);
  return Math.hypot(value('x2') - value('x1'), value('y2') - value('y1'));
}

/** The corners of a path of straight lines. */
export function corners({ attrs }: El): Point[] {
  const numbers = String(attrs['d'])
    .match(/-?\d+(?:\.\d+)?/g)!
    .map(Number);
  return Array.from({ length: numbers.length / 2 }, (_, index) => ({
    x: numbers[2 * index]!,
    y: numbers[2 * index + 1]!,
  }));
}
