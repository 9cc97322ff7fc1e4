import { zoomHeadroom } from '../../calc/framing.ts';
import {
  again,
  alike,
  clipNames,
  type Fault,
  places,
  type RecordedTake,
  recordedClips,
} from '../../core/derived/recorded-clips.ts';
import { pictureRaster } from '../../core/derived/optics.ts';
import type { Film, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, num, percentText, rasterText } from '../../core/say.ts';
import type { Raster } from '../../core/units.ts';
import { sayRecorded } from './say-recorded.ts';

export default defineRule({
  id: 'recorded-too-small',
  family: 'takes',
  summary: 'A clip has fewer pixels than its shot plans, so less can be cropped.',
  severity: 'warning',
  sources: ['arithmetic: recorded pixels of the deliverable’s shape by those delivered'],
  messages: {
    small:
      '{clips}: {raster} where {planned} is planned{left}. Set the camera to {planned} and {again}, or show more of the picture.',
  },
  sheet(sheet, { film, footage, report }) {
    const faults = recordedClips(sheet, footage).flatMap((of) => faultOf(of) ?? []);
    for (const same of alike(faults)) {
      const [{ of, planned, raster }] = same as [SmallFault];
      report({
        message: 'small',
        data: {
          clips: clipNames(same),
          raster: rasterText(raster),
          planned: planned.text,
          left: left(same, film),
          again,
        },
        at: of.clip,
        excess: (planned.value.width * planned.value.height) / (raster.width * raster.height),
        shot: of.take.shot,
        related: places(same, planned),
        fixes: [sayRecorded(`${rasterText(raster)} was`, same, 'raster', (one) => rasterText(one.raster))],
      });
    }
  },
});

interface SmallFault extends Fault {
  readonly planned: Val<Raster>;
  /** Lying, as a plan says it. */
  readonly raster: Raster;
}

function faultOf(of: RecordedTake): SmallFault | undefined {
  const planned = of.take.asSet?.camera.raster;
  if (!planned || !of.video) return undefined;
  const [long, short] = sides(of.video.raster);
  const [plannedLong, plannedShort] = sides(planned.value);
  // Some codecs round up to whole blocks, and some cameras down: nobody crops by so little.
  if (long >= plannedLong * roundedShare && short >= plannedShort * roundedShare) return undefined;
  const lies = planned.value.width >= planned.value.height;
  const raster = lies ? { width: long, height: short } : { width: short, height: long };
  return { of, planned, raster, key: `${rasterText(raster)} ${planned.text}` };
}

const roundedShare = 0.985;

function sides({ width, height }: Raster): [long: number, short: number] {
  return [Math.max(width, height), Math.min(width, height)];
}

const mostNamed = 4;
/** Less than that is none. */
const noZoom = 1.02;

/** How far each deliverable of the shots can still zoom in, with a recorded pixel for each delivered one. */
function left(faults: readonly SmallFault[], film: Film): string {
  const pieces = new Set(faults.flatMap(({ of }) => of.take.shot?.pieces ?? []));
  const texts = [...film.deliverables.values()]
    .filter((one) => one.raster && one.pieces.some((piece) => pieces.has(piece)))
    .map(({ name, raster }) => {
      const [{ of, raster: recorded }] = faults as [SmallFault];
      const shown = pictureRaster({ ...of.take.asSet!.camera, raster: { ...faults[0]!.planned, value: recorded } })!;
      const zoom = zoomHeadroom(pixels(shown), pixels(raster!.value));
      if (zoom < 1) return `\`${name}\` is enlarged by ${percentText(1 / zoom - 1)} before any zoom`;
      return zoom < noZoom ? `\`${name}\` has no zoom left` : `\`${name}\` can zoom in to ${num(zoom, 2)}`;
    });
  return texts.length === 0 ? '' : `: ${listText(texts.slice(0, mostNamed))}`;
}

function pixels({ width, height }: Raster): { widthPx: number; heightPx: number } {
  return { widthPx: width, heightPx: height };
}
