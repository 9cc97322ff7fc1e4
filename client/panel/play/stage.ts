/** Puts what is shown onto the canvas: drawings with the part of them that is seen, plain colours, titles. */
import type { Reel, ReelTitle } from '../../../server/film/reel.ts';
import type { Drawings } from './drawings.ts';
import type { Layer, Shown } from './shown-at.ts';

/** A card for what nothing is known of, and for what is not drawn yet. */
const card = '#3a3a3a';

export class Stage {
  readonly #canvas: HTMLCanvasElement;
  readonly #context: CanvasRenderingContext2D;
  #titles: readonly { readonly title: ReelTitle; readonly bitmap: CanvasImageSource }[] = [];

  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
    this.#context = canvas.getContext('2d', { alpha: false })!;
    this.#context.imageSmoothingQuality = 'high';
  }

  get size(): { readonly width: number; readonly height: number } {
    return { width: this.#canvas.width, height: this.#canvas.height };
  }

  setReel({ titles }: Reel): void {
    this.#titles = titles.map((title) => ({ title, bitmap: titlePixels(title) }));
  }

  /** Fits the picture's shape into a room of CSS pixels, as fine as the screen shows and no finer than `mostLines`. */
  fit(aspect: number, room: { readonly width: number; readonly height: number }): void {
    const width = Math.min(room.width, room.height * aspect);
    this.#canvas.style.width = `${width}px`;
    this.#canvas.style.height = `${width / aspect}px`;
    const height = Math.max(2, Math.min(mostLines, Math.round((width / aspect) * window.devicePixelRatio)));
    const pixels = { width: Math.max(2, Math.round(height * aspect)), height };
    if (this.#canvas.width === pixels.width && this.#canvas.height === pixels.height) return;
    Object.assign(this.#canvas, pixels);
  }

  show({ layers, titles }: Shown, drawings: Drawings): void {
    const { width, height } = this.#canvas;
    const context = this.#context;
    context.globalAlpha = 1;
    context.fillStyle = card;
    context.fillRect(0, 0, width, height);
    for (const layer of layers) this.#lay(layer, drawings);
    for (const { index, solid } of titles) {
      const one = this.#titles[index];
      if (!one) continue;
      const { title, bitmap } = one;
      const [across, down] = [width / title.raster.width, height / title.raster.height];
      context.globalAlpha = solid;
      context.drawImage(bitmap, title.x * across, title.y * down, title.width * across, title.height * down);
    }
  }

  #lay(layer: Layer, drawings: Drawings): void {
    const { width, height } = this.#canvas;
    const context = this.#context;
    context.globalAlpha = layer.solid;
    if (layer.kind === 'plain') {
      context.fillStyle = layer.colour;
      context.fillRect(0, 0, width, height);
      return;
    }
    const { wanted, part } = layer;
    const bitmap = drawings.nearest(wanted)?.bitmap;
    if (bitmap) {
      const { x, y, size } = part;
      const from = [x * bitmap.width, y * bitmap.height, size * bitmap.width, size * bitmap.height] as const;
      context.drawImage(bitmap, ...from, 0, 0, width, height);
    } else if (wanted.without === undefined) this.#name(wanted.piece.name);
  }

  #name(name: string): void {
    const { width, height } = this.#canvas;
    const context = this.#context;
    context.fillStyle = card;
    context.fillRect(0, 0, width, height);
    context.fillStyle = '#ffffff';
    context.font = `${Math.max(10, Math.round(height / 18))}px sans-serif`;
    context.textAlign = 'center';
    context.fillText(name, width / 2, height / 2, width * 0.9);
  }
}

const mostLines = 1080;

function titlePixels({ rgbaBase64, width, height }: ReelTitle): CanvasImageSource {
  const bytes = Uint8ClampedArray.from(atob(rgbaBase64), (sign) => sign.charCodeAt(0));
  const canvas = new OffscreenCanvas(width, height);
  canvas.getContext('2d')!.putImageData(new ImageData(bytes, width, height), 0, 0);
  return canvas;
}
