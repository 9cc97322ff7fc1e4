/**
 * An edit decision list in the line format of CMX 3600 (events, transitions, M2 for speeds, notes after `*`): one
 * deliverable in each. What the format has no word for stands as a note at its event.
 */
import { nearestFrame, type Rate, rateFps } from '../calc/rate.ts';
import { frameToTimecode, timecodeText } from '../calc/timecode.ts';
import { num } from '../core/say.ts';
import type { Seconds } from '../core/units.ts';
import type { Run } from '../film/clip-stretch.ts';
import { oneLine } from '../formats/escape.ts';
import {
  type Cut,
  type CutPiece,
  cutOf,
  frameAt,
  type Heard,
  momentAt,
  runsBetween,
  type Source,
  speedOf,
} from './cut.ts';
import type { Kind } from './kind.ts';

export const edl: Kind = {
  make(asked) {
    const cut = cutOf(asked);
    return { text: edlText(cut), notes: cut.notes };
  },
};

function edlText(cut: Cut): string {
  const list = new EventList(cut);
  for (const [index, piece] of cut.pieces.entries()) list.piece(piece, cut.pieces[index - 1], cut.pieces[index + 1]);
  for (const heard of cut.heard) list.heard(heard);
  const head = [
    `TITLE: ${line(`${cut.title}, ${cut.deliverable.name}`)}`,
    `FCM: ${cut.drop ? 'DROP FRAME' : 'NON-DROP FRAME'}`,
    `* RATE: ${num(rateFps(cut.rate), 3)}`,
    ...cut.titles.map(
      ({ title, startFrame, frames }) =>
        `* TITLE ${list.record(startFrame)} ${list.record(startFrame + frames)} ${line(title.text!.value)}`,
    ),
  ];
  return `${[...head, ...list.lines].join('\r\n')}\r\n`;
}

/** What nobody wrote into a file: nothing on the tape, and no tape at all. */
const [black, noReel] = ['BL', 'AX'];

/** One side of an event: what is shown, from where, and what there is to say of it. */
interface Side {
  readonly reel: string;
  readonly from: number;
  readonly to: number;
  readonly notes: readonly string[];
}

class EventList {
  readonly lines: string[] = [];
  readonly #reels = new Map<string, string>();
  #events = 0;

  constructor(private readonly cut: Cut) {}

  /** A frame of the film as its time code. */
  record(frame: number): string {
    return this.#code(this.cut.startFrame + frame);
  }

  piece(piece: CutPiece, previous: CutPiece | undefined, next: CutPiece | undefined): void {
    const { on } = piece;
    const start = Math.max(0, on.dissolve > 0 ? on.outerStart : on.start);
    // A dissolve is written with the piece that it leads to.
    const end = Math.min(this.cut.frames, next && next.on.dissolve > 0 ? next.on.outerStart : on.end);
    const fadeOut = end === on.end ? Math.min(on.fadeOut, end - start) : 0;
    const comes = on.dissolve > 0 ? { of: previous, frames: on.dissolve } : { of: undefined, frames: on.fadeIn };
    // What has begun before the film is not begun again.
    const isWhole = on.dissolve > 0 ? on.start > 0 && on.outerStart >= 0 : on.start >= 0;
    this.#shown(piece, start, end - fadeOut, isWhole ? comes : undefined);
    if (fadeOut > 0) this.#toBlack(piece, end - fadeOut, end);
  }

  heard({ name, path, what, fromS, start, frames, gainDb }: Heard): void {
    const from = nearestFrame(fromS, this.cut.rate);
    const side = { reel: path === undefined ? noReel : this.#reelOf(path), from, to: from + frames, notes: [] };
    this.#event();
    this.#line(side, 'AA', 'C', start, start + frames);
    this.#note(`FROM CLIP NAME: ${path ?? name}`);
    this.#note(`${what.toUpperCase()}: ${name}${gainDb === 0 ? '' : `, ${num(gainDb)} dB`}`);
  }

  #shown(
    piece: CutPiece,
    start: number,
    end: number,
    comes: { readonly of: CutPiece | undefined; readonly frames: number } | undefined,
  ): void {
    const channel = piece.on.piece.sound === 'keep' && piece.runs.length > 0 ? 'AA/V' : 'V';
    const parts = piece.colour === undefined ? runsBetween(piece, start, end) : [undefined];
    for (const [index, run] of parts.entries()) {
      const [from, to] = [run?.start ?? start, run?.end ?? end];
      const side = this.#side(piece, run, from, to);
      this.#event();
      if (index === 0 && comes && comes.frames > 0) {
        const before = comes.of ? this.#standing(comes.of, from) : blackSide;
        this.#line(before, channel, 'C', from, from);
        this.#line(side, channel, `D    ${three(comes.frames)}`, from, to);
        if (comes.of) this.#note(`FROM CLIP NAME: ${fileName(comes.of)}`);
        this.#note(`TO CLIP NAME: ${fileName(piece)}`);
      } else {
        this.#line(side, channel, 'C', from, to);
        this.#note(`FROM CLIP NAME: ${fileName(piece)}`);
      }
      if (run) this.#speed(side, run);
      for (const note of side.notes) this.#note(note);
    }
  }

  #toBlack(piece: CutPiece, start: number, end: number): void {
    this.#event();
    this.#line(this.#standing(piece, start), 'V', 'C', start, start);
    this.#line({ ...blackSide, to: end - start }, 'V', `D    ${three(end - start)}`, start, end);
    this.#note(`FROM CLIP NAME: ${fileName(piece)}`);
  }

  /** Where a piece stands at a frame that belongs to what follows. */
  #standing(piece: CutPiece, frame: number): Side {
    const run = piece.runs.findLast((one) => one.start <= frame);
    if (!run) return blackSide;
    const at = this.#source(momentAt(run, frame));
    return { reel: this.#reelOf(run.file.path), from: at, to: at, notes: [] };
  }

  #side(piece: CutPiece, run: Run<Source> | undefined, start: number, end: number): Side {
    if (!run) {
      const notes = piece.colour === '#000000' ? [] : [`COLOUR: ${piece.colour!}`];
      return { ...blackSide, to: end - start, notes };
    }
    const speed = speedOf(run, this.cut.rate);
    const first = speed < 0 ? momentAt(run, end - 1) : momentAt(run, start);
    const from = this.#source(first);
    // A still takes one frame of its file.
    const length = speed === 0 ? 1 : Math.max(1, Math.round(Math.abs(speed) * (end - start)));
    return { reel: this.#reelOf(run.file.path), from, to: from + length, notes: notesOn(piece, run, this.cut.rate) };
  }

  /** Frames of files are counted at the rate of the list: it knows no other. */
  #source(moment: Seconds): number {
    return frameAt(moment, this.cut.rate);
  }

  #speed({ reel }: Side, run: Run<Source>): void {
    const speed = speedOf(run, this.cut.rate);
    if (Math.abs(speed - 1) < 1e-6) return;
    const fps = speed * rateFps(this.cut.rate);
    const digits = Math.abs(fps).toFixed(1).padStart(5, '0');
    const entry = this.#code(this.#source(run.fromS));
    this.lines.push(`M2   ${reel.padEnd(8)}       ${fps < 0 ? '-' : ''}${digits}                ${entry}`);
    this.#note(speed === 0 ? 'FREEZE FRAME' : `SPEED: ${num(speed * 100, 3)} %`);
  }

  #event(): void {
    this.#events++;
  }

  #line({ reel, from, to }: Side, channel: string, what: string, start: number, end: number): void {
    const codes = [this.#code(from), this.#code(to), this.record(start), this.record(end)].join(' ');
    this.lines.push(`${three(this.#events)}  ${reel.padEnd(8)} ${channel.padEnd(5)} ${what.padEnd(8)} ${codes}`);
  }

  #note(text: string): void {
    this.lines.push(`* ${line(text)}`);
  }

  #code(frame: number): string {
    return timecodeText(frameToTimecode(frame, this.cut.rate, this.cut.drop));
  }

  /** Eight letters and digits at most, one for each file. */
  #reelOf(path: string | undefined): string {
    if (path === undefined) return noReel;
    const known = this.#reels.get(path);
    if (known !== undefined) return known;
    const base = path.slice(path.lastIndexOf('/') + 1).replace(/\.[^.]*$/, '');
    const plain =
      base
        .toUpperCase()
        .replace(/[^A-Z0-9_]/g, '')
        .slice(0, 8) || 'FILE';
    const taken = new Set([...this.#reels.values(), black, noReel]);
    let reel = plain;
    for (let count = 2; taken.has(reel); count++) reel = `${plain.slice(0, 8 - String(count).length)}${count}`;
    this.#reels.set(path, reel);
    return reel;
  }
}

const blackSide: Side = { reel: black, from: 0, to: 0, notes: [] };

function notesOn({ on: { piece }, name, take }: CutPiece, { file }: Run<Source>, rate: Rate): string[] {
  const { zoom, shift, straightenDeg, flip } = piece;
  const ends = (what: string, from: number, to: number, usual: number) =>
    from === usual && to === usual ? [] : [`${what}: ${num(from, 3)}${from === to ? '' : ` TO ${num(to, 3)}`}`];
  return [
    `SHOT: ${name}`,
    ...(file.path === undefined ? ['NOT RECORDED YET'] : []),
    ...(take?.judged ? [`TAKE: ${take.judged.value}`] : []),
    ...(rateFps(file.rate) === rateFps(rate) ? [] : [`SOURCE RATE: ${num(rateFps(file.rate), 3)}`]),
    ...ends('ZOOM', zoom.from, zoom.to, 1),
    ...ends('SHIFT', shift.from, shift.to, 0),
    ...(straightenDeg === 0 ? [] : [`STRAIGHTEN: ${num(straightenDeg, 2)} DEGREES`]),
    ...(flip ? [`FLIP: ${flip.value}`] : []),
  ];
}

function fileName({ runs: [run], colour, name }: CutPiece): string {
  return run?.file.path ?? colour ?? name;
}

function three(count: number): string {
  return String(count).padStart(3, '0');
}

/** Words of the spec never begin a line of their own. */
function line(text: string): string {
  return oneLine(text.trim());
}
