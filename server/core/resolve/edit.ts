/** The edit: timeline, cut, titles, music and the finished files, in seconds and frames of the film. */
import { nearestFrame, rateFps, sameRate, sharedS, type Rate } from '../../calc/rate.ts';
import { pairOf, type Range } from '../document/node.ts';
import type { Deliverable, Grade, Music, Piece, Preview, Shot, Sound, Timeline, Title, Val } from '../film.ts';
import { ends, type FilmTime, type Reader, type Seconds } from '../units.ts';
import * as u from '../units.ts';
import type { Fields } from './fields.ts';

/** What film time needs to become seconds. */
export interface Clock {
  readonly rate?: Rate;
  readonly tempoBpm?: number;
}

/** Film time in seconds from the film's start; undefined where the tempo or the rate that it needs is not known. */
export function filmSeconds(time: FilmTime | undefined, clock: Clock): Seconds | undefined {
  if (!time) return undefined;
  switch (time.kind) {
    case 'seconds':
      return time.s;
    case 'beats':
      return clock.tempoBpm ? (time.beats * 60) / clock.tempoBpm : undefined;
    case 'frames':
      return clock.rate && (time.frames * clock.rate.den) / clock.rate.num;
    case 'timecode': {
      if (!clock.rate) return undefined;
      const perSecond = Math.round(rateFps(clock.rate));
      const counted = (time.h * 3600 + time.m * 60 + time.s) * perSecond + time.f;
      const minutes = time.h * 60 + time.m;
      // Drop frame leaves out two numbers (four above 30) a minute, but not every tenth (SMPTE ST 12-1).
      const dropped = time.drop ? (perSecond / 15) * (minutes - Math.floor(minutes / 10)) : 0;
      return ((counted - dropped) * clock.rate.den) / clock.rate.num;
    }
  }
}

/** The edit's rate and colour space: said, or what all deliverables share. */
export function resolveTimeline(top: Fields, deliverables: readonly Fields[]): Timeline {
  const f = top.block('timeline');
  const rates = deliverables.flatMap((one) => one.read('rate', u.rate) ?? []);
  const spaces = deliverables.map((one) => one.word('colour-space', 'bt709'));
  const shared = rates.every((one) => sameRate(one.value, rates[0]!.value)) ? rates[0] : undefined;
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    raster: f.read('raster', u.raster),
    rate: f.read('rate', u.rate) ?? (f.said('rate') ? undefined : shared),
    colourSpace: f.text('colour-space')?.value ?? (spaces.every((one) => one === spaces[0]) ? spaces[0] : undefined),
    starts: f.read('starts', u.filmTime),
  };
}

export function resolveMusic(top: Fields): Music | undefined {
  if (!top.said('music')) return undefined;
  const f = top.block('music');
  const firstBeatS = f.number('first-beat', u.realTimeS, 0);
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    track: f.text('track'),
    tempo: f.read('tempo', u.tempoBpm),
    firstBeatS,
    trimS: f.number('trim', u.realTimeS, firstBeatS),
    length: f.read('length', u.realTimeS),
  };
}

/** What the pieces of a cut refer to. */
export interface CutContext {
  readonly shots: ReadonlyMap<string, Shot>;
  readonly clock: Clock;
  /** For each deliverable, those that it is `like`, nearest first. */
  readonly likes: ReadonlyMap<string, readonly string[]>;
}

export function resolveCut(top: Fields, context: CutContext): Piece[] {
  let nowS: Seconds | undefined = 0;
  return top.items('cut').map((f, index) => {
    const made = resolvePiece(f, index, context, nowS);
    nowS = made.endS;
    return made;
  });
}

/** One line of the cut, which its shot then knows of. */
export function resolvePiece(f: Fields, index: number, context: CutContext, startS: Seconds | undefined): Piece {
  const made = piece(f, index, context, startS);
  if (made.shot) (made.shot.pieces as Piece[]).push(made);
  return made;
}

function piece(f: Fields, index: number, { shots, clock, likes }: CutContext, startS: Seconds | undefined): Piece {
  const shotName = f.text('shot');
  const shot = shotName && shots.get(shotName.value);
  const length = f.read('length', u.filmTime);
  const lengthS = filmSeconds(length?.value, clock);
  const endS = startS === undefined || lengthS === undefined ? undefined : startS + lengthS;
  const frame = (s: Seconds | undefined) => (s === undefined || !clock.rate ? undefined : nearestFrame(s, clock.rate));
  const time = (key: string) => {
    const val = f.read(key, u.filmTime);
    return { val, s: filmSeconds(val?.value, clock) ?? 0 };
  };
  const [dissolve, fadeIn, fadeOut] = [time('dissolve'), time('fade-in'), time('fade-out')];
  const from = f.read('from', u.realTimeS);
  const speed = f.number('speed', u.share, usualSpeed(shot, clock));
  const zoomAt = f.read('zoom', ends(u.number));
  const shiftAt = f.read('shift', ends(u.share));
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    index,
    shotName,
    shot,
    footage: f.text('footage'),
    colour: f.read('colour', u.colour),
    length,
    lengthS,
    startS,
    endS,
    startFrame: frame(startS),
    endFrame: frame(endS),
    from,
    fromS: from ? from.value - backS(speed, lengthS) : (shot?.handlesS ?? 0),
    speed,
    speedAt: f.read('speed', u.share),
    zoom: zoomAt?.value ?? { from: 1, to: 1 },
    zoomAt,
    shift: shiftAt?.value ?? { from: 0, to: 0 },
    shiftAt,
    zoomBy: byDeliverable(f, 'zoom-by', u.number, likes),
    shiftBy: byDeliverable(f, 'shift-by', u.share, likes),
    straightenDeg: f.number('straighten', u.angleDeg, 0),
    straightenAt: f.read('straighten', u.angleDeg),
    flip: f.text('flip'),
    dissolve: dissolve.val,
    dissolveS: dissolve.s,
    fadeIn: fadeIn.val,
    fadeInS: fadeIn.s,
    fadeOut: fadeOut.val,
    fadeOutS: fadeOut.s,
    sound: f.word('sound', 'none') === 'keep' ? 'keep' : 'none',
    soundAt: f.text('sound'),
    pitch: f.word('pitch', 'shifts') === 'kept' ? 'kept' : 'shifts',
    turnShown: f.read('turn-shown', u.angleDeg),
  };
}

/** How far a piece that runs backwards goes back in its take from where it starts. */
function backS(speed: number, lengthS: Seconds = 0): Seconds {
  return speed < 0 ? -speed * lengthS : 0;
}

/** Real speed; of a time-lapse that at which each of its pictures is one of the film's. */
function usualSpeed(shot: Shot | undefined, { rate }: Clock): number {
  return shot?.interval && rate ? shot.interval.value * rateFps(rate) : 1;
}

/** What is said for each deliverable: one that is not named has what is said for the nearest that it is `like`. */
function byDeliverable(
  f: Fields,
  key: string,
  reader: Reader<number>,
  likes: CutContext['likes'],
): ReadonlyMap<string, Val<number>> {
  const block = f.block(key);
  const pairs = block.layers[0]?.pairs ?? [];
  if (pairs.length === 0) return nothingSaid;
  const said = new Map<string, Val<number>>();
  for (const pair of pairs) {
    const val = block.read(pair.key.text, reader);
    if (val) said.set(pair.key.text, val);
  }
  for (const [name, chain] of likes) {
    const val = said.get(name) ?? said.get(chain.find((one) => said.has(one)) ?? '');
    if (val) said.set(name, val);
  }
  return said;
}

const nothingSaid: ReadonlyMap<string, Val<number>> = new Map();

export function resolveSounds(top: Fields, clock: Clock): Sound[] {
  return top.items('sounds').map((f) => {
    const at = f.read('at', u.filmTime);
    const length = f.read('length', u.filmTime);
    return {
      start: f.range.start,
      end: f.range.end,
      fields: f,
      track: f.text('track'),
      at,
      atS: filmSeconds(at?.value, clock) ?? 0,
      length,
      lengthS: filmSeconds(length?.value, clock),
      gain: f.read('gain', u.decibels),
      words: f.text('words'),
    };
  });
}

export function resolveTitles(top: Fields, clock: Clock): Title[] {
  return top.items('titles').map((f) => {
    const at = f.read('at', u.filmTime);
    const hold = f.read('hold', u.filmTime);
    return {
      start: f.range.start,
      end: f.range.end,
      fields: f,
      text: f.text('text'),
      at,
      atS: filmSeconds(at?.value, clock),
      hold,
      holdS: filmSeconds(hold?.value, clock),
      fadeS: filmSeconds(f.read('fade', u.filmTime)?.value, clock) ?? 0,
      letters: f.number('letters', u.share, 0.06),
      lettersAt: f.read('letters', u.share),
      place: f.word('place', 'bottom'),
      colour: f.read('colour', u.colour)?.value ?? '#ffffff',
      colourAt: f.read('colour', u.colour),
      over: f.read('over', u.colour),
      panel: f.read('panel', u.colour),
      font: f.text('font'),
      onlyIn: f.list('only-in', (value) => value),
    };
  });
}

export function resolveGrade(top: Fields): Grade | undefined {
  if (!top.said('grade')) return undefined;
  const f = top.block('grade');
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    to: f.text('to'),
    brightenStops: f.number('brighten', u.stops, 0),
    saturation: f.number('saturation', u.share, 1),
    dither: f.word('dither', 'none') === 'added',
  };
}

/** The named blocks of `deliver`, each on top of the ones that it is `like`, and their names, nearest first. */
export function deliverableFields(top: Fields): { name: string; at: Range; fields: Fields; likes: string[] }[] {
  const written = new Map(top.named('deliver').map((entry) => [entry.name, entry]));
  return [...written.values()].map((entry) => {
    let fields = entry.fields;
    const likes: string[] = [];
    for (
      let next = entry.fields.text('like')?.value;
      next !== undefined && next !== entry.name && !likes.includes(next);
    ) {
      const base = written.get(next);
      if (!base) break;
      likes.push(next);
      fields = fields.over(base.fields);
      next = base.fields.text('like')?.value;
    }
    return { ...entry, fields, likes };
  });
}

export function resolveDeliverable(
  entry: { name: string; at: Range; fields: Fields },
  { clock, cut, heard }: { clock: Clock; cut: readonly Piece[]; heard: boolean },
): Deliverable {
  const { name, at, fields: f } = entry;
  const rate = f.read('rate', u.rate);
  // A deliverable's own length counts its own frames; places in the cut count the timeline's.
  const own: Clock = { ...clock, ...(rate && { rate: rate.value }) };
  const length = isOfOtherSection(f) ? undefined : f.read('length', u.filmTime);
  const longest = f.read('longest', u.filmTime);
  const cutS = cut.at(-1)?.endS;
  const section = f.read('section', sectionEnds(cutS));
  const sectionS = section ? pair(section.value, clock) : cutS === undefined ? undefined : { from: 0, to: cutS };
  const keepClear = f.block('keep-clear');
  const clear = (edge: string) => keepClear.number(edge, u.share, 0);
  const shownOn = f.said('shown-on') ? f.words('shown-on') : ['web'];
  return {
    name,
    file: f.file,
    start: at.start,
    end: at.end,
    fields: f,
    like: f.alone().text('like'),
    shownOn,
    territory: f.said('territory') ? f.words('territory') : ['worldwide'],
    published: f.read('published', ends(u.dateDays)),
    raster: f.read('raster', u.raster),
    rate,
    length,
    lengthS: filmSeconds(length?.value, own),
    longest,
    longestS: filmSeconds(longest?.value, own),
    section: section as Deliverable['section'],
    sectionS,
    container: f.word('container', 'mp4'),
    codec: f.word('codec', 'h264'),
    codecAt: f.text('codec'),
    profile: f.text('profile'),
    codecLevel: f.text('codec-level'),
    tier: f.word('tier', 'main') === 'high' ? 'high' : 'main',
    tierAt: f.text('tier'),
    bits: f.number('bits', u.number, 8),
    bitsAt: f.read('bits', u.number),
    chroma: f.word('chroma', '4:2:0'),
    chromaAt: f.text('chroma'),
    colourSpace: f.word('colour-space', 'bt709'),
    colourSpaceAt: f.text('colour-space'),
    bitrate: f.read('bitrate', u.bitRate),
    largestFile: f.read('largest-file', u.bytes),
    sound: f.word('sound', heard ? 'stereo' : 'none'),
    soundAt: f.text('sound'),
    loudness: f.read('loudness', u.loudnessLufs),
    truePeak: f.read('true-peak', u.truePeakDbtp),
    sampleRate: f.read('sample-rate', u.hertz),
    keepClear: { top: clear('top'), bottom: clear('bottom'), left: clear('left'), right: clear('right') },
    needNotShow: f.names('need-not-show'),
    preview: f.said('preview') ? preview(f.block('preview'), clock) : undefined,
    viewedOn: f.word('viewed-on', usualView(shownOn)),
    loop: f.word('loop', 'none') === 'seamless',
    pieces: cut.filter((one) => showsPiece({ sectionS, rate }, one)),
  };
}

/** Is its length that of a deliverable which it is `like`, and shows it another section of the cut? */
function isOfOtherSection({ layers }: Fields): boolean {
  const [length, section] = ['length', 'section'].map((key) => layers.findIndex((layer) => pairOf(layer, key)));
  return section! >= 0 && section! < length!;
}

function preview(f: Fields, clock: Clock): Preview {
  const at = f.read('at', u.filmTime);
  const { start, end } = f.range;
  return { start, end, fields: f, at, atS: filmSeconds(at?.value, clock), text: f.text('text') };
}

/** `14 beats to 24 beats`; a single value runs from the start of the cut to there. */
function sectionEnds(cutS: Seconds | undefined): Reader<{ from: FilmTime; to: FilmTime }> {
  const whole: FilmTime = { kind: 'seconds', s: 0 };
  return (text) => {
    if (text.includes(' to ')) return ends(u.filmTime)(text);
    const to = u.filmTime(text);
    return to && cutS !== undefined ? { from: whole, to } : undefined;
  };
}

function pair(section: { from: FilmTime; to: FilmTime }, clock: Clock): { from: Seconds; to: Seconds } | undefined {
  const [from, to] = [filmSeconds(section.from, clock), filmSeconds(section.to, clock)];
  return from === undefined || to === undefined ? undefined : { from, to };
}

/** Does the deliverable show some of the piece? Where that can't be told, it does. */
export function showsPiece(
  { sectionS, rate }: Pick<Deliverable, 'sectionS' | 'rate'>,
  { startS, endS }: Piece,
): boolean {
  if (!sectionS || startS === undefined || endS === undefined) return true;
  return sharedS({ from: startS, to: endS }, sectionS, rate?.value) > 0;
}

function usualView(shownOn: readonly string[]): string {
  if (shownOn.includes('social')) return 'phone-upright';
  if (shownOn.includes('broadcast')) return 'television';
  return shownOn.includes('cinema') || shownOn.includes('event') ? 'cinema' : 'desk';
}
