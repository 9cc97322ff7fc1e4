/** Which drawings of a film the panel asks for, has painted and keeps; without a browser. */
import { describe, expect, test } from 'vitest';
import { type AskedScene, Drawings } from '../../client/panel/play/drawings.ts';
import type { ToPaint } from '../../client/panel/play/painter.ts';
import type { Wanted } from '../../client/panel/play/shown-at.ts';
import type { LitScene } from '../../server/core/derived/lit/scene.ts';
import type { Reel, ReelPiece } from '../../server/film/reel.ts';

const pieceOf = (index: number, start: number, end: number): ReelPiece => ({
  index,
  name: `piece ${index}`,
  start,
  end,
  around: { zoom: 1, shift: 0 },
  finer: 1,
});

/** A reel of a still and of something that moves, and a desk that answers as it is told to. */
class Desk {
  readonly asked: AskedScene[] = [];
  readonly painted: ToPaint[] = [];
  readonly drawings = new Drawings({
    ask: (scene) => this.asked.push(scene),
    paint: (what) => this.painted.push(what),
    changed: () => undefined,
  });
  readonly pieces: readonly ReelPiece[];
  brightness = 1;
  mostAtOnce = 0;

  constructor(frames = 20, size = { width: 160, height: 90 }) {
    this.pieces = [pieceOf(0, 0, 10), pieceOf(1, 10, 10 + frames)];
    this.drawings.setSize(size);
    this.reel();
  }

  reel(): void {
    this.drawings.setReel({ pieces: this.pieces } as unknown as Reel);
  }

  wanted(frame: number): Wanted {
    const piece = this.pieces.find(({ start, end }) => start <= frame && frame < end)!;
    return { piece, frame, atS: frame / 25, stepS: 1 / 25 };
  }

  get all(): Wanted[] {
    return Array.from({ length: this.pieces[1]!.end }, (_, frame) => this.wanted(frame));
  }

  /** Answers until nothing is asked any more. */
  fill(): void {
    let [answered, painted] = [this.asked.length, this.painted.length];
    for (let turn = 0; turn < 5000; turn++) {
      this.drawings.fill([], this.all, true);
      this.mostAtOnce = Math.max(this.mostAtOnce, this.asked.length - answered);
      if (answered === this.asked.length) return;
      while (answered < this.asked.length) {
        const { id, piece, atS } = this.asked[answered++]!;
        const moment = piece === 1 ? atS : 0;
        const scene = { aspect: 16 / 9, moment, brightness: this.brightness } as unknown as LitScene;
        this.drawings.answered({ id, scene, moves: piece === 1 });
      }
      while (painted < this.painted.length) {
        const { id } = this.painted[painted++]!;
        this.drawings.painted(id, { id, close: () => undefined } as unknown as ImageBitmap);
      }
    }
    throw new Error('It asks without end.');
  }
}

describe('the drawings of a film', () => {
  test('of what stands still there is one, of what moves one for each frame', () => {
    const desk = new Desk();
    desk.fill();
    expect(desk.asked.filter(({ piece }) => piece === 0)).toHaveLength(1);
    const moments = desk.asked.filter(({ piece }) => piece === 1).map(({ atS }) => Math.round(atS * 25));
    expect(moments).toEqual(Array.from({ length: 20 }, (_, at) => 10 + at));
    expect(desk.drawings.progress).toEqual({ done: 21, all: 21 });
    expect(desk.mostAtOnce).toBeLessThanOrEqual(2);
  });

  test('of what moves for long there are as many as there is room for, and smaller', () => {
    const [frames, size] = [2000, { width: 960, height: 540 }];
    const desk = new Desk(frames, size);
    desk.fill();
    const moving = desk.painted.slice(1);
    const pixels = moving.reduce((sum, { width, height }) => sum + width * height, 0);
    expect(pixels * 4).toBeLessThan(500e6);
    expect(moving.length).toBeGreaterThan(frames / 6);
    expect(Math.min(...moving.map(({ width }) => width))).toBeGreaterThanOrEqual(480);
    // Still five times a second where a film has 25 frames.
    const steps = [...new Set(desk.asked.slice(3).map(({ atS }, at, all) => (at > 0 ? atS - all[at - 1]!.atS : 0)))];
    expect(Math.max(...steps)).toBeLessThanOrEqual(0.2 + 1e-9);
  });

  test('the one before is shown while one is not there yet', () => {
    const desk = new Desk();
    desk.fill();
    const shown = (frame: number) =>
      (desk.drawings.nearest(desk.wanted(frame))!.bitmap as unknown as { id: number }).id;
    const own = desk.asked.find(({ atS, piece }) => piece === 1 && atS === 17 / 25)!;
    expect(shown(17)).toBe(own.id);
    expect(shown(3)).toBe(shown(9));
    expect(new Desk().drawings.nearest(desk.wanted(3))).toBeUndefined();
  });

  test('a text that changes something else has nothing painted anew', () => {
    const desk = new Desk();
    desk.fill();
    const before = desk.painted.length;
    desk.reel();
    expect(desk.drawings.nearest(desk.wanted(12))).toBeDefined();
    expect(desk.drawings.progress.done).toBe(0);
    desk.fill();
    expect(desk.drawings.progress).toEqual({ done: 21, all: 21 });
    expect(desk.painted).toHaveLength(before);
    desk.brightness = 2;
    desk.reel();
    desk.fill();
    expect(desk.painted).toHaveLength(before * 2);
  });

  test('another size has all painted anew', () => {
    const desk = new Desk();
    desk.fill();
    const before = desk.painted.length;
    desk.drawings.setSize({ width: 320, height: 180 });
    desk.fill();
    expect(desk.painted.slice(before).map(({ width }) => width)).toEqual(Array.from({ length: before }, () => 320));
  });

  test('what comes for a reel that is gone changes nothing', () => {
    const desk = new Desk();
    desk.drawings.fill([], desk.all, true);
    const before = [...desk.asked];
    desk.reel();
    for (const { id } of before) desk.drawings.answered({ id, moves: true });
    desk.drawings.answered({ id: 99, moves: true });
    expect(desk.drawings.nearest(desk.wanted(0))).toBeUndefined();
    desk.fill();
    expect(desk.drawings.progress.done).toBe(21);
  });

  test('of what nothing is known there is a card, which is asked for once', () => {
    const desk = new Desk();
    desk.drawings.fill([desk.wanted(0)], [], false);
    desk.drawings.answered({ id: desk.asked[0]!.id, moves: false });
    desk.drawings.fill([desk.wanted(5)], [], false);
    expect(desk.drawings.nearest(desk.wanted(5))).toMatchObject({ bitmap: undefined });
    expect(desk.asked).toHaveLength(1);
  });
});
