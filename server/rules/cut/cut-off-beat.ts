import { rateFps } from '../../calc/rate.ts';
import { type BeatGrid, beatGrid } from '../../core/derived/beat-grid.ts';
import { exactTime, framesText } from '../../core/derived/edit.ts';
import { filmMusic } from '../../core/derived/music.ts';
import type { Film, Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'cut-off-beat',
  family: 'cut',
  summary: 'A cut misses the beat of the music, or the cuts drift away from it.',
  severity: 'warning',
  sources: ['arithmetic', 'ITU-R BT.1359-1 (sound is noticed 45 ms early, 125 ms late)'],
  limits: {
    allow: { quantity: 'number', default: '1', meaning: 'Frames that a cut may be away from its beat.' },
  },
  messages: {
    off: '{after} ends at frame {frame}, the beat is at {beat}: {off} ({ms} ms) {side}. Frame {nearest} is the nearest.',
    drift:
      'With {after} the cuts are {off} ({ms} ms) {side}: each is a little off, and it adds up. Count every cut from the first beat, {perBeat} frames a beat.',
    played:
      '{after} ends at frame {frame}, the beat is played at {beat}: {off} ({ms} ms) {side}. Frame {nearest} is the nearest.',
    uneven:
      '{count} of {all} cuts are off the beats of {file} by up to {off} ({ms} ms): it is not played evenly, its beats are up to {uneven} ms from an even {tempo}. Cut on the beats that are played, or say `on-purpose: off-beat`.',
  },
  film(film, { limits, report }) {
    const grid = film.cut.length < 2 ? undefined : beatGrid(film);
    if (!grid || isOnItsOwn(film, grid, limits.allow)) return;
    const cuts = cutsOf(film, grid);
    const off = cuts.filter((cut) => Math.abs(cut.late) > limits.allow + 1e-6);
    if (grid.isPlayed && off.length > 1) {
      report(uneven(film, cuts, off, grid));
      return;
    }
    const perBeat = num(grid.perBeat, 3);
    const ms = (frames: number) => num((Math.abs(frames) / rateFps(grid.frames)) * 1000, 0);
    let drifting = false;
    for (const cut of off) {
      const before = cuts[cuts.indexOf(cut) - 1]?.late ?? 0;
      const step = Math.abs(cut.late - before);
      // A cut that is as late as the one before it inherits that one's slip.
      const follows = step < 1e-6 && Math.abs(before) > limits.allow + 1e-6;
      const drifts = !grid.isPlayed && step <= limits.allow + 1e-6;
      if (follows || (drifts && drifting)) continue;
      drifting ||= drifts;
      const { piece, frame, late } = cut;
      const data = {
        after: pieceName(piece),
        off: `${num(Math.abs(late), 2)} frames`,
        ms: ms(late),
        side: late < 0 ? 'early' : 'late',
      };
      const common = {
        at: piece.length ?? piece,
        excess: Math.abs(late),
        shot: piece.shot,
        severity: drifts ? undefined : severityOf(cut, grid, film),
        explainedBy: ['off-beat'] as const,
        fixes: () => fixes(film, cut, grid),
      };
      if (drifts) report({ message: 'drift', data: { ...data, perBeat }, ...common });
      else {
        const more = { frame, beat: num(cut.position, 2), nearest: cut.nearest };
        report({ message: grid.isPlayed ? 'played' : 'off', data: { ...data, ...more }, ...common });
      }
    }
  },
});

interface Cut {
  /** The piece that ends here. */
  readonly piece: Piece;
  readonly frame: number;
  readonly position: number;
  readonly nearest: number;
  readonly late: number;
}

function cutsOf(film: Film, { near: nearOf }: Pick<BeatGrid, 'near'>): Cut[] {
  return film.cut.slice(0, -1).flatMap((piece) => {
    const frame = piece.endFrame;
    const next = film.cut[piece.index + 1]!;
    // A dissolve, or a cut in the black between two fades, has no moment that could miss a beat.
    if (frame === undefined || next.dissolveS > 0 || piece.fadeOutS > 0 || next.fadeInS > 0) return [];
    const near = nearOf(frame);
    return [{ piece, frame, position: near.position, nearest: near.frame, late: near.late }];
  });
}

/** Half way between two beats nobody means one, and where nothing is counted in beats it may go by the picture. */
function severityOf({ late }: Cut, { perBeat }: BeatGrid, film: Film): 'info' | undefined {
  return !countsBeats(film) || Math.abs(Math.abs(late) - perBeat / 2) <= 0.5 ? 'info' : undefined;
}

function countsBeats({ cut }: Film): boolean {
  return cut.some(({ length }) => length?.value.kind === 'beats');
}

function pieceName({ index, shotName }: Piece): string {
  return shotName ? `${shotName.value} (piece ${index + 1})` : `piece ${index + 1}`;
}

/** One of two or three cuts is on a beat by chance. */
const fewest = 4;

/**
 * Music has a tempo whether a film is cut to it or not. One that is counts in beats somewhere, has half of its cuts on them, or
 * half of its pieces about as long as some.
 */
function isOnItsOwn(film: Film, { nearEven, perBeat }: BeatGrid, allow: number): boolean {
  if (countsBeats(film)) return false;
  const lates = cutsOf(film, { near: nearEven }).map(({ late }) => late);
  const isMost = (counted: number) => counted * 2 >= Math.max(lates.length, fewest);
  const steps = lates.map((late, index) => Math.abs(late - (lates[index - 1] ?? 0)));
  const isOn = (frames: number) => Math.abs(frames) <= allow + 1e-6;
  return (
    !isMost(lates.filter(isOn).length) && !isMost(steps.filter((step) => isOn(step) || isOn(step - perBeat)).length)
  );
}

/** One finding for all: that the music is not even is their one cause. */
function uneven(film: Film, cuts: readonly Cut[], off: readonly Cut[], { frames }: BeatGrid) {
  const { music, file, beats } = filmMusic(film)!;
  const worst = Math.max(...off.map(({ late }) => Math.abs(late)));
  return {
    message: 'uneven' as const,
    data: {
      count: off.length,
      all: cuts.length,
      file: quoted(file.value),
      off: `${num(worst, 1)} frames`,
      ms: num((worst / rateFps(frames)) * 1000, 0),
      uneven: num(beats!.unevenS * 1000, 0),
      tempo: music.tempo!.text,
    },
    at: music.tempo!,
    excess: worst,
    explainedBy: ['off-beat'] as const,
    fixes: () => onPlayedBeats(film, off),
  };
}

/** Every cut that is off on its beat; the others and the end stay where they are. */
function onPlayedBeats(film: Film, off: readonly Cut[]): FixIdea[] {
  const moved = new Map(off.map(({ piece, nearest }) => [piece.index, nearest]));
  const changes = film.cut.flatMap((piece) => {
    const [start, end] = [moved.get(piece.index - 1) ?? piece.startFrame, moved.get(piece.index) ?? piece.endFrame];
    const isSame = start === piece.startFrame && end === piece.endFrame;
    const text = start === undefined || end === undefined ? undefined : exactTime(end - start, piece.length, film);
    return isSame || text === undefined ? [] : [[piece, 'length', text] as const];
  });
  return [set(`Put ${off.length} cuts on the beats that are played`, ...changes)];
}

/** The cut moved to its beat: the next piece gives or takes the frames, so that all later cuts stay. */
function fixes(film: Film, { piece, frame, nearest }: Cut, { frames }: BeatGrid): FixIdea[] {
  const next = film.cut[piece.index + 1]!;
  const { startFrame } = piece;
  if (startFrame === undefined || next.endFrame === undefined) return [];
  const own = exactTime(nearest - startFrame, piece.length, film);
  const rest = exactTime(next.endFrame - nearest, next.length, film);
  if (!own || !rest || rateFps(frames) <= 0) return [];
  const moved = framesText(Math.abs(nearest - frame));
  const side = nearest > frame ? 'later' : 'earlier';
  return [
    set(
      `Cut at frame ${nearest} (${moved} ${side}, the next piece gets ${nearest > frame ? 'shorter' : 'longer'})`,
      [piece, 'length', own],
      [next, 'length', rest],
    ),
    set(`Cut at frame ${nearest} (${moved} ${side}, all that follows moves along)`, [piece, 'length', own]),
  ];
}
