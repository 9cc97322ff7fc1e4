import {
  again,
  alike,
  clipNames,
  type Fault,
  places,
  type RecordedTake,
  recordedClips,
} from '../../core/derived/recorded-clips.ts';
import { defineRule } from '../../core/rule.ts';
import { rasterText } from '../../core/say.ts';

export default defineRule({
  id: 'recorded-turned',
  family: 'takes',
  summary: 'A clip stands upright, lies or is marked upside down otherwise than its shot plans.',
  severity: 'warning',
  sources: ['ISO/IEC 14496-12, 8.3.2: the matrix of a track', 'common practice, no source'],
  messages: {
    upright:
      '{clips}: shown upright, {raster}, where the camera is planned {wayUp}. If it was held so, its turning is wrongly marked: turn the clip before it is cut, and lock the orientation; else {again}.',
    lying:
      '{clips}: shown lying, {raster}, where the camera is planned on its side and other clips of this sheet stand upright. If it was held so, its turning is wrongly marked: turn the clip before it is cut, and lock the orientation; else {again}.',
    upsideDown:
      '{clips}: marked as upside down where the camera is planned {wayUp}, as a phone marks it that looks straight down. Look at which side is up, turn the clip before it is cut where it is wrong, and lock the orientation.',
  },
  sheet(sheet, { footage, report }) {
    const all = recordedClips(sheet, footage);
    // Many cameras mark no turning at all: that a clip lies says something only where the same day has others that stand.
    const marksTurning = all.some(({ video }) => video && video.rotationDeg % 180 !== 0);
    const faults = all.flatMap((of) => faultOf(of, marksTurning) ?? []);
    for (const same of alike(faults)) {
      const [{ of, what, wayUp }] = same as [TurnFault];
      const data = { clips: clipNames(same), raster: rasterText(of.video!.raster), wayUp, again };
      const related = places(same, of.take.asSet?.camera.wayUpAt);
      report({ message: what, data, at: of.clip, shot: of.take.shot, related });
    }
  },
});

interface TurnFault extends Fault {
  readonly what: 'upright' | 'lying' | 'upsideDown';
  readonly wayUp: string;
}

const wayUpWords = { upright: 'upright', 'upside-down': 'upside down', 'on-its-side': 'on its side' } as const;

function faultOf(of: RecordedTake, marksTurning: boolean): TurnFault | undefined {
  const { video, take } = of;
  const camera = take.asSet?.camera;
  if (!video || !camera?.raster) return undefined;
  const { wayUp, raster } = camera;
  const plannedStands = wayUp === 'on-its-side' ? raster.value.width > raster.value.height : isTall(raster.value);
  const stands = isTall(video.raster);
  const fault = (what: TurnFault['what']) => ({ of, what, wayUp: wayUpWords[wayUp], key: `${what} ${wayUp}` });
  if (stands && !plannedStands) return fault('upright');
  if (!stands && plannedStands && marksTurning && video.rotationDeg % 180 === 0) return fault('lying');
  return video.rotationDeg === 180 && wayUp === 'upright' ? fault('upsideDown') : undefined;
}

function isTall({ width, height }: { width: number; height: number }): boolean {
  return height > width;
}
