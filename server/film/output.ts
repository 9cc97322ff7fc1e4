/** What file a deliverable is, as it is made. */
import type { Deliverable, Film } from '../core/film.ts';
import { quoted } from '../core/say.ts';
import type { Output } from './assembly.ts';

function isKnown(space: string): space is Output['colourSpace'] {
  return space === 'bt709' || space === 'hlg' || space === 'pq';
}

/** Or why it can't be made, in words. */
export function outputOf(deliverable: Deliverable, film: Film, isDraft: boolean): Output | string {
  const name = quoted(deliverable.name);
  const raster = deliverable.raster?.value;
  const rate = (deliverable.rate ?? film.timeline.rate)?.value;
  const { bits, chroma, container, codec, colourSpace } = deliverable;
  if (!raster) return `${name} says no \`raster\`, so how large its picture is is not known.`;
  if (!rate) return `${name} says no \`rate\`, so how many frames it has a second is not known.`;
  if (!isKnown(colourSpace)) return `${name} is ${colourSpace}: films are put together in bt709, hlg and pq.`;
  if (colourSpace !== 'bt709' && bits === 8)
    return `${name} is ${colourSpace.toUpperCase()} in 8 bits, in which its tones show as steps: say \`bits: 10\`, with a codec and profile that have them.`;
  if (container === 'mxf') return `${name} is an MXF file: those are not written yet.`;
  if (bits !== 8 && bits !== 10) return `${name} has ${bits} bits: films are put together with 8 or 10.`;
  const isWebm = container === 'webm';
  if (isWebm !== (codec === 'vp9') && !(isWebm && codec === 'av1'))
    return `${name} is ${codec} in ${container}: no player takes that.`;
  // What is coded has even sides; a draft is half as large.
  const side = (px: number) => Math.max(2, 2 * Math.floor(px / (isDraft ? 4 : 2)));
  return {
    name: deliverable.name,
    raster: { width: side(raster.width), height: side(raster.height) },
    rate,
    container,
    codec,
    ...(deliverable.profile && { profile: deliverable.profile.value }),
    ...(deliverable.codecLevel && { level: deliverable.codecLevel.value }),
    tier: deliverable.tier,
    bits,
    chroma: chroma as Output['chroma'],
    colourSpace,
    ...(deliverable.bitrate && { bitrateBps: deliverable.bitrate.value }),
    isDraft,
  };
}
