/** What flashes in the finished films: lamps, screens and plain colours, as the light of film frames. */
import { type Rgb, linearFromSrgb, luminance, parseHex } from '../../calc/colour.ts';
import { type FlashFrame } from '../../calc/flash.ts';
import { effectFrames } from '../../calc/flash-effect.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Deliverable, Film, LampPlace, Piece, Shot, Val } from '../film.ts';
import type { Hertz, Seconds, Share } from '../units.ts';
import { viewAt } from './framing.ts';
import { faceLight } from './light.ts';
import { once } from '../memo.ts';
import { fieldAt } from './optics.ts';
import { shutterSeconds } from './time.ts';

/** A stretch of a deliverable in which one thing flashes. */
export interface FlashRun {
  readonly deliverable: Deliverable;
  readonly frames: readonly FlashFrame[];
  readonly fps: number;
  /** Flashing share of the picture, 0 to 1: the most that it can be. */
  readonly areaShare: Share;
  /** Written in the spec, the most that sizes allow, or the whole picture because nothing tells. */
  readonly areaFrom: 'said' | 'sizes' | 'assumed';
  /** Where the flashing is written: of a lamp, of a screen, or the first colour of the run. */
  readonly at: Val<unknown>;
  readonly source:
    | {
        readonly kind: 'lamp';
        readonly lamp: LampPlace;
        readonly shot: Shot;
        readonly hz: Hertz;
        readonly speed: number;
      }
    | { readonly kind: 'screen'; readonly shot: Shot; readonly hz: Hertz; readonly speed: number }
    | { readonly kind: 'cuts'; readonly pieces: readonly { readonly piece: Piece; readonly fromFrame: number }[] };
}

/** A steady effect repeats itself: a minute of it shows all there is. */
const mostS: Seconds = 60;
/** A picture lit by half-and-half flashes of a lamp is on for half of each cycle: nothing in the plan says otherwise. */
const duty = 0.5;
/** Just below the 0.80 under which the darker picture of a pair counts. */
const justDark = 0.799;
const white: Rgb = { r: 1, g: 1, b: 1 };

/** Every stretch with flashes, deliverable by deliverable in the order of the cut. */
export const flashRuns = once((film: Film): readonly FlashRun[] => {
  const suspects = film.cut.filter(({ shot, colour }) => colour || (shot && flashes(shot)));
  if (suspects.length === 0) return [];
  return [...film.deliverables.values()].flatMap((deliverable) => {
    const rate = deliverable.rate?.value ?? film.timeline.rate?.value;
    if (!rate) return [];
    const fps = rateFps(rate);
    const effects = deliverable.pieces.flatMap((piece) => effectRuns(piece, deliverable, fps));
    return [...effects, ...colourRuns(deliverable, fps)];
  });
});

/** Does a lamp that is lit, or the screen, flash? */
export const flashes = once(
  ({ lit, backdrop }: Shot): boolean => lit.some((lamp) => lamp.flashes) || backdrop?.flashes !== undefined,
);

/** Of a rate that no screen has, no more are looked at. */
const mostFrames = 100_000;

/** The frames of a deliverable that a piece fills: cuts go to the nearest frame, counted from the film's start. */
function shownFrames({ startS, endS }: Piece, { sectionS }: Deliverable, fps: number): number {
  if (startS === undefined || endS === undefined) return 0;
  const from = Math.max(startS, sectionS?.from ?? 0);
  const to = Math.min(endS, sectionS?.to ?? Infinity, from + mostS);
  const count = Math.floor(to * fps + 0.5 + 1e-6) - Math.floor(from * fps + 0.5 + 1e-6);
  return Math.max(0, Math.min(mostFrames, count));
}

function effectRuns(piece: Piece, deliverable: Deliverable, fps: number): FlashRun[] {
  const { shot } = piece;
  if (!shot || !flashes(shot)) return [];
  const speed = Math.abs(piece.speed);
  const count = shownFrames(piece, deliverable, fps);
  const exposureS = speed > 0 ? Math.min(1 / fps, (shutterSeconds(shot) ?? 0) / speed) : 0;
  const run = (hz: Hertz, lights: { on: Rgb; off: Rgb }) => ({
    deliverable,
    fps,
    frames: effectFrames({ frequencyHz: hz * speed, duty, exposureS, ...lights }, count, fps),
  });
  const lamps = shot.lit.flatMap((lamp): FlashRun[] => {
    const hz = lamp.flashes?.value;
    if (!hz) return [];
    return [
      {
        ...run(hz, lampLights(shot, lamp)),
        areaShare: lamp.flashArea?.value ?? 1,
        areaFrom: lamp.flashArea ? 'said' : 'assumed',
        at: lamp.flashes!,
        source: { kind: 'lamp', lamp, shot, hz, speed },
      },
    ];
  });
  const screenFlashes = shot.backdrop?.flashes;
  if (!screenFlashes?.value) return lamps;
  const area = screenArea(piece, deliverable);
  const screen: FlashRun = {
    ...run(screenFlashes.value, { on: white, off: { r: 0, g: 0, b: 0 } }),
    areaShare: area ?? 1,
    areaFrom: area === undefined ? 'assumed' : 'sizes',
    at: screenFlashes,
    source: { kind: 'screen', shot, hz: screenFlashes.value, speed },
  };
  return [...lamps, screen];
}

/**
 * The light of the brightest thing in the picture with the lamp on and off: white light of what else is lit, and the
 * lamp's share in its own colour. Where the off picture would be too bright to count, a darker part of it does.
 */
function lampLights(shot: Shot, lamp: LampPlace): { on: Rgb; off: Rgb } {
  const light = faceLight(shot, 0);
  const found = light.lamps.find((one) => one.lamp === lamp)?.share;
  const share = light.complete && found !== undefined ? found : 1;
  const encoded = lamp.colour && parseHex(lamp.colour.value);
  const colour = encoded ? linearFromSrgb(encoded) : white;
  const rest = 1 - share;
  const off = { r: rest, g: rest, b: rest };
  const on = { r: rest + share * colour.r, g: rest + share * colour.g, b: rest + share * colour.b };
  const scale = luminance(off) > justDark ? justDark / luminance(off) : 1;
  return { on: scaled(on, scale), off: scaled(off, scale) };
}

function scaled({ r, g, b }: Rgb, by: number): Rgb {
  return { r: r * by, g: g * by, b: b * by };
}

/** The most of the picture that the screen can fill at either end of the piece; undefined where sizes are not known. */
function screenArea(piece: Piece, deliverable: Deliverable): Share | undefined {
  const { size, behind } = piece.shot?.backdrop ?? {};
  if (!size || !behind) return undefined;
  const areas = [0, 1].map((moment) => {
    const view = viewAt(piece, deliverable, moment);
    if (!view?.lens || !view.cropWidthMm || !view.cropHeightMm) return undefined;
    const field = fieldAt(view.lens, view.lens.distanceMm + behind.value);
    const grows = field.widthMm / fieldAt(view.lens, view.lens.distanceMm).widthMm;
    const across = size.value.widthMm / (view.cropWidthMm * grows);
    const upright = size.value.heightMm / (view.cropHeightMm * grows);
    return Math.min(1, across) * Math.min(1, upright);
  });
  return areas[0] === undefined || areas[1] === undefined ? undefined : Math.max(areas[0], areas[1]);
}

/** Plain colours that follow each other, two or more; what a shot or footage looks like is not known. */
function colourRuns(deliverable: Deliverable, fps: number): FlashRun[] {
  const runs: Piece[][] = [];
  let open: Piece[] = [];
  for (const piece of [...deliverable.pieces, undefined]) {
    if (piece?.colour) {
      open.push(piece);
      continue;
    }
    if (open.length > 1) runs.push(open);
    open = [];
  }
  return runs.map((pieces) => colourRun(pieces, deliverable, fps));
}

function colourRun(pieces: readonly Piece[], deliverable: Deliverable, fps: number): FlashRun {
  const frames: FlashFrame[] = [];
  const starts = pieces.map((piece) => {
    const fromFrame = frames.length;
    frames.push(...colourFrames(piece, deliverable, fps));
    return { piece, fromFrame };
  });
  return {
    deliverable,
    frames,
    fps,
    areaShare: 1,
    areaFrom: 'said',
    at: pieces[0]!.colour!,
    source: { kind: 'cuts', pieces: starts },
  };
}

/** A plain colour with its fades from and to black. */
function colourFrames(piece: Piece, deliverable: Deliverable, fps: number): FlashFrame[] {
  const count = shownFrames(piece, deliverable, fps);
  const lengthS = count / fps;
  const colour = linearFromSrgb(parseHex(piece.colour!.value)!);
  return Array.from({ length: count }, (_, frame) => {
    const atS = (frame + 0.5) / fps;
    const rising = piece.fadeInS > 0 ? Math.min(1, atS / piece.fadeInS) : 1;
    const falling = piece.fadeOutS > 0 ? Math.min(1, (lengthS - atS) / piece.fadeOutS) : 1;
    return { linear: scaled(colour, Math.min(rising, falling)) };
  });
}
