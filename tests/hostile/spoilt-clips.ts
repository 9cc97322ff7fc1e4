/** Containers spoilt at random: bits, lengths, counts, cuts, loops and very long tags. */
import { bytesOf, madeClip, pictureClip, together } from '../helpers/clips.ts';
import { Random } from './random.ts';

/** Whole ones of each container, to be spoilt. */
export function wholeClips(): readonly { readonly name: string; readonly bytes: Buffer }[] {
  const small = { raster: '64x36', seconds: 1 } as const;
  const plain = () => pictureClip({ ...small, sound: 1, clock: '2026-12-02T10:00:00Z' });
  const again = (...how: string[]) => madeClip('mp4', ['-i', plain(), '-c', 'copy', '-movflags', ...how]);
  const all: readonly (readonly [string, () => string])[] = [
    ['plain.mp4', plain],
    ['index-first.mp4', () => again('+faststart')],
    ['fragments.mp4', () => again('frag_keyframe+empty_moov')],
    ['uneven.mp4', () => pictureClip({ ...small, rate: '30', ticks: 'N*3000+mod(N*37\\,90)' })],
    ['ten-bits.mov', () => pictureClip({ ...small, codec: 'libx265', pixels: 'yuv420p10le', ending: 'mov' })],
    [
      'intra.mov',
      () => pictureClip({ ...small, codec: 'prores_ks', pixels: 'yuv422p10le', ending: 'mov', seconds: 0.2 }),
    ],
    ['fields.mov', () => pictureClip({ ...small, codec: 'mpeg2video', ending: 'mov' })],
    ['turned.mp4', () => pictureClip({ ...small, turned: 90 })],
    ['clip.webm', () => pictureClip({ ...small, codec: 'libvpx-vp9', ending: 'webm' })],
    ['clip.mkv', () => pictureClip({ ...small, ending: 'mkv', sound: 2 })],
    ['sound.wav', () => madeClip('wav', ['-f', 'lavfi', '-i', 'sine=duration=0.2:sample_rate=48000'])],
  ];
  const files = together(all.map(([, ask]) => ask));
  return all.map(([name], index) => ({ name, bytes: bytesOf(files[index]!) }));
}

type Spoil = (bytes: Buffer, random: Random) => Buffer;

/** What stands for much, for nothing, and for less than nothing. */
const odd = [0, 1, 7, 8, 16, 0x7f, 0xff, 0xffff, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff];
const boxes = ['moov', 'trak', 'mdia', 'minf', 'stbl', 'stsd', 'stts', 'ctts', 'stsz', 'stco', 'stsc', 'stss', 'elst'];
const more = [
  'tkhd',
  'mdhd',
  'mvhd',
  'hdlr',
  'avcC',
  'hvcC',
  'colr',
  'fiel',
  'udta',
  'meta',
  'ilst',
  'moof',
  'traf',
  'trun',
];
const names = [...boxes, ...more];

const ways: Readonly<Record<string, Spoil>> = {
  bits: (bytes, random) =>
    each(bytes, random, 1 + random.below(12), (out, at) => out.writeUInt8(random.below(256), at)),
  words: (bytes, random) => each(bytes, random, 1 + random.below(6), (out, at) => writeWord(out, at, random.of(odd))),
  counts: (bytes, random) => {
    // Lengths and counts stand within 24 bytes behind a name.
    const at = nameIn(bytes, random);
    if (at === undefined) return ways['words']!(bytes, random);
    const out = Buffer.from(bytes);
    writeWord(out, at + random.of([-4, 4, 8, 12, 16, 20, 24]), random.of(odd));
    return out;
  },
  renamed: (bytes, random) => {
    const at = nameIn(bytes, random);
    if (at === undefined) return ways['bits']!(bytes, random);
    const out = Buffer.from(bytes);
    out.write(random.of(names), at, 'latin1');
    return out;
  },
  cut: (bytes, random) => bytes.subarray(0, random.below(bytes.length)),
  gone: (bytes, random) => {
    const at = random.below(bytes.length);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + random.below(200))]);
  },
  twice: (bytes, random) => {
    const at = random.below(bytes.length);
    const part = bytes.subarray(at, at + random.below(4000));
    return Buffer.concat([bytes.subarray(0, at), part, part, bytes.subarray(at)]);
  },
  nested: (bytes, random) => {
    const depth = 1 + random.below(2000);
    const open = Array.from({ length: depth }, (_, index) =>
      box(random.of(['moov', 'trak', 'udta', 'meta']), 8 * (depth - index)),
    );
    return Buffer.concat([bytes.subarray(0, 32), ...open, bytes.subarray(32)]);
  },
  many: (bytes, random) => {
    const count = 1 + random.below(60_000);
    return Buffer.concat([
      bytes.subarray(0, 32),
      Buffer.alloc(8 * count, box(random.of(['free', 'trak', 'moof']), 8)),
      bytes.subarray(32),
    ]);
  },
  tags: (bytes, random) => {
    const tag = Buffer.alloc(10 * 1024 * 1024, random.of(['x', '\0', '\u00e9']));
    const whole = Buffer.concat([box(random.of(['udta', 'meta', 'moov', 'ilst']), 8 + tag.length), tag]);
    return random.below(2) === 0 ? Buffer.concat([bytes, whole]) : insideMoov(bytes, whole);
  },
};

/** How often each is tried: what makes ten megabytes less often. */
const weights: readonly (keyof typeof ways)[] = Object.keys(ways).flatMap((way) =>
  Array.from({ length: way === 'tags' ? 1 : way === 'many' || way === 'nested' ? 4 : 20 }, () => way),
);

export function spoiltClip(bytes: Buffer, random: Random): { readonly way: string; readonly bytes: Buffer } {
  const used = Array.from({ length: 1 + random.below(3) }, () => random.of(weights));
  return {
    way: used.join('+'),
    bytes: used.reduce((out, way) => (out.length === 0 ? out : ways[way]!(out, random)), bytes),
  };
}

function each(bytes: Buffer, random: Random, times: number, change: (out: Buffer, at: number) => void): Buffer {
  const out = Buffer.from(bytes);
  for (let time = 0; time < times; time++) change(out, place(out, random));
  return out;
}

/** Mostly where the index is and not the media. */
function place(bytes: Buffer, random: Random): number {
  const moov = bytes.indexOf('moov', 0, 'latin1');
  const [from, span] =
    moov >= 0 && random.below(4) > 0 ? [moov, Math.min(2500, bytes.length - moov)] : [0, bytes.length];
  const head = random.below(5) === 0 ? Math.min(64, bytes.length) : span;
  return head === span ? from + random.below(span) : random.below(head);
}

function writeWord(out: Buffer, at: number, value: number): void {
  if (at >= 0 && at + 4 <= out.length) out.writeUInt32BE(value, at);
}

function nameIn(bytes: Buffer, random: Random): number | undefined {
  for (let tries = 0; tries < 8; tries++) {
    const at = bytes.indexOf(random.of(names), 0, 'latin1');
    if (at >= 0) return at;
  }
  return undefined;
}

function box(name: string, length: number): Buffer {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(length);
  head.write(name, 4, 'latin1');
  return head;
}

function insideMoov(bytes: Buffer, whole: Buffer): Buffer {
  const at = bytes.indexOf('moov', 0, 'latin1');
  if (at < 4) return Buffer.concat([bytes, whole]);
  const head = Buffer.from(bytes.subarray(0, at + 4));
  head.writeUInt32BE((bytes.readUInt32BE(at - 4) + whole.length) >>> 0, at - 4);
  return Buffer.concat([head, whole, bytes.subarray(at + 4)]);
}
