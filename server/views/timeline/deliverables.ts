/** What each deliverable uses of the film. */
import type { Deliverable, Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import type { Bar } from './bar.ts';

/** Those that use the same stretch share a bar. */
export function deliverableBars(film: Film): Bar[] {
  const byStretch = new Map<string, { readonly from: Seconds; readonly to: Seconds; readonly all: Deliverable[] }>();
  for (const one of film.deliverables.values()) {
    const span = one.sectionS ?? (film.cutS === undefined ? undefined : { from: 0, to: film.cutS });
    if (!span) continue;
    const key = `${span.from} ${span.to}`;
    const same = byStretch.get(key);
    if (same) same.all.push(one);
    else byStretch.set(key, { from: span.from, to: span.to, all: [one] });
  }
  return [...byStretch.values()].map(({ from, to, all }) => ({
    fromS: from,
    toS: to,
    words: `${all.map(words).join('; ')}, ${say.secondsText(to - from)}`,
    ranges: all.flatMap((one) => [one.length, one.section, one.longest, one]),
  }));
}

function words({ name, raster }: Deliverable): string {
  return [name, raster && say.rasterText(raster.value)].filter(Boolean).join(', ');
}
