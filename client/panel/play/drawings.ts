/**
 * The drawings of a film: asks for the scenes that are wanted next, has them painted, and keeps as many as there is room
 * for. What stands still is drawn once; of what moves every frame where there is room, else one frame of so many.
 */
import type { LitScene } from '../../../server/core/derived/lit/scene.ts';
import type { Seconds } from '../../../server/core/units.ts';
import type { Reel, ReelPiece } from '../../../server/film/reel.ts';
import type { ToPaint } from './painter.ts';
import type { Wanted } from './shown-at.ts';

export interface AskedScene {
  readonly id: number;
  readonly piece: number;
  readonly atS: Seconds;
  readonly without?: number;
  /** It is not known yet whether the piece moves. */
  readonly tellsMoves?: boolean;
}

export interface SceneAnswer {
  readonly id: number;
  /** Absent where there is nothing to draw. */
  readonly scene?: LitScene | undefined;
  /** Where that was asked. */
  readonly moves?: boolean | undefined;
}

interface Doors {
  ask(scene: AskedScene): void;
  paint(what: ToPaint): void;
  /** There is a new drawing. */
  changed(): void;
}

interface Drawing {
  /** Undefined for a piece of which nothing can be drawn. */
  readonly bitmap: ImageBitmap | undefined;
  /** What it was made from; of another text, or of another size, it is shown until there is a new one. */
  readonly scene: string;
  readonly width: number;
  isOld: boolean;
}

/** All drawings of a piece, by the frame of the film; of one that stands still there is one. */
interface Shelf {
  moves: boolean | undefined;
  /** The reel that `moves` was told of. */
  toldOf: number;
  readonly byFrame: Map<number, Drawing>;
}

interface Job {
  readonly wanted: Wanted;
  readonly shelf: Shelf;
  readonly frame: number;
  /** Of which reel, and for which size. */
  readonly round: number;
  readonly startedMs: number;
  scene?: string;
  width?: number;
}

/** One scene is reckoned while another is painted. */
const mostJobs = 2;
/** Of all drawings of what moves, 4 bytes each. */
const mostPixels = 110e6;
/** Sides of what moves may be so much shorter, to have more drawings of it: what moves is soft. */
const coarsest = 0.5;

export class Drawings {
  readonly #shelves = new Map<string, Shelf>();
  readonly #jobs = new Map<number, Job>();
  #reel: Reel | undefined;
  #size = { width: 0, height: 0 };
  #round = 0;
  #id = 0;
  /** Of what moves, one frame of so many is drawn, with sides so much shorter. */
  #every = 1;
  #coarser = 1;
  /** All is drawn that there is to draw. */
  #isFull = false;
  #waitMs = 40;

  constructor(private readonly doors: Doors) {}

  #reckonEvery(): void {
    const moving = (this.#reel?.pieces ?? []).filter((piece) => this.#shelves.get(keyOf(piece))?.moves);
    const pixels = moving.reduce((sum, { start, end, finer }) => {
      return sum + (end - start) * this.#size.width * this.#size.height * finer ** 2;
    }, 0);
    this.#coarser = Math.max(coarsest, Math.min(1, Math.sqrt(mostPixels / pixels)));
    this.#every = Math.max(1, Math.ceil((pixels * this.#coarser ** 2) / mostPixels - 1e-6));
  }

  /** How long one takes, from the asking to the last pixel, and how soon after it the next one comes. */
  get times(): { readonly waitMs: number; readonly betweenMs: number } {
    return { waitMs: this.#waitMs, betweenMs: this.#waitMs / mostJobs };
  }

  /** How much is drawn of what is to be drawn. */
  get progress(): { readonly done: number; readonly all: number } {
    const every = this.#every;
    let [done, all] = [0, 0];
    for (const piece of this.#reel?.pieces ?? []) {
      const shelf = this.#shelves.get(keyOf(piece));
      all += shelf?.moves ? Math.ceil((piece.end - piece.start) / every) : 1;
      done += [...(shelf?.byFrame.values() ?? [])].filter(({ isOld }) => !isOld).length;
    }
    return { done: Math.min(done, all), all };
  }

  /** What is there already stays until it is known whether it is still so. */
  setReel(reel: Reel): void {
    this.#reel = reel;
    const known = new Set(reel.pieces.map(({ index }) => String(index)));
    for (const key of [...this.#shelves.keys()]) if (!known.has(key.split('/')[0]!)) this.#drop(key);
    this.#outdate();
  }

  /** How large a frame is shown, in pixels. */
  setSize(size: { readonly width: number; readonly height: number }): void {
    if (size.width === this.#size.width && size.height === this.#size.height) return;
    this.#size = size;
    this.#outdate();
  }

  /** The drawing that is nearest to what is wanted; undefined while there is none. */
  nearest(wanted: Wanted): Pick<Drawing, 'bitmap'> | undefined {
    const shelf = this.#shelves.get(keyOf(wanted.piece, wanted.without));
    if (!shelf) return undefined;
    let best: number | undefined;
    for (const frame of shelf.byFrame.keys()) {
      // Of those before it the last, else the first of those after it.
      const isBetter =
        best === undefined ||
        (frame <= wanted.frame ? best > wanted.frame || frame > best : best > wanted.frame && frame < best);
      if (isBetter) best = frame;
    }
    return best === undefined ? undefined : shelf.byFrame.get(best);
  }

  /**
   * Has drawn what is seen now, then what is seen soon.
   *
   * @param soon in the order in which it is wanted
   * @param isAll whether that is all there is to draw
   */
  fill(now: readonly Wanted[], soon: Iterable<Wanted>, isAll: boolean): void {
    if (!this.#reel || this.#size.height < 2) return;
    for (const wanted of now) this.#start(wanted);
    if (this.#isFull) return;
    for (const wanted of soon) {
      if (this.#jobs.size >= mostJobs) return;
      this.#start(wanted);
    }
    this.#isFull = isAll && this.#jobs.size === 0;
    if (this.#isFull) this.#tidy();
  }

  answered({ id, scene, moves }: SceneAnswer): void {
    const job = this.#jobs.get(id);
    if (!job) return;
    if (job.round !== this.#round) return this.#end(id);
    if (moves !== undefined && job.shelf.moves !== moves) {
      job.shelf.moves = moves;
      this.#reckonEvery();
    }
    if (moves !== undefined) job.shelf.toldOf = job.round;
    if (!scene) return this.#put(id, job, { bitmap: undefined, scene: '', width: 0, isOld: false });
    const finer = job.wanted.piece.finer * (job.shelf.moves ? this.#coarser : 1);
    const width = Math.max(2, Math.round(this.#size.width * finer));
    const text = JSON.stringify(scene);
    const before = [...job.shelf.byFrame.values()].find((one) => one.scene === text && one.width === width);
    if (before) return this.#put(id, job, { ...before, isOld: false });
    job.scene = text;
    job.width = width;
    this.doors.paint({ id, scene, width, height: Math.max(2, Math.round(width / scene.aspect)) });
  }

  painted(id: number, bitmap: ImageBitmap): void {
    const job = this.#jobs.get(id);
    if (!job || job.scene === undefined) return bitmap.close();
    this.#waitMs += (performance.now() - job.startedMs - this.#waitMs) / 4;
    this.#put(id, job, { bitmap, scene: job.scene, width: job.width!, isOld: job.round !== this.#round });
  }

  #start(wanted: Wanted): void {
    if (this.#jobs.size >= mostJobs) return;
    const key = keyOf(wanted.piece, wanted.without);
    const shelf = this.#shelves.get(key) ?? { moves: undefined, toldOf: -1, byFrame: new Map<number, Drawing>() };
    this.#shelves.set(key, shelf);
    const frame = this.#gridFrame(shelf, wanted);
    if (shelf.byFrame.get(frame)?.isOld === false) return;
    for (const job of this.#jobs.values()) {
      // Until it is known whether the piece moves, one drawing of it tells.
      if (job.shelf === shelf && (job.frame === frame || shelf.toldOf !== this.#round)) return;
    }
    const id = ++this.#id;
    this.#jobs.set(id, { wanted, shelf, frame, round: this.#round, startedMs: performance.now() });
    const { piece, stepS, atS, without } = wanted;
    const moment = shelf.moves === false ? atS : atS + stepS * (frame - wanted.frame);
    this.doors.ask({
      id,
      piece: piece.index,
      atS: moment,
      ...(without !== undefined && { without }),
      ...(shelf.toldOf !== this.#round && { tellsMoves: true }),
    });
  }

  #gridFrame({ moves, byFrame }: Shelf, { piece, frame }: Wanted): number {
    if (moves === false) return byFrame.keys().next().value ?? frame;
    const every = this.#every;
    return piece.start + Math.floor((frame - piece.start) / every) * every;
  }

  #put(id: number, { shelf, frame }: Job, drawing: Drawing): void {
    if (!shelf.moves) this.#clear(shelf, drawing.bitmap);
    const before = shelf.byFrame.get(frame);
    shelf.byFrame.set(frame, drawing);
    if (before && ![...shelf.byFrame.values()].some(({ bitmap }) => bitmap === before.bitmap)) before.bitmap?.close();
    this.#end(id);
    this.doors.changed();
  }

  #end(id: number): void {
    this.#jobs.delete(id);
  }

  /** Old drawings of frames that are no longer among those that are drawn go. */
  #tidy(): void {
    const every = this.#every;
    for (const piece of this.#reel?.pieces ?? []) {
      const shelf = this.#shelves.get(keyOf(piece));
      if (!shelf?.moves) continue;
      for (const [frame, { bitmap }] of shelf.byFrame) {
        const isOn = frame >= piece.start - every && frame < piece.end + every && (frame - piece.start) % every === 0;
        if (isOn || shelf.byFrame.size === 1) continue;
        shelf.byFrame.delete(frame);
        if (![...shelf.byFrame.values()].some((one) => one.bitmap === bitmap)) bitmap?.close();
      }
    }
  }

  #outdate(): void {
    this.#round++;
    this.#isFull = false;
    this.#reckonEvery();
    for (const { byFrame } of this.#shelves.values()) for (const drawing of byFrame.values()) drawing.isOld = true;
  }

  #drop(key: string): void {
    this.#clear(this.#shelves.get(key)!);
    this.#shelves.delete(key);
  }

  #clear({ byFrame }: Shelf, but?: ImageBitmap): void {
    for (const { bitmap } of byFrame.values()) if (bitmap !== but) bitmap?.close();
    byFrame.clear();
  }
}

function keyOf({ index }: ReelPiece, without?: number): string {
  return `${index}/${without ?? ''}`;
}
