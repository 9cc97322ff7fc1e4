/** The last run: raw frames of the film in, words laid over, sound beside, the file of the deliverable out. */
import { levelName } from '../core/derived/stream.ts';
import type { Output } from './assembly.ts';
import { matrixOf, pixelsOf, quiet, rateText, sizeText, widened } from './graph.ts';
import { num } from './graph-number.ts';

/** A picture with its transparency that stands over some frames. */
export interface Overlay {
  /** Raw red, green, blue and alpha, by its name in the working folder. */
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly x: number;
  readonly y: number;
  readonly startFrame: number;
  readonly frames: number;
  /** Frames of it that come before, all of them, and those in which it comes and goes. */
  readonly skip: number;
  readonly all: number;
  readonly fadeFrames: number;
}

export interface SoundFile {
  /** Raw 32-bit floats, by its name in the working folder. */
  readonly name: string;
  readonly sampleRate: number;
  readonly channels: 1 | 2;
  readonly bitrateBps: number;
  readonly gainDb: number;
}

export interface ToEncode {
  readonly output: Output;
  readonly overlays: readonly Overlay[];
  readonly sound?: SoundFile | undefined;
  /** The full path of the file that is written. */
  readonly file: string;
  readonly threads: number;
}

export function encodeArgs({ output, overlays, sound, file, threads }: ToEncode): string[] {
  const raw = ['-f', 'rawvideo', '-pix_fmt', pixelsOf(output), '-video_size', sizeText(output)];
  const film = [...raw, '-framerate', rateText(output.rate), '-i', 'pipe:0'];
  const words = overlays.flatMap(({ name, width, height }) => [
    ...['-f', 'rawvideo', '-pix_fmt', 'rgba', '-video_size', `${width}x${height}`],
    ...['-framerate', rateText(output.rate), '-i', `file:${name}`],
  ]);
  const { primaries, curve, matrix } = marks[output.colourSpace];
  const heard = sound ? soundInput(sound) : [];
  const graph = [
    `[0:v]setparams=color_primaries=${primaries}:color_trc=${curve}:colorspace=${matrix}:range=tv[v0]`,
    ...overlays.map((overlay, index) => overlayGraph(overlay, index, output)),
  ].join(';');
  const maps = ['-map', `[v${overlays.length}]`, ...(sound ? ['-map', `${overlays.length + 1}:a`] : [])];
  return [
    ...[...quiet, '-y', ...film, ...words, ...heard, '-filter_complex', graph, ...maps],
    ...pictureCodec(output, threads),
    ...['-pix_fmt', pixelsOf(output), '-color_primaries', primaries, '-color_trc', curve, '-colorspace', matrix],
    ...['-color_range', 'tv', '-g', String(Math.round((2 * output.rate.num) / output.rate.den))],
    ...(sound ? soundCodec(sound, output) : []),
    // Nothing that differs from one time to the next, and the index where players on the web begin to read.
    ...['-map_metadata', '-1', '-fflags', '+bitexact', '-flags:v', '+bitexact', '-flags:a', '+bitexact'],
    ...(output.container === 'webm' ? ['-f', 'webm'] : ['-movflags', '+faststart', '-f', output.container]),
    `file:${file}`,
  ];
}

/** What players read of its colour (Rec. ITU-T H.273). */
const marks = {
  bt709: { primaries: 'bt709', curve: 'bt709', matrix: 'bt709' },
  hlg: { primaries: 'bt2020', curve: 'arib-std-b67', matrix: 'bt2020nc' },
  pq: { primaries: 'bt2020', curve: 'smpte2084', matrix: 'bt2020nc' },
} as const;

function overlayGraph(overlay: Overlay, index: number, output: Output): string {
  const { x, y, startFrame, frames, skip, all, fadeFrames } = overlay;
  const alpha = `yuva${output.chroma.replaceAll(':', '')}p${output.bits === 10 ? '10le' : ''}`;
  const frameS = output.rate.den / output.rate.num;
  const fade = (way: 'in' | 'out', start: number) =>
    `fade=t=${way}:st=${num(start * frameS)}:d=${num(fadeFrames * frameS)}:alpha=1`;
  const words = [
    ...widened(output).map((one) => one.replace('gbrp12le', 'gbrap12le')),
    `scale=flags=accurate_rnd+full_chroma_inp:out_color_matrix=${matrixOf(output)}:out_range=tv`,
    `format=${alpha}`,
    'loop=loop=-1:size=1:start=0',
    `trim=end_frame=${all}`,
    // Each frame at its middle, so that it comes as it goes.
    `settb=1/1000000,setpts=(N+0.5)*${num(frameS * 1e6)}`,
    ...(fadeFrames > 0 ? [fade('in', 0), fade('out', all - fadeFrames)] : []),
    `settb=${output.rate.den}/${output.rate.num},setpts=N`,
    `trim=start_frame=${skip}:end_frame=${skip + frames}`,
    `setpts=PTS-STARTPTS+${startFrame}`,
  ];
  const format = formats[`${output.chroma} ${output.bits}`];
  return `[${index + 1}:v]${words.join(',')}[t${index}];[v${index}][t${index}]overlay=x=${x}:y=${y}:eof_action=pass:format=${format}[v${index + 1}]`;
}

const formats: Readonly<Record<string, string>> = {
  '4:2:0 8': 'yuv420',
  '4:2:2 8': 'yuv422',
  '4:4:4 8': 'yuv444',
  '4:2:0 10': 'yuv420p10',
  '4:2:2 10': 'yuv422p10',
};

// -- picture ---------------------------------------------------------------------------------------------------------

function pictureCodec(output: Output, threads: number): string[] {
  const { codec, isDraft, bitrateBps, level } = output;
  const rate = isDraft || bitrateBps === undefined ? quality(codec, isDraft) : bitrate(bitrateBps);
  const all = ['-threads', String(threads)];
  switch (codec) {
    case 'h265': {
      const params = [
        'log-level=error',
        `pools=${threads}`,
        'frame-threads=1',
        ...(output.tier === 'high' ? ['high-tier=1'] : ['high-tier=0']),
      ];
      if (level) params.push(`level-idc=${levelName(level)}`);
      const profile = [
        '-profile:v',
        { 'main-10': 'main10', 'main-4-2-2-10': 'main422-10' }[output.profile ?? ''] ?? h265Profile(output),
      ];
      const tag = output.container === 'webm' ? [] : ['-tag:v', 'hvc1'];
      return [
        '-c:v',
        'libx265',
        '-preset',
        isDraft ? 'ultrafast' : 'medium',
        ...profile,
        ...rate,
        '-x265-params',
        params.join(':'),
        ...tag,
      ];
    }
    case 'av1':
      return ['-c:v', 'libsvtav1', '-preset', isDraft ? '12' : '8', ...rate, ...all];
    case 'vp9':
      return [
        '-c:v',
        'libvpx-vp9',
        '-deadline',
        isDraft ? 'realtime' : 'good',
        '-cpu-used',
        isDraft ? '8' : '4',
        ...rate,
        ...all,
      ];
    default: {
      const profile = h264Profiles[output.profile ?? ''];
      return [
        ...['-c:v', 'libx264', '-preset', isDraft ? 'veryfast' : 'medium', ...rate, ...all],
        ...(profile ? ['-profile:v', profile] : []),
        ...(level ? ['-level:v', levelName(level)] : []),
      ];
    }
  }
}

const h264Profiles: Readonly<Record<string, string>> = {
  baseline: 'baseline',
  main: 'main',
  high: 'high',
  'high-10': 'high10',
  'high-4-2-2': 'high422',
};

function h265Profile({ bits, chroma }: Output): string {
  if (chroma === '4:2:0') return bits === 8 ? 'main' : 'main10';
  return `main${chroma.replaceAll(':', '')}-${bits === 8 ? '8' : '10'}`;
}

/** On average what is planned, and a second of it at most at once. */
function bitrate(bps: number): string[] {
  const text = String(Math.round(bps));
  return ['-b:v', text, '-maxrate', text, '-bufsize', text];
}

/** Where no bitrate is planned, or for a draft: as good as looks well. */
function quality(codec: string, isDraft: boolean): string[] {
  const crf = codec === 'h264' || codec === 'h265' ? (isDraft ? 26 : 17) : isDraft ? 40 : 28;
  return codec === 'vp9' ? ['-b:v', '0', '-crf', String(crf)] : ['-crf', String(crf)];
}

// -- sound -----------------------------------------------------------------------------------------------------------

function soundInput({ name, sampleRate, channels }: SoundFile): string[] {
  return ['-f', 'f32le', '-ar', String(sampleRate), '-ac', String(channels), '-i', `file:${name}`];
}

function soundCodec({ gainDb, bitrateBps, sampleRate }: SoundFile, { container }: Output): string[] {
  const codec = container === 'webm' ? 'libopus' : 'aac';
  const gain = gainDb === 0 ? [] : ['-af', `volume=${num(gainDb)}dB:precision=double`];
  return [...gain, '-c:a', codec, '-b:a', String(bitrateBps), '-ar', String(codec === 'libopus' ? 48_000 : sampleRate)];
}
