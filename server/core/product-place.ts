/** How high the product is: it stands on the surface, or hangs above it. */
import type { Product, Subject } from './film.ts';
import type { Mm } from './units.ts';

/** Its lowest point above the surface. */
export function productFootMm({ hangs }: Product): Mm {
  return hangs?.value ?? 0;
}

/** Its middle above the surface; of a product without a size its lowest point. */
export function productMiddleMm(product: Product): Mm {
  return productFootMm(product) + (product.size?.value.heightMm ?? 0) / 2;
}

/**
 * Does a shot of this part show the product otherwise than it was measured: hung, worn, unrolled or opened? Then the part's
 * middle is above the product, and the part is three times as high as all of it, or as far up as people wear something and half
 * as far again as the product is high (a handle or steam above it is neither).
 */
export function isHungOrOpened(product: Product, { name, box, heightMm }: Subject): boolean {
  const productMm = product.size?.value.heightMm;
  if (name === 'product' || !box || productMm === undefined) return false;
  const aboveMm = heightMm - productFootMm(product) - productMm;
  return aboveMm > 0 && (box.heightMm > 3 * productMm || aboveMm > Math.max(wornMm, 1.5 * productMm));
}

/** From here up is a wrist beside whoever stands: common practice, no source. */
const wornMm: Mm = 600;

/** What lamps are measured to: the middle of the product, or of what is seen of it where it is hung or opened. */
export function middleInShotMm(product: Product, subject: Subject): Mm {
  return isHungOrOpened(product, subject) ? subject.heightMm : productMiddleMm(product);
}
