/** In the place of what the PDF library brings for embedded type and for photographs: we use neither. */

export function create(): never {
  throw new Error('Neither type nor photographs are embedded.');
}

export default create;
