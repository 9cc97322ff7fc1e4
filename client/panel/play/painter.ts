/** A worker that paints lit scenes, so that the page stays quick meanwhile. */
import type { LitScene } from '../../../server/core/derived/lit/scene.ts';
import { paintLit } from '../../../server/views/lit/paint.ts';

export interface ToPaint {
  readonly id: number;
  readonly scene: LitScene;
  readonly width: number;
  readonly height: number;
}

export interface Painted {
  readonly id: number;
  readonly bitmap: ImageBitmap;
}

const scope = globalThis as unknown as {
  onmessage: (event: MessageEvent<ToPaint>) => void;
  postMessage(message: Painted, given: Transferable[]): void;
};

scope.onmessage = ({ data: { id, scene, width, height } }) => {
  const canvas = new OffscreenCanvas(width, height);
  const pixels = paintLit(scene, width, height) as Uint8ClampedArray<ArrayBuffer>;
  canvas.getContext('2d')!.putImageData(new ImageData(pixels, width, height), 0, 0);
  const bitmap = canvas.transferToImageBitmap();
  scope.postMessage({ id, bitmap }, [bitmap]);
};
