/** One picture among those of a shot: its words, its shape, and what draws it. */
import type { Piece } from '../../core/film.ts';
import type { Raster } from '../../core/units.ts';
import { Ground } from '../ground.ts';
import { type Label, placeLabels } from '../labels.ts';
import type { Place } from '../picture.ts';
import { cornersOf, type Frame } from '../shapes.ts';
import { type El, ink, polygon } from '../svg.ts';

export interface Panel extends Place {
  readonly raster: Raster;
  readonly head: string;
  readonly sub: string;
  readonly foot: readonly string[];
  readonly piece?: Piece;
  draw(frame: Frame): El[];
}

/** Lines of a picture, and the names that stand in it. */
export interface Seen {
  readonly drawn: readonly El[];
  readonly labels: readonly Label[];
}

/** Everything in its frame, each name where nothing is drawn. */
export function framed(frame: Frame, all: readonly Seen[]): El[] {
  const drawn = [...all.flatMap((one) => one.drawn), border(frame)];
  const ground = new Ground(frame);
  ground.draw(drawn);
  return [
    ...drawn,
    ...placeLabels(
      all.flatMap((one) => one.labels),
      ground,
    ).drawn,
  ];
}

function border(frame: Frame): El {
  return polygon(cornersOf(frame), { stroke: ink.ink, 'stroke-width': 2 });
}
