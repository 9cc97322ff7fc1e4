/** Values that come into question at a field, the likeliest first, and what each would mean. The rules judge them after. */
import type { FieldPath } from '../../core/schema/fields.ts';
import * as camera from './camera-values.ts';
import * as edit from './edit-values.ts';
import type { FieldValues } from './field-values.ts';
import * as light from './light-values.ts';

/** The values of a field; undefined where none are better than others. */
export function valuesAt(path: FieldPath): FieldValues | undefined {
  const key = path.at(-1);
  const block = path.findLast((step, index) => index < path.length - 1 && blocks.has(step));
  return tables[`${block}.${key}`];
}

const blocks: ReadonlySet<unknown> = new Set([
  'camera',
  'lamps',
  'backdrop',
  'room',
  'music',
  'cut',
  'titles',
  'sounds',
  'deliver',
]);

const tables: Readonly<Record<string, FieldValues | undefined>> = {
  'camera.shutter': camera.shutter,
  'camera.aperture': camera.aperture,
  'camera.iso': camera.iso,
  'camera.white-balance': camera.whiteBalance,
  'camera.distance': camera.distance,
  'camera.focal': camera.focal,
  'camera.focus': camera.focus,
  'camera.raster': camera.raster,
  'camera.rate': camera.rate,
  'camera.colour-space': camera.colourSpace,
  'backdrop.refresh': camera.refresh,
  'lamps.level': light.level,
  'lamps.distance': light.distance,
  'lamps.temperature': light.temperature,
  'music.tempo': edit.tempo,
  'music.first-beat': edit.firstBeat,
  'music.length': edit.musicLength,
  'cut.length': edit.length,
  'cut.zoom': edit.zoom,
  'titles.at': edit.at,
  'sounds.at': edit.at,
  'titles.hold': edit.hold,
  'titles.letters': edit.letters,
  'deliver.bitrate': edit.bitrate,
  'deliver.codec-level': edit.codecLevel,
};
