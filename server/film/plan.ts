/** Makes an assembly of a checked film: takes where there are, drawings where there are none. */
import { nearestFrame, rateFps } from '../calc/rate.ts';
import { shownStretch } from '../core/derived/edit.ts';
import { recordedSpace } from '../core/derived/recorded.ts';
import type { Deliverable, Film } from '../core/film.ts';
import type { ClipState, Footage } from '../core/footage.ts';
import { listText, quoted } from '../core/say.ts';
import type { Sheets, Take } from '../core/takes.ts';
import type { Ends } from '../core/units.ts';
import type { Assembly, ClipPicture, CornerOn, Output, Picture, Segment } from './assembly.ts';
import { joined, type Recorded, recordedOf, type Run, runsOf, takeMoment } from './clip-stretch.ts';
import { leastZoomOf, lookOf, turnOf, uprightRaster } from './framing.ts';
import { cutFaults, cutStretch, pieceName, type PieceOn, piecesOn, type Stretch, stretchesOf } from './grid.ts';
import { outputOf } from './output.ts';
import { takeFor } from './pick.ts';
import { soundOf } from './sound-plan.ts';
import { titlesOn } from './titles-on.ts';

export interface ToAssemble {
  readonly film: Film;
  readonly sheets: Sheets;
  readonly deliverable: Deliverable;
  /** What is known of the clips; undefined where there is no footage folder. */
  readonly footage?: Footage | undefined;
  /** What is known of a file of the repo. */
  media(path: string): ClipState;
  readonly isDraft: boolean;
}

export interface Planned {
  /** Absent where something stands in the way. */
  readonly assembly?: Assembly;
  /** What stands in the way, in words. */
  readonly faults: readonly string[];
  /** What is other than one may expect, in words. */
  readonly notes: readonly string[];
}

export function planFilm(asked: ToAssemble): Planned {
  return new Planner(asked).plan();
}

/** What one piece is made of. */
type Source =
  | { readonly kind: 'clip'; readonly runs: readonly Run[]; readonly take?: Take }
  | { readonly kind: 'drawn' }
  | { readonly kind: 'plain'; readonly colour: string };

class Planner {
  readonly #faults: string[] = [];
  readonly #notes: string[] = [];
  readonly #drawn = new Set<string>();
  readonly #flat = new Set<string>();
  readonly #sources = new Map<PieceOn, Source>();

  constructor(private readonly asked: ToAssemble) {}

  plan(): Planned {
    const { film, deliverable, isDraft } = this.asked;
    const output = outputOf(deliverable, film, isDraft);
    const stretch = shownStretch(deliverable, film);
    if (typeof output === 'string') return { faults: [output], notes: [] };
    if (!stretch)
      return {
        faults: [`How long ${quoted(deliverable.name)} runs is not known: each piece of the cut needs a length.`],
        notes: [],
      };
    const frames = nearestFrame(stretch.to - stretch.from, output.rate);
    const pieces = piecesOn(film.cut, stretch, output.rate).filter(
      ({ outerStart, outerEnd }) => outerEnd > 0 && outerStart < frames,
    );
    if (frames === 0 || pieces.length === 0)
      return { faults: ['There is no frame to make: the cut is empty.'], notes: [] };
    this.#faults.push(...cutFaults(pieces));
    for (const piece of pieces) this.#sources.set(piece, this.#sourceOf(piece, output, frames));
    if (this.#faults.length > 0) return { faults: this.#faults, notes: this.#notes };
    const stretches = stretchesOf(pieces, frames).flatMap((one) => this.#byFile(one));
    const segments = stretches.map((one) => this.#segment(one, output));
    const heard = soundOf({
      ...this.asked,
      output,
      frames,
      stretch,
      pieces: [...this.#sources].flatMap(([on, source]) => (source.kind === 'clip' ? [{ on, ...source }] : [])),
      clip: (path) => this.asked.footage?.clip(path) ?? { kind: 'missing' },
    });
    this.#faults.push(...heard.faults);
    this.#notes.push(...heard.notes);
    const assembly = {
      output,
      frames,
      segments,
      titles: titlesOn(film, deliverable, stretch, output.rate, frames),
      corners: this.#corners(pieces, frames),
      ...(heard.sound && { sound: heard.sound }),
    };
    this.#tellDrawn();
    return this.#faults.length > 0
      ? { faults: [...new Set(this.#faults)], notes: this.#notes }
      : { assembly, faults: [], notes: [...new Set(this.#notes)] };
  }

  // -- what a piece is made of ---------------------------------------------------------------------------------------

  #sourceOf(on: PieceOn, output: Output, frames: number): Source {
    const { piece } = on;
    if (piece.colour) return { kind: 'plain', colour: piece.colour.value };
    const recorded = piece.footage ? this.#bought(on) : this.#taken(on);
    if (!recorded) return { kind: 'drawn' };
    const runs = runsOf(on, recorded.recorded, output.rate, frames);
    if (typeof runs === 'string') return this.#fault(runs);
    return { kind: 'clip', runs, ...(recorded.take && { take: recorded.take }) };
  }

  /** In a draft what can't be used is drawn. */
  #fault(why: string): Source {
    if (this.asked.isDraft) this.#notes.push(`${why} It is drawn.`);
    else this.#faults.push(why);
    return { kind: 'drawn' };
  }

  #taken({ piece }: PieceOn): { recorded: Recorded; take: Take } | undefined {
    const { sheets, footage } = this.asked;
    const take = takeFor(piece, sheets);
    if (!take || !footage) return undefined;
    const recorded = recordedOf(take, footage);
    if (typeof recorded !== 'string') {
      const judged = take.judged?.value;
      if (judged === 'spare')
        this.#notes.push(
          `${pieceName(piece)} is made of ${quoted(take.clips[0]!.text)}, a spare take: there is no better one.`,
        );
      return { recorded, take };
    }
    this.#fault(recorded);
    return undefined;
  }

  #bought({ piece }: PieceOn): { recorded: Recorded; take?: undefined } | undefined {
    const { film, media } = this.asked;
    const name = piece.footage!.value;
    const file = film.rights.get(name)?.media;
    if (!file) {
      this.#notes.push(
        `${quoted(name)} in \`rights\` names no \`file\`, so ${pieceName(piece)} is a card with its name.`,
      );
      return undefined;
    }
    const state = media(file.value);
    const files =
      state.kind === 'facts'
        ? joined([{ path: file.value, text: file.text, facts: state.facts }], 'repo')
        : `${quoted(file.text)}, which ${quoted(name)} in \`rights\` names, can't be read.`;
    if (typeof files !== 'string')
      return { recorded: { files, startS: 0, part: { from: 0, to: files.at(-1)!.endS }, pace: 1 } };
    this.#fault(files);
    return undefined;
  }

  // -- segments ------------------------------------------------------------------------------------------------------

  /** Cut where one of its recordings goes on in another file. */
  #byFile(stretch: Stretch): Stretch[] {
    const starts = [stretch.piece, stretch.into?.piece].flatMap((piece) => {
      const source = piece && this.#sources.get(piece);
      return source?.kind === 'clip' ? source.runs.map(({ start }) => start) : [];
    });
    const inside = starts.filter((at) => at > stretch.start && at < stretch.end).sort((a, b) => a - b);
    const ends = [stretch.start, ...new Set(inside), stretch.end];
    return ends.slice(1).flatMap((end, index) => cutStretch(stretch, ends[index]!, end));
  }

  #segment({ start, end, piece, into }: Stretch, output: Output): Segment {
    const picture = (on: PieceOn | undefined) => this.#picture(on, start, end, output);
    return {
      startFrame: start,
      frames: end - start,
      picture: picture(piece),
      ...(into && { into: { picture: picture(into.piece), share: into.share, step: into.step } }),
    };
  }

  #picture(on: PieceOn | undefined, start: number, end: number, output: Output): Picture {
    const source = on && this.#sources.get(on);
    if (!on || !source) return { kind: 'plain', colour: '#000000' };
    if (source.kind === 'plain') return source;
    const look = lookOf(on, this.asked.deliverable, start, end);
    if (source.kind === 'clip') return this.#clipPicture(on, source, start, look, output);
    this.#drawn.add((on.piece.shotName ?? on.piece.footage)?.text ?? '');
    const stepS = on.piece.speed / rateFps(output.rate);
    return { kind: 'drawn', piece: on.piece.index, fromS: takeMoment(on, start, output.rate), stepS, ...look };
  }

  #clipPicture(
    { piece }: PieceOn,
    { runs, take }: Extract<Source, { kind: 'clip' }>,
    start: number,
    look: { readonly zoom: Ends; readonly shift: Ends },
    output: Output,
  ): ClipPicture {
    const run = runs.find((one) => one.start <= start && start < one.end)!;
    const { file } = run;
    const { video } = file;
    const framing = this.#held(piece, output, {
      turnDeg: turnOf(piece, video),
      mirror: piece.flip?.value === 'mirror',
      straightenDeg: piece.straightenDeg,
      raster: uprightRaster(video),
      ...look,
    });
    if (piece.shot?.camera.wayUp === 'on-its-side' && framing.raster.widthPx > framing.raster.heightPx)
      this.#faults.push(
        `${quoted(file.text)} was filmed on its side and carries no mark of which: turn its mark, or film it so that the camera marks it.`,
      );
    const curve = this.#curveOf(file, output);
    const converts = take && !curve ? this.#conversion(take, file) : undefined;
    return {
      kind: 'clip',
      clip: {
        of: file.of,
        path: file.path,
        longestStepS: video.largestStepS,
        pixelAspect: video.pixelAspect ?? 1,
        interlaced: video.interlaced ?? false,
        matrix: video.colour.matrix ?? 'bt709',
        fullRange: video.colour.range === 'full',
        isDeep: video.bits !== 8,
        ...(curve && { curve }),
      },
      fromS: Math.max(0, run.fromS + (start - run.start) * run.stepS),
      stepS: run.stepS,
      framing,
      ...(converts !== undefined && { converts }),
    };
  }

  /** What would show past the edge of the recording stops a film; a draft is zoomed in so far that it does not. */
  #held(piece: PieceOn['piece'], { raster }: Output, framing: ClipPicture['framing']): ClipPicture['framing'] {
    const least = leastZoomOf(framing, { widthPx: raster.width, heightPx: raster.height });
    const { zoom } = framing;
    if (Math.min(zoom.from, zoom.to) >= least - 1e-4) return framing;
    const text = `${pieceName(piece)} shows what lies beyond the recorded picture: it needs a zoom of at least ${Math.ceil(least * 100) / 100}.`;
    if (!this.asked.isDraft) this.#faults.push(text);
    else this.#notes.push(`${text} The draft is zoomed in so far.`);
    return { ...framing, zoom: { from: Math.max(zoom.from, least), to: Math.max(zoom.to, least) } };
  }

  // -- colour --------------------------------------------------------------------------------------------------------

  /** The curve of high dynamic range that a clip is marked with. Another than the film's stops it, and so does the grade. */
  #curveOf({ text, video }: Run['file'], { colourSpace }: Output): 'hlg' | 'pq' | undefined {
    const marked = curves[video.colour.transfer ?? ''];
    if (!marked) return undefined;
    const { grade } = this.asked.film;
    if (marked !== colourSpace)
      this.#faults.push(
        `${quoted(text)} is marked ${marked.toUpperCase()} and the film is ${colourSpace}: that conversion is not made yet.`,
      );
    else if ((grade?.brightenStops ?? 0) !== 0 || (grade?.saturation ?? 1) !== 1)
      this.#faults.push(
        `${quoted(text)} is ${marked.toUpperCase()}, in which \`grade\` is not reckoned: take \`brighten\` and \`saturation\` out.`,
      );
    return marked;
  }

  /** The table that a log take goes through. */
  #conversion(take: Take, { text }: Run['file']): string | undefined {
    const shot = take.asSet ?? take.shot;
    if (!shot || recordedSpace(shot) !== 'log') return undefined;
    const table = shot.camera.mode?.converts?.value;
    if (table !== undefined) return table;
    this.#flat.add(shot.name);
    const why = `${quoted(text)} was recorded in log, and the kit names no table that converts it: say \`converts: NAME.cube\` at the mode of the camera.`;
    if (this.asked.isDraft) this.#notes.push(`${why} The draft shows it flat.`);
    else this.#faults.push(why);
    return undefined;
  }

  // -- words ---------------------------------------------------------------------------------------------------------

  #corners(pieces: readonly PieceOn[], frames: number): CornerOn[] {
    return pieces.flatMap(({ piece, start, end }) => {
      const name = piece.shotName ?? piece.footage;
      if (!name) return [];
      const isFlat = this.#flat.has(name.value);
      if (!isFlat && !this.#drawn.has(name.text)) return [];
      const [from, to] = [Math.max(0, start), Math.min(frames, end)];
      return to > from
        ? [{ text: isFlat ? `${name.text}: flat` : name.text, startFrame: from, frames: to - from }]
        : [];
    });
  }

  #tellDrawn(): void {
    const { footage, sheets } = this.asked;
    const names = [...this.#drawn].filter((name) => name !== '');
    if (names.length === 0) return;
    const isWaiting = !footage && sheets.some(({ takes }) => takes.length > 0);
    const why = isWaiting
      ? 'the clips of the take sheet are not on this machine (`--footage DIR` says where they are)'
      : 'no take yet';
    this.#notes.push(`Drawn by the plan: ${listText(names.map(quoted))}: ${why}.`);
  }
}

/** Curves of high dynamic range, as containers mark them. */
const curves: Readonly<Record<string, 'hlg' | 'pq'>> = { 'arib-std-b67': 'hlg', hlg: 'hlg', smpte2084: 'pq', pq: 'pq' };
