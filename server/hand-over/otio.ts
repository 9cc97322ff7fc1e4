/**
 * The cut in the JSON of OpenTimelineIO, by its published list of serialized classes: takes or blanks on one track of
 * picture, kept sound, music and sounds on tracks of their own, titles and beats as markers.
 */
import { type Rate, rateFps } from '../calc/rate.ts';
import { num } from '../core/say.ts';
import type { Run } from '../film/clip-stretch.ts';
import { json } from '../formats/escape.ts';
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
import type { Kind, ToHandOver } from './kind.ts';

type Address = ToHandOver['address'];
type Otio = Readonly<Record<string, unknown>>;

export const otio: Kind = {
  make(asked) {
    const cut = cutOf(asked);
    return { text: json(timeline(cut, asked.address)), notes: cut.notes };
  },
};

function timeline(cut: Cut, address: Address): Otio {
  const { rate, deliverable, title, heard } = cut;
  const kept = cut.pieces.some(keepsSound);
  return {
    OTIO_SCHEMA: 'Timeline.1',
    metadata: ours({ deliverable: deliverable.name, dropFrame: cut.drop }),
    name: `${title}, ${deliverable.name}`,
    global_start_time: time(cut.startFrame, rate),
    tracks: {
      ...item('Stack.1', 'tracks'),
      markers: cut.titles.map(({ title: { text, place, font }, startFrame, frames }) =>
        marker({
          name: text!.value.trim(),
          comment: 'title',
          colour: 'WHITE',
          range: range(startFrame, frames, rate),
          metadata: { place, ...(font && { font: font.value }) },
        }),
      ),
      children: [
        track(
          'Picture',
          'Video',
          cut.pieces.flatMap((piece) => shown(piece, cut, address)),
        ),
        ...(kept
          ? [
              track(
                'Kept sound',
                'Audio',
                cut.pieces.flatMap((piece) => keptSound(piece, cut, address)),
              ),
            ]
          : []),
        ...heard.map((one) => heardTrack(one, cut, address)),
      ],
    },
  };
}

// -- picture ---------------------------------------------------------------------------------------------------------

/** A piece with what leads to it: a dissolve overlaps both sides of the cut, the clips themselves do not. */
function shown(piece: CutPiece, cut: Cut, address: Address): Otio[] {
  const { on, start, end } = piece;
  const [isFirst, isLast] = [start === 0, end === cut.frames];
  const dissolves = on.dissolve > 0 && on.start > 0 && on.outerStart >= 0;
  return [
    ...(dissolves ? [transition(start - on.outerStart, on.dissolve - (start - on.outerStart), cut.rate)] : []),
    ...(isFirst && on.fadeIn > 0 && start === on.start ? [transition(0, on.fadeIn, cut.rate)] : []),
    ...clips(piece, cut, address),
    ...(isLast && on.fadeOut > 0 && end === on.end ? [transition(on.fadeOut, 0, cut.rate)] : []),
  ];
}

function clips(piece: CutPiece, cut: Cut, address: Address): Otio[] {
  const { on, start, end, colour } = piece;
  // Only at the ends of the film is there black to mix with.
  const markers = [
    ...(on.fadeIn > 0 && start > 0 ? [fade('fades in from black', 0, on.fadeIn, cut.rate)] : []),
    ...(on.fadeOut > 0 && end < cut.frames
      ? [fade('fades out to black', end - start - on.fadeOut, on.fadeOut, cut.rate)]
      : []),
  ];
  if (colour === '#000000') return [{ ...gap(end - start, cut.rate), markers }];
  if (colour !== undefined)
    return [
      {
        ...item('Clip.2', colour),
        source_range: range(0, end - start, cut.rate),
        ...media(generator(colour)),
        markers,
      },
    ];
  return runsBetween(piece, start, end).map((run, index) => {
    const made = clip(piece, run, cut, address);
    return index === 0 ? { ...made, markers } : made;
  });
}

function clip(piece: CutPiece, run: Run<Source>, { rate }: Cut, address: Address): Otio {
  const { file } = run;
  const { zoom, shift, straightenDeg, flip } = piece.on.piece;
  const { judged } = piece.take ?? {};
  return {
    ...item('Clip.2', piece.name),
    metadata: ours({
      shot: piece.name,
      zoom,
      shift,
      straightenDegrees: straightenDeg,
      ...(flip && { flip: flip.value }),
      ...(judged && { judged: judged.value }),
    }),
    source_range: {
      OTIO_SCHEMA: 'TimeRange.1',
      start_time: time(firstFrame(run, rate), file.rate),
      duration: time(run.end - run.start, rate),
    },
    effects: effects(speedOf(run, rate)),
    ...media(reference(file, address)),
  };
}

/** The earliest frame of the file that is shown: of a piece that runs backwards that is its last one. */
function firstFrame(run: Run<Source>, rate: Rate): number {
  const moment = speedOf(run, rate) < 0 ? momentAt(run, run.end - 1) : run.fromS;
  return frameAt(moment, run.file.rate);
}

function effects(speed: number): Otio[] {
  if (Math.abs(speed - 1) < 1e-6) return [];
  const schema = speed === 0 ? 'FreezeFrame.1' : 'LinearTimeWarp.1';
  const name = speed === 0 ? 'still' : `${num(speed * 100, 3)} %`;
  return [{ OTIO_SCHEMA: schema, metadata: {}, name, effect_name: schema.slice(0, -2), time_scalar: speed }];
}

// -- sound -----------------------------------------------------------------------------------------------------------

function keepsSound({ on: { piece }, runs }: CutPiece): boolean {
  return piece.sound === 'keep' && piece.speed !== 0 && runs.length > 0;
}

function keptSound(piece: CutPiece, cut: Cut, address: Address): Otio[] {
  const { start, end } = piece;
  if (!keepsSound(piece)) return [gap(end - start, cut.rate)];
  return runsBetween(piece, start, end).map((run) => clip(piece, run, cut, address));
}

function heardTrack({ what, name, path, fromS, start, frames, gainDb }: Heard, cut: Cut, address: Address): Otio {
  const { rate } = cut;
  const from = Math.round(fromS * rateFps(rate));
  const made: Otio = {
    ...item('Clip.2', name),
    metadata: ours({ gainDb }),
    source_range: range(from, frames, rate),
    markers: what === 'music' ? cut.beats.map((frame) => beat(frame - start + from, rate)) : [],
    ...media(path === undefined ? missing(name) : external(name, address('repo', path), null)),
  };
  return track(what === 'music' ? 'Music' : `Sound ${name}`, 'Audio', [...(start > 0 ? [gap(start, rate)] : []), made]);
}

/** In the time of the music's file, as markers of an item are. */
function beat(frame: number, rate: Rate): Otio {
  return marker({ name: 'beat', comment: '', colour: 'GREEN', range: range(frame, 0, rate), metadata: {} });
}

// -- what all are made of --------------------------------------------------------------------------------------------

function item(schema: string, name: string): Otio {
  return { OTIO_SCHEMA: schema, metadata: {}, name, source_range: null, effects: [], markers: [], enabled: true };
}

function track(name: string, kind: 'Video' | 'Audio', children: readonly Otio[]): Otio {
  return { ...item('Track.1', name), kind, children };
}

function gap(frames: number, rate: Rate): Otio {
  return { ...item('Gap.1', ''), source_range: range(0, frames, rate) };
}

function transition(inFrames: number, outFrames: number, rate: Rate): Otio {
  return {
    OTIO_SCHEMA: 'Transition.1',
    metadata: {},
    name: '',
    transition_type: 'SMPTE_Dissolve',
    in_offset: time(inFrames, rate),
    out_offset: time(outFrames, rate),
  };
}

function fade(name: string, start: number, frames: number, rate: Rate): Otio {
  return marker({ name, comment: 'fade', colour: 'BLACK', range: range(start, frames, rate), metadata: {} });
}

interface MarkerSaid {
  readonly name: string;
  readonly comment: string;
  readonly colour: string;
  readonly range: Otio;
  readonly metadata: Otio;
}

function marker({ name, comment, colour, range: marked_range, metadata }: MarkerSaid): Otio {
  return { OTIO_SCHEMA: 'Marker.2', metadata: ours(metadata), name, color: colour, comment, marked_range };
}

function media(of: Otio): Otio {
  return { media_references: { DEFAULT_MEDIA: of }, active_media_reference_key: 'DEFAULT_MEDIA' };
}

function reference({ of, path, text, frames, rate }: Source, address: Address): Otio {
  if (path === undefined) return missing(text);
  return external(text, address(of, path), frames === undefined ? null : range(0, frames, rate));
}

function external(name: string, target_url: string, available_range: Otio | null): Otio {
  return { OTIO_SCHEMA: 'ExternalReference.1', ...referenced(name), available_range, target_url };
}

function missing(name: string): Otio {
  return { OTIO_SCHEMA: 'MissingReference.1', ...referenced(name) };
}

function generator(colour: string): Otio {
  return {
    OTIO_SCHEMA: 'GeneratorReference.1',
    ...referenced(colour),
    generator_kind: 'SolidColor',
    parameters: { color: colour },
  };
}

function referenced(name: string): Otio {
  return { metadata: {}, name, available_range: null, available_image_bounds: null };
}

/** A rate is written as the number that it is: 24000/1001 to as many digits as a double has. */
function time(frames: number, rate: Rate): Otio {
  return { OTIO_SCHEMA: 'RationalTime.1', rate: rateFps(rate), value: frames };
}

function range(start: number, frames: number, rate: Rate): Otio {
  return { OTIO_SCHEMA: 'TimeRange.1', start_time: time(start, rate), duration: time(frames, rate) };
}

function ours(values: Otio): Otio {
  return Object.keys(values).length === 0 ? {} : { shoot_spec: values };
}
