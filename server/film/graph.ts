/**
 * An assembly as arguments of ffmpeg. What a user wrote never stands in a graph: files are inputs, words are pictures, and
 * every number is made here.
 */
import { type Rate, rateFps } from '../calc/rate.ts';
import { inputOf } from '../footage/decode/ffmpeg.ts';
import { clockS, type ClipFile, type ClipPicture, type DrawnPicture, type Output, type Segment } from './assembly.ts';
import { cropGraph } from './crop-graph.ts';
import { num } from './graph-number.ts';
import { wideName } from './wide-table.ts';

/** What lies where while a film is made. */
export interface Places {
  /** The full path of a clip. */
  fileOf(clip: Pick<ClipFile, 'of' | 'path'>): string;
  /** The name in the working folder of a table that converts log. */
  tableOf(converts: string): string;
  /** The name there of the table that brightens; undefined where nothing is brightened. */
  readonly brighten?: string;
  readonly saturation: number;
  /** Whether it knows `-fps_mode`. */
  readonly hasFpsMode: boolean;
}

export interface Run {
  readonly args: readonly string[];
  /** What is drawn and fed to it, frame by frame and below each other in one picture. */
  readonly drawn: readonly DrawnPicture[];
}

/** The frames of a segment as raw pictures on standard output. */
export function segmentRun(segment: Segment, output: Output, places: Places): Run {
  const pictures = [segment.picture, ...(segment.into ? [segment.into.picture] : [])];
  const drawn = pictures.filter((one) => one.kind === 'drawn');
  const inputs: string[] = drawn.length > 0 ? drawnInput(drawn.length, output) : [];
  let input = drawn.length > 0 ? 1 : 0;
  const chains = pictures.map((picture, index) => {
    const chain = (from: string, ...filters: string[]) => `${from}${filters.join(',')}[p${index}]`;
    const end = ['settb=1/1000000', `setpts=N*${num(1e6 / rateFps(output.rate))}`, 'setsar=1'];
    if (picture.kind === 'plain') return chain('', plain(picture.colour, output), ...end);
    if (picture.kind === 'drawn')
      return chain('[0:v:0]', ...drawnChain(drawn.indexOf(picture), drawn.length, output), ...end);
    inputs.push(...clipInput(picture, segment.frames, places));
    return chain(`[${input++}:v:0]`, ...clipChain(picture, segment.frames, output, places), ...end);
  });
  const graph = [...chains, last(segment, output)].join(';');
  const asMade = [places.hasFpsMode ? '-fps_mode' : '-vsync', 'passthrough'];
  const frames = [...asMade, '-frames:v', String(segment.frames), '-f', 'rawvideo', '-pix_fmt', pixelsOf(output)];
  return { args: [...quiet, ...inputs, '-filter_complex', graph, '-map', '[v]', ...frames, 'pipe:1'], drawn };
}

export const quiet = ['-hide_banner', '-nostdin', '-loglevel', 'error'];

function last({ into }: Segment, output: Output): string {
  const end = `format=${pixelsOf(output)}[v]`;
  if (!into) return `[p0]${end}`;
  const fps = rateFps(output.rate);
  const durationS = 1 / into.step / fps;
  const startS = -into.share / into.step / fps;
  return `[p0][p1]xfade=transition=fade:duration=${num(durationS)}:offset=${num(startS)},${end}`;
}

function plain(colour: string, output: Output): string {
  if (!/^#[0-9a-f]{6}$/i.test(colour)) throw new Error(`no colour: ${colour}`);
  const source = `color=c=0x${colour.slice(1)}:s=${sizeText(output)}:r=${rateText(output.rate)},format=gbrp`;
  return [source, ...widened(output), toFilm(output)].join(',');
}

// -- drawings --------------------------------------------------------------------------------------------------------

function drawnInput(count: number, { raster, rate }: Output): string[] {
  const size = `${raster.width}x${raster.height * count}`;
  const raw = ['-f', 'rawvideo', '-pix_fmt', 'rgba', '-video_size', size, '-framerate', rateText(rate)];
  return [...raw, '-i', 'pipe:0'];
}

function drawnChain(index: number, count: number, output: Output): string[] {
  const { width, height } = output.raster;
  const own = count > 1 ? [`crop=${width}:${height}:0:${index * height}`] : [];
  // What is drawn is graded already.
  return [...own, 'format=gbrp', ...widened(output), toFilm(output)];
}

// -- clips -----------------------------------------------------------------------------------------------------------

/** Where reading begins: before the frame that stands at the moment, however long that stands. */
function seekS({ fromS, stepS, clip }: ClipPicture, frames: number): number {
  const earliestS = stepS < 0 ? fromS + stepS * (frames - 1) : fromS;
  return Math.max(0, earliestS - Math.max(0.2, 2 * clip.longestStepS));
}

function clipInput(picture: ClipPicture, frames: number, { fileOf }: Places): string[] {
  const from = seekS(picture, frames);
  return inputOf(fileOf(picture.clip), ['-noautorotate', '-an', '-sn', '-dn', ...(from > 0 ? ['-ss', num(from)] : [])]);
}

function clipChain(picture: ClipPicture, frames: number, output: Output, places: Places): string[] {
  const { clip, framing, converts, stepS } = picture;
  const wide = clip.curve === undefined ? widened(output) : [];
  const isGraded = converts !== undefined || grade(places).length > 0 || wide.length > 0;
  const work = isGraded ? 'gbrp12le' : pixelsOf(output);
  const range = clip.fullRange ? 'full' : 'tv';
  const to = isGraded ? '' : `:out_color_matrix=${matrixOf(output)}:out_range=tv`;
  const { before, after } = cropGraph(framing, {
    output,
    frames,
    scaled: `:in_color_matrix=${matrices[clip.matrix] ?? 'bt709'}:in_range=${range}${to},format=${work}`,
    pixelAspect: clip.pixelAspect,
    isDeep: clip.isDeep,
  });
  const table = converts === undefined ? [] : [`lut3d=file=${safeName(places.tableOf(converts))}:interp=tetrahedral`];
  const colour = isGraded ? [...table, ...grade(places), ...wide, toFilm(output)] : [];
  return [
    ...(clip.interlaced ? ['bwdif=mode=send_frame'] : []),
    ...chosen(picture, frames, output.rate),
    ...before,
    ...colour,
    ...(stepS < 0 ? ['reverse'] : []),
    ...after,
  ];
}

/** One frame of the clip for each of the film: that which stands at its moment. */
function chosen(picture: ClipPicture, frames: number, rate: Rate): string[] {
  const { fromS, stepS } = picture;
  const earliestS = stepS < 0 ? fromS + stepS * (frames - 1) : fromS;
  const zeroUs = num((earliestS + clockS - seekS(picture, frames)) * 1e6);
  const speed = Math.abs(stepS) * rateFps(rate);
  const fps = `fps=fps=${rateText(rate)}:round=up:start_time=0`;
  const start = ['settb=1/1000000', `setpts=(PTS-${zeroUs})/${num(speed || 1)}`, fps];
  if (stepS !== 0) return [...start, `trim=end_frame=${frames}`, 'setpts=PTS-STARTPTS'];
  return [...start, 'trim=end_frame=1', 'loop=loop=-1:size=1:start=0', 'setpts=N', `trim=end_frame=${frames}`];
}

/** The words of containers as the scaler has them. */
const matrices: Readonly<Record<string, string>> = {
  bt709: 'bt709',
  bt470bg: 'bt470bg',
  smpte170m: 'smpte170m',
  bt2020nc: 'bt2020',
  'bt2020-ncl': 'bt2020',
};

// -- colour ----------------------------------------------------------------------------------------------------------

/** Brighter in linear light, then more or less of colour, with the luma of BT.709 kept. */
function grade({ brighten, saturation: s }: Places): string[] {
  const [red, green, blue] = [0.2126, 0.7152, 0.0722];
  const row = (own: 'r' | 'g' | 'b') =>
    (
      [
        ['r', red],
        ['g', green],
        ['b', blue],
      ] as const
    ).map(([from, luma]) => `${own}${from}=${num((1 - s) * luma + (own === from ? s : 0))}`);
  return [
    ...(brighten ? [`lut1d=file=${safeName(brighten)}`] : []),
    ...(s === 1 ? [] : [`colorchannelmixer=${[...row('r'), ...row('g'), ...row('b')].join(':')}`]),
  ];
}

/** From BT.709 to the light of a film of high dynamic range. */
export function widened({ colourSpace }: Pick<Output, 'colourSpace'>): string[] {
  return colourSpace === 'bt709' ? [] : ['format=gbrp12le', `lut3d=file=${wideName}:interp=tetrahedral`];
}

/** As the scaler calls it. */
export function matrixOf({ colourSpace }: Pick<Output, 'colourSpace'>): 'bt709' | 'bt2020' {
  return colourSpace === 'bt709' ? 'bt709' : 'bt2020';
}

/** From red, green and blue to what is coded. */
export function toFilm(output: Output): string {
  return `scale=flags=bicubic+accurate_rnd+full_chroma_inp:out_color_matrix=${matrixOf(output)}:out_range=tv,format=${pixelsOf(output)}`;
}

/** As ffmpeg names them: `yuv420p`, `yuv422p10le`. */
export function pixelsOf({ chroma, bits }: Output): string {
  return `yuv${chroma.replaceAll(':', '')}p${bits === 10 ? '10le' : ''}`;
}

export function frameBytes(output: Output): number {
  const { width, height } = output.raster;
  const chroma = { '4:2:0': 0.5, '4:2:2': 1, '4:4:4': 2 }[output.chroma];
  return width * height * (1 + chroma) * (output.bits === 10 ? 2 : 1);
}

// -- how things are written ------------------------------------------------------------------------------------------

export function rateText({ num: frames, den }: Rate): string {
  return `${frames}/${den}`;
}

export function sizeText({ raster }: Pick<Output, 'raster'>): string {
  return `${raster.width}x${raster.height}`;
}

/** A name of our own in the working folder. */
function safeName(name: string): string {
  if (!/^[a-z0-9-]+\.cube$/.test(name)) throw new Error(`no name for a graph: ${name}`);
  return name;
}
