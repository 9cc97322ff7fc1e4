/** Is what a shot looks at somebody, or somebody's hands? Their box is a guess, and they move. */
import type { Box } from '../units.ts';
import type { Film, Shot } from '../film.ts';

/**
 * Yes where `people` names it or a release is under its name. Else the shot shows people, and it is a part that is longer than the
 * product and is called `hands` or the like, or reaches round the product every way with much room: a carton fits closer, and what
 * is opened is longer one way alone.
 */
export function looksAtSomebody(shot: Shot, film: Film): boolean {
  const { subject, people } = shot;
  if (subject.name === 'product') return false;
  if (people.some(({ value }) => value === subject.name)) return true;
  if (film.rights.get(subject.name)?.kind?.value === 'release') return true;
  return (
    people.length > 0 && isMoreThanProduct(shot, film) && (isCalledSomebody(subject.name) || isRoundProduct(shot, film))
  );
}

/** Hands that play, a cup beside it: a part that is longer than the product is not on it. */
export function isMoreThanProduct({ subject: { name, box } }: Shot, { product }: Film): boolean {
  const whole = product.size?.value;
  if (name === 'product' || !box || !whole) return false;
  return Math.max(...sides(box)) > 1.1 * Math.max(...sides(whole));
}

/** What is no thing, where it is longer than the product: the hands of a clock are not. */
function isCalledSomebody(name: string): boolean {
  return /^(?:hands?|sitter|wearer|worker)$/i.test(name);
}

/** So many times the product's room (common practice, no source). */
const roomy = 6;

function isRoundProduct({ subject: { box } }: Shot, { product }: Film): boolean {
  const [outer, inner] = [sides(box!), sides(product.size!.value)];
  const room = (of: readonly number[]) => of.reduce((all, side) => all * side, 1);
  return outer.every((side, index) => side > inner[index]!) && room(outer) > roomy * room(inner);
}

function sides({ widthMm, heightMm, depthMm = 0 }: Box): [number, number, number] {
  return [widthMm, heightMm, depthMm];
}
