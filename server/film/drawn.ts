/** What the camera would see of a shot that has no take yet, frame by frame. */
import { rateFps } from '../calc/rate.ts';
import { litPiece, type LitScene } from '../core/derived/lit/index.ts';
import { momentShowing } from '../core/derived/time.ts';
import type { Deliverable, Film, Piece } from '../core/film.ts';
import type { Raster } from '../core/units.ts';
import { paintLit } from '../views/lit/paint.ts';
import type { DrawnPicture, Output } from './assembly.ts';

/** So many times a second a draft draws anew. */
const draftFps = 12.5;
/** Grey of a card for what nothing is known of. */
const cardGrey = 58;

export class Drawer {
  readonly #raster: Raster;
  /** One frame of so many is drawn, the others show the same. */
  readonly #every: number;
  /** By piece: what stands still is painted once. */
  readonly #last = new Map<number, { readonly scene: string; readonly pixels: Uint8ClampedArray }>();

  constructor(
    private readonly film: Film,
    private readonly deliverable: Deliverable,
    { raster, rate, isDraft }: Output,
  ) {
    this.#raster = raster;
    this.#every = isDraft ? Math.max(1, Math.round(rateFps(rate) / draftFps)) : 1;
  }

  /** Red, green, blue and alpha of frame `frame` of a picture that has `frames` of them. */
  draw(picture: DrawnPicture, frame: number, frames: number): Uint8ClampedArray {
    const { width, height } = this.#raster;
    const scene = this.#sceneOf(picture, frame - (frame % this.#every), frames);
    const key = JSON.stringify(scene ?? null);
    const last = this.#last.get(picture.piece);
    if (last?.scene === key) return last.pixels;
    const pixels = scene
      ? paintLit(scene, width, height, { transfer: 'bt1886', photograph: (path) => this.film.photograph(path) })
      : card(width, height);
    this.#last.set(picture.piece, { scene: key, pixels });
    return pixels;
  }

  #sceneOf(
    { piece: index, fromS, stepS, zoom, shift }: DrawnPicture,
    frame: number,
    frames: number,
  ): LitScene | undefined {
    const piece = this.film.cut[index]!;
    const share = frames > 1 ? frame / (frames - 1) : 0;
    const [zoomNow, shiftNow] = [
      zoom.from + (zoom.to - zoom.from) * share,
      shift.from + (shift.to - shift.from) * share,
    ];
    const now: Piece = {
      ...piece,
      zoom: { from: zoomNow, to: zoomNow },
      shift: { from: shiftNow, to: shiftNow },
      // Both are in the numbers already.
      zoomBy: new Map(),
      shiftBy: new Map(),
    };
    return litPiece(this.film, now, this.deliverable, momentShowing(piece, fromS + stepS * frame));
  }
}

function card(width: number, height: number): Uint8ClampedArray {
  const pixels = new Uint8ClampedArray(width * height * 4).fill(cardGrey);
  for (let at = 3; at < pixels.length; at += 4) pixels[at] = 255;
  return pixels;
}
