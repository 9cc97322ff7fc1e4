/** In the place of what the PDF library brings for embedded type (`create`) and for photographs: we use neither. */

export function create(): never {
  throw new Error('Type is not embedded.');
}

export default undefined;
