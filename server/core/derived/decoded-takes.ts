/** What decoded clips and masters say, as rules ask it. */
import type { Decoded } from '../decoded.ts';
import type { Deliverable, Film, Piece, Shot, Val } from '../film.ts';
import type { Related } from '../finding.ts';
import type { ClipFacts, Footage } from '../footage.ts';
import { quoted, secondsText } from '../say.ts';
import { type MasterFile, piecesOf, type Recording, type Take } from '../takes.ts';
import type { Ends, Seconds } from '../units.ts';
import { frameToTimecode, timecodeText } from '../../calc/timecode.ts';
import { rateFps } from '../../calc/rate.ts';
import { usedStretch } from './take.ts';

export interface DecodedTake {
  readonly take: Take;
  /** The first of its files: what was decoded. */
  readonly clip: Recording;
  readonly decoded: Decoded;
}

/** The first clip of a take, decoded; undefined for one that nobody decoded, or that is judged bad: it is not used. */
export function decodedTake(take: Take, footage: Footage | undefined): DecodedTake | undefined {
  const [clip] = take.clips;
  if (!footage || !clip || take.judged?.value === 'bad') return undefined;
  const decoded = footage.decoded('clip', clip.value);
  return decoded && { take, clip, decoded };
}

/** Where in the first clip of a take a piece of the cut begins and ends, with its dissolves: the start of the action moves it. */
export function usedInClip(take: Take, piece: Piece, film: Film): Ends<Seconds> | undefined {
  const used = usedStretch(piece, film);
  if (!used || !take.shot) return undefined;
  const startS = take.action ? take.action.value - take.shot.handlesS : (take.part?.value.from ?? 0);
  return { from: startS + used.outerFromS, to: startS + used.outerToS };
}

/** The stretches of the first clip that the cut uses; all of it where that is not known. */
export function usedStretches(take: Take, film: Film, only: (piece: Piece) => boolean = () => true): Ends<Seconds>[] {
  return piecesOf(take)
    .filter(only)
    .flatMap((piece) => usedInClip(take, piece, film) ?? []);
}

/** Does anything in the shot change its brightness on purpose? */
export function isMeantToChange({ lit, backdrop }: Shot): boolean {
  return (
    lit.some((lamp) => lamp.changes || lamp.flashes) ||
    backdrop?.flashes !== undefined ||
    backdrop?.footage !== undefined
  );
}

export interface FoundMaster {
  readonly master: MasterFile;
  readonly deliverable: Deliverable;
  /** As messages call it. */
  readonly name: string;
  readonly at: Val<string>;
}

/** A master of a deliverable that the spec has. */
function foundMaster(master: MasterFile): FoundMaster | undefined {
  const { deliverable, path } = master;
  return deliverable && { master, deliverable, name: quoted(path.text), at: path };
}

/** A master whose container was read. */
export function masterRead(
  master: MasterFile,
  footage: Footage | undefined,
): (FoundMaster & { readonly facts: ClipFacts }) | undefined {
  const found = foundMaster(master);
  const state = found && footage?.master(master.path.value);
  return state?.kind === 'facts' ? { ...found!, facts: state.facts } : undefined;
}

/** A master that was decoded. */
export function masterDecoded(
  master: MasterFile,
  footage: Footage | undefined,
): (FoundMaster & { readonly decoded: Decoded }) | undefined {
  const found = foundMaster(master);
  const decoded = found && footage?.decoded('master', master.path.value);
  return decoded && { ...found!, decoded };
}

/** Where the plan says what it should be. */
export function plannedAt(...values: readonly (Val<unknown> | undefined)[]): Related[] {
  return values.flatMap((value) => {
    if (!value) return [];
    const { start, end, file, text } = value;
    return [{ start, end, file, message: `planned: ${text}` }];
  });
}

/** A frame of a film as timecode from its first frame, or in seconds where the rate is not known. */
export function atFrame(frame: number, deliverable: Deliverable, film: Film, fps: number): string {
  const rate = deliverable.rate?.value ?? film.timeline.rate?.value;
  if (!rate || Math.abs(rateFps(rate) - fps) > 0.05) return secondsText(frame / fps);
  return timecodeText(frameToTimecode(frame, rate, false));
}

/** While the product is here a take can be made again. */
export const takeAgain = 'take it again while the product is here';
