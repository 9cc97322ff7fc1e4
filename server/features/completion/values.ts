/** Values that come into question at a field, the likeliest first, and what each would mean. The rules judge them after. */
import type { Film, Shot } from '../../core/film.ts';
import type { FieldPath } from '../../core/schema/fields.ts';
import * as camera from './cameraValues.ts';
import * as edit from './editValues.ts';
import * as light from './lightValues.ts';

export interface Asked {
  readonly film: Film;
  readonly path: FieldPath;
  /** The shots that the value bears on; one of the film where it is not known which. */
  readonly shots: readonly Shot[];
}

export interface Values {
  texts(asked: Asked): readonly string[];
  /** What a value means, told by the film as it would be with it; empty where nothing is known. */
  note(asked: Asked, text: string): string;
}

/** The values of a field; undefined where none are better than others. */
export function valuesAt(path: FieldPath): Values | undefined {
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

const tables: Readonly<Record<string, Values | undefined>> = {
  'camera.shutter': camera.shutter,
  'camera.aperture': camera.aperture,
  'camera.iso': camera.iso,
  'camera.white-balance': camera.whiteBalance,
  'camera.distance': camera.distance,
  'camera.focal': camera.focal,
  'camera.raster': camera.raster,
  'camera.rate': camera.rate,
  'camera.colour-space': camera.colourSpace,
  'backdrop.refresh': camera.refresh,
  'lamps.level': light.level,
  'lamps.distance': light.distance,
  'lamps.temperature': light.temperature,
  'music.tempo': edit.tempo,
  'cut.length': edit.length,
  'cut.zoom': edit.zoom,
  'titles.at': edit.at,
  'sounds.at': edit.at,
  'titles.hold': edit.hold,
  'deliver.bitrate': edit.bitrate,
  'deliver.codec-level': edit.codecLevel,
};
