/**
 * What a codec's configuration says, in the words of the format: profile, level, tier, bits and chroma. From the record
 * that the container keeps where there is one (ISO/IEC 14496-15), else from the codec string (RFC 6381 and the codecs'
 * own registrations).
 */

export interface CodecWords {
  readonly codec: string;
  readonly profile?: string;
  readonly level?: string;
  readonly tier?: string;
  readonly bits?: number;
  readonly chroma?: string;
}

const chromas = ['4:0:0', '4:2:0', '4:2:2', '4:4:4'];

/**
 * @param codec a codec string, such as `avc1.640028`; where there is none, the container's own name
 * @param record the decoder's configuration, where the container keeps one
 */
export function codecWords(codec: string, record: Uint8Array | undefined): CodecWords {
  const [name = '', ...parts] = codec.split('.');
  if (/^avc[1-4]$/.test(name)) return h264(parts[0] ?? '', record);
  if (/^(hvc1|hev1|dvh1|dvhe)$/.test(name)) return h265(parts, record);
  if (name === 'av01') return av1(parts);
  if (name === 'vp09') return vp9(parts);
  if (/^ap(4h|4x|ch|cn|cs|co)$/.test(name)) return prores(name);
  return { codec: otherNames[name] ?? name };
}

const otherNames: Readonly<Record<string, string>> = {
  jpeg: 'mjpeg',
  mjpa: 'mjpeg',
  mjpb: 'mjpeg',
  mp4v: 'mpeg4',
  vp08: 'vp8',
  m2v1: 'mpeg2',
  AVdn: 'dnxhd',
  AVdh: 'dnxhr',
};

/** Profiles of ITU-R H.264, annex A, with what they hold at most. */
const h264Profiles: Readonly<Record<number, readonly [name: string, bits: number, chroma: string]>> = {
  66: ['baseline', 8, '4:2:0'],
  77: ['main', 8, '4:2:0'],
  88: ['extended', 8, '4:2:0'],
  100: ['high', 8, '4:2:0'],
  110: ['high-10', 10, '4:2:0'],
  122: ['high-4-2-2', 10, '4:2:2'],
  244: ['high-4-4-4', 14, '4:4:4'],
};

function h264(hex: string, record: Uint8Array | undefined): CodecWords {
  const [profile, level] = [Number.parseInt(hex.slice(0, 2), 16), Number.parseInt(hex.slice(4, 6), 16)];
  const [name, bits, chroma] = h264Profiles[profile] ?? [];
  return { codec: 'h264', profile: name, level: h264Level(level), bits, chroma, ...h264Samples(record) };
}

function h264Level(level: number): string | undefined {
  if (!Number.isFinite(level) || level === 0) return undefined;
  return level === 9 ? '1b' : dotted(level / 10);
}

/** Levels are written `4` or `4.1`. */
function dotted(level: number): string {
  return String(Math.round(level * 10) / 10);
}

/** Chroma and bits stand behind the parameter sets, for the profiles that have a choice. */
function h264Samples(record: Uint8Array | undefined): Partial<CodecWords> {
  if (!record || record.length < 7 || record[1]! < 100) return {};
  let at = 5;
  for (const mask of [0x1f, 0xff]) {
    const sets = (record[at++] ?? 0) & mask;
    for (let index = 0; index < sets; index++) at += 2 + (((record[at] ?? 0) << 8) | (record[at + 1] ?? 0));
  }
  if (at + 2 >= record.length) return {};
  return { chroma: chromas[record[at]! & 3], bits: 8 + (record[at + 1]! & 7) };
}

const h265Profiles: Readonly<Record<number, readonly [name: string, bits: number]>> = {
  1: ['main', 8],
  2: ['main-10', 10],
};

function h265([profilePart = '', , levelPart = '']: readonly string[], record: Uint8Array | undefined): CodecWords {
  const profile = Number(/\d+/.exec(profilePart)?.[0]);
  const level = Number(levelPart.slice(1));
  const [bits, chroma] =
    record && record.length >= 23
      ? [8 + (record[17]! & 7), chromas[record[16]! & 3]]
      : [h265Profiles[profile]?.[1], profile in h265Profiles ? '4:2:0' : undefined];
  const name = h265Profiles[profile]?.[0] ?? (chroma === '4:2:2' && bits === 10 ? 'main-4-2-2-10' : undefined);
  return {
    codec: 'h265',
    profile: name,
    level: level > 0 ? dotted(level / 30) : undefined,
    tier: levelPart.startsWith('H') ? 'high' : levelPart.startsWith('L') ? 'main' : undefined,
    bits,
    chroma,
  };
}

/** AV1 codec ISO media file format binding, section 5: profile, level and tier, bits, monochrome, subsampling. */
function av1([profile = '', level = '', bits = '', mono = '', subsampling = '']: readonly string[]): CodecWords {
  const index = Number.parseInt(level, 10);
  const chroma = { '110': '4:2:0', '111': '4:2:0', '112': '4:2:0', '100': '4:2:2', '000': '4:4:4' }[subsampling];
  return {
    codec: 'av1',
    profile: ['main', 'high', 'professional'][Number(profile)],
    level: Number.isFinite(index) ? `${2 + (index >> 2)}.${index & 3}` : undefined,
    tier: level.endsWith('H') ? 'high' : level.endsWith('M') ? 'main' : undefined,
    bits: Number(bits) || undefined,
    chroma: mono === '1' ? '4:0:0' : (chroma ?? (profile === '0' ? '4:2:0' : undefined)),
  };
}

/** VP codec ISO media file format binding: profile, level, bits, subsampling. */
function vp9([profile = '', level = '', bits = '', subsampling = '']: readonly string[]): CodecWords {
  const even = Number(profile) % 2 === 0;
  return {
    codec: 'vp9',
    profile: profile === '' ? undefined : String(Number(profile)),
    level: Number(level) > 0 ? dotted(Number(level) / 10) : undefined,
    bits: Number(bits) || undefined,
    chroma: { '00': '4:2:0', '01': '4:2:0', '02': '4:2:2', '03': '4:4:4' }[subsampling] ?? (even ? '4:2:0' : undefined),
  };
}

function prores(name: string): CodecWords {
  const is4444 = name.startsWith('ap4');
  return { codec: 'prores', profile: name, bits: is4444 ? 12 : 10, chroma: is4444 ? '4:4:4' : '4:2:2' };
}
