/** Size and time of each coded picture, and whether there is sound: nothing is decoded for it. */
import { decodeFile, type Ended, type Ffmpeg, type RunLimits } from './ffmpeg.ts';

export interface Packets {
  readonly raster: { readonly width: number; readonly height: number };
  readonly frames: number;
  readonly fps: number;
  readonly durationS: number;
  readonly bitrate: { readonly meanBps: number; readonly mostBps: number };
  /** Where there is none, nobody need look for it a second time. */
  readonly hasSound: boolean;
}

const output = ['-map', '0:V:0', '-map', '0:a:0?', '-sn', '-dn', '-c', 'copy', '-f', 'framecrc'];

/** Reads the packets of the first picture track; undefined without `why` where there is none. */
export async function readPackets(
  program: Ffmpeg,
  file: string,
  limits: RunLimits,
): Promise<Ended & { readonly packets?: Packets }> {
  const chunks: Buffer[] = [];
  const ended = await decodeFile(program, file, { output }, (chunk) => chunks.push(chunk), limits);
  if (ended.noTrack) return {};
  const packets = packetsOf(Buffer.concat(chunks).toString('latin1'));
  return packets ? { packets } : { why: 'holds no pictures that can be read', ...ended };
}

/** Of a list of packets, of which those of stream 0 are pictures: `stream, dts, pts, duration, size, checksum`, after lines that begin with `#`. */
export function packetsOf(list: string): Packets | undefined {
  const [, numerator, denominator] = /^#tb 0: (\d+)\/(\d+)/m.exec(list) ?? [];
  const [, width, height] = /^#dimensions 0: (\d+)x(\d+)/m.exec(list) ?? [];
  if (!numerator || !denominator || !width || !height) return undefined;
  const tick = Number(numerator) / Number(denominator);
  const packets = [...list.matchAll(/^0, *-?\d+, *(-?\d+), *\d+, *(\d+),/gm)]
    .map(([, pts, size]) => ({ atS: Number(pts) * tick, bytes: Number(size) }))
    .sort((a, b) => a.atS - b.atS);
  const [first, last] = [packets[0], packets.at(-1)];
  if (!first || !last || last.atS <= first.atS) return undefined;
  const fps = (packets.length - 1) / (last.atS - first.atS);
  const durationS = packets.length / fps;
  const bytes = packets.reduce((sum, one) => sum + one.bytes, 0);
  const meanBps = (8 * bytes) / durationS;
  return {
    raster: { width: Number(width), height: Number(height) },
    frames: packets.length,
    fps,
    durationS,
    bitrate: { meanBps, mostBps: Math.max(meanBps, 8 * mostInASecond(packets)) },
    hasSound: /^#media_type 1: audio/m.test(list),
  };
}

/** Bytes of the packets that begin within any one second. */
function mostInASecond(packets: readonly { atS: number; bytes: number }[]): number {
  let [most, sum, start] = [0, 0, 0];
  for (const packet of packets) {
    sum += packet.bytes;
    while (packet.atS - packets[start]!.atS >= 1 - 1e-6) sum -= packets[start++]!.bytes;
    most = Math.max(most, sum);
  }
  return most;
}
