import {
  again,
  alike,
  clipNames,
  type Fault,
  places,
  type RecordedTake,
  recordedClips,
} from '../../core/derived/recorded-clips.ts';
import { recordedBits } from '../../core/derived/recorded.ts';
import type { Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { sayRecorded } from './say-recorded.ts';

export default defineRule({
  id: 'recorded-codec-off',
  family: 'takes',
  summary: 'A clip has fewer bits or coarser colour than its shot plans, or another codec than the plan names.',
  severity: 'warning',
  sources: ['ISO/IEC 14496-15: what the decoder configuration says', 'common practice, no source'],
  messages: {
    bits: '{clips}: {found} bits a sample where {planned} are planned, so smooth backdrops show steps{log} once they are graded. Set the camera to {planned} bits and {again}.',
    chroma:
      '{clips}: colour is sampled {found} where the planned mode has {planned}: edges of strong colours are coarser when they are keyed or graded. Choose the planned mode and {again}.',
    codec:
      '{clips}: recorded as {found} where {planned} is planned. Nothing is lost by that alone: see that what edits the film reads it, and that the cards are large enough.',
  },
  sheet(sheet, { footage, report }) {
    const faults = recordedClips(sheet, footage).flatMap((of) => faultOf(of) ?? []);
    for (const same of alike(faults)) {
      const [{ of, what, found, planned, at }] = same as [CodecFault];
      const common = { at: of.clip, shot: of.take.shot, related: places(same, at) };
      const data = { clips: clipNames(same), found, planned, again };
      const take = (key: string) => [
        sayRecorded(`${found} ${key === 'bits' ? 'bits were' : 'was'}`, same, key, () => found),
      ];
      const log = of.take.asSet?.camera.colourSpace?.value === 'log' ? ', all the more in log,' : '';
      if (what === 'bits') report({ message: 'bits', data: { ...data, log }, fixes: take('bits'), ...common });
      else if (what === 'chroma') report({ message: 'chroma', data, severity: 'info', ...common });
      else report({ message: 'codec', data, severity: 'info', fixes: take('codec'), ...common });
    }
  },
});

interface CodecFault extends Fault {
  readonly what: 'bits' | 'chroma' | 'codec';
  readonly found: string;
  readonly planned: string;
  readonly at?: Val<unknown>;
}

const chromas = ['4:2:0', '4:2:2', '4:4:4'];
/** Codecs in which every frame stands alone, which a plan calls `intra`. */
const intra = new Set(['prores', 'mjpeg', 'dnxhd', 'dnxhr']);

/** What weighs most of what is off: one camera mode, one finding. */
function faultOf(of: RecordedTake): CodecFault | undefined {
  const { video, take } = of;
  const shot = take.asSet;
  if (!video || !shot) return undefined;
  const { camera } = shot;
  const fault = (what: CodecFault['what'], found: string | number, planned: string | number, at?: Val<unknown>) => ({
    of,
    what,
    found: String(found),
    planned: String(planned),
    ...(at && { at }),
    key: `${what} ${found} ${planned}`,
  });
  const bits = recordedBits(shot);
  if (bits !== undefined && video.bits !== undefined && video.bits < bits)
    return fault('bits', video.bits, bits, camera.bits);
  const chroma = camera.mode?.chroma;
  if (
    chroma &&
    video.chroma &&
    chromas.indexOf(video.chroma) >= 0 &&
    chromas.indexOf(video.chroma) < chromas.indexOf(chroma)
  )
    return fault('chroma', video.chroma, chroma);
  // A codec that only the kit names may be any of several modes.
  const codec = camera.codec;
  if (
    codec &&
    known.has(video.codec) &&
    codec.value !== (intra.has(video.codec) ? 'intra' : video.codec) &&
    codec.value !== 'intra'
  )
    return fault('codec', intra.has(video.codec) ? 'intra' : video.codec, codec.value, codec);
  return undefined;
}

const known = new Set(['h264', 'h265', ...intra]);
