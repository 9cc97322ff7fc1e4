import { framesPerBeat, nearestBeat, tempo } from '../../calc/beats.ts';
import { type Rate, rateFps, sToFrames } from '../../calc/rate.ts';
import { exactTime, framesText } from '../../core/derived/edit.ts';
import type { Film, Music, Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

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
    most: '{count} of {all} cuts are off the beat of {tempo} ({perBeat} frames): give lengths in beats, or say `on-purpose: off-beat`.',
  },
  film(film, { limits, report }) {
    const grid = gridOf(film);
    if (!grid) return;
    const cuts = cutsOf(film, grid);
    const off = cuts.filter((cut) => Math.abs(cut.late) > limits.allow + 1e-6);
    const inBeats = film.cut.some((piece) => piece.length?.value.kind === 'beats');
    const perBeat = num(grid.perBeat.num / grid.perBeat.den, 3);
    if (!inBeats && off.length > 2 && off.length * 2 > cuts.length) {
      const data = { count: off.length, all: cuts.length, tempo: film.music!.tempo!.text, perBeat };
      report({ message: 'most', data, at: film.cutAt ?? film.music!, severity: 'info', explainedBy: ['off-beat'] });
      return;
    }
    let drifting = false;
    for (const cut of off) {
      const before = cuts[cuts.indexOf(cut) - 1]?.late ?? 0;
      const step = Math.abs(cut.late - before);
      // A cut that is as late as the one before it inherits that one's slip.
      const follows = step < 1e-6 && Math.abs(before) > limits.allow + 1e-6;
      const drifts = step <= limits.allow + 1e-6;
      if (follows || (drifts && drifting)) continue;
      drifting ||= drifts;
      const { piece, frame, late } = cut;
      const data = {
        after: pieceName(piece),
        off: `${num(Math.abs(late), 2)} frames`,
        ms: num((Math.abs(late) / rateFps(grid.frames)) * 1000, 0),
        side: late < 0 ? 'early' : 'late',
      };
      const common = {
        at: piece.length ?? piece,
        excess: Math.abs(late),
        shot: piece.shot,
        explainedBy: ['off-beat'] as const,
        fixes: () => fixes(film, cut, grid),
      };
      if (drifts) report({ message: 'drift', data: { ...data, perBeat }, ...common });
      else {
        const more = { frame, beat: num(cut.position, 2), nearest: cut.nearest };
        report({ message: 'off', data: { ...data, ...more }, ...common });
      }
    }
  },
});

interface Grid {
  readonly frames: Rate;
  readonly perBeat: Rate;
  readonly firstFrame: number;
  /** 1 for beats; less where the cut counts in halves or quarters of one. */
  readonly step: number;
}

function gridOf(film: Film): Grid | undefined {
  const { music, timeline, cut } = film;
  const frames = timeline.rate?.value;
  if (!music?.tempo?.value || !frames || cut.length < 2) return undefined;
  return {
    frames,
    perBeat: framesPerBeat(frames, tempo(music.tempo.value)),
    firstFrame: sToFrames(firstBeatInFilmS(music), frames),
    step: stepOf(cut),
  };
}

/** Where beat 0 lies in the film: later than its start where less than the music's upbeat is left out. */
function firstBeatInFilmS(music: Music): number {
  return music.firstBeatS - music.trimS;
}

/** Whoever writes `1.5 beats` means the half beat. */
function stepOf(cut: readonly Piece[]): number {
  const beats = cut.flatMap(({ length }) => (length?.value.kind === 'beats' ? length.value.beats : []));
  const whole = (step: number) => beats.every((one) => Math.abs(one / step - Math.round(one / step)) < 1e-6);
  return [1, 0.5, 0.25].find(whole) ?? 0.25;
}

interface Cut {
  /** The piece that ends here. */
  readonly piece: Piece;
  readonly frame: number;
  readonly position: number;
  readonly nearest: number;
  readonly late: number;
}

function cutsOf(film: Film, grid: Grid): Cut[] {
  return film.cut.slice(0, -1).flatMap((piece) => {
    const frame = piece.endFrame;
    // A dissolve has no moment that could miss a beat.
    if (frame === undefined || film.cut[piece.index + 1]!.dissolveS > 0) return [];
    const near = nearestBeat(frame, grid.perBeat, grid.firstFrame, grid.step);
    return [{ piece, frame, position: near.position, nearest: near.frame, late: near.late }];
  });
}

function pieceName({ index, shotName }: Piece): string {
  return shotName ? `${shotName.value} (piece ${index + 1})` : `piece ${index + 1}`;
}

/** The cut moved to its beat: the next piece gives or takes the frames, so that all later cuts stay. */
function fixes(film: Film, { piece, frame, nearest }: Cut, { frames }: Grid): FixIdea[] {
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
