/** How high the product is: it stands on the surface, or hangs above it. */
import type { Product } from './film.ts';
import type { Mm } from './units.ts';

/** Its lowest point above the surface. */
export function productFootMm({ hangs }: Product): Mm {
  return hangs?.value ?? 0;
}

/** Its middle above the surface; of a product without a size its lowest point. */
export function productMiddleMm(product: Product): Mm {
  return productFootMm(product) + (product.size?.value.heightMm ?? 0) / 2;
}
