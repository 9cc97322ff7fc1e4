import {
  again,
  alike,
  clipNames,
  type Fault,
  places,
  type RecordedTake,
  recordedClips,
} from '../../core/derived/recorded-clips.ts';
import { recordedSpace } from '../../core/derived/recorded.ts';
import type { ColourMarks } from '../../core/footage.ts';
import { defineRule } from '../../core/rule.ts';
import { sayRecorded } from './say-recorded.ts';

export default defineRule({
  id: 'recorded-colour-off',
  family: 'takes',
  summary: 'The colour marks of a clip name another curve than its shot plans.',
  severity: 'warning',
  sources: ['ITU-T H.273: colour primaries and transfer characteristics', 'ITU-R BT.2100: HLG and PQ'],
  messages: {
    other:
      '{clips}: marked as {found} where {planned} is planned, so it looks {looks} beside the other takes and needs a conversion. Set the camera to {planned} and {again}.',
  },
  sheet(sheet, { footage, report }) {
    const faults = recordedClips(sheet, footage).flatMap((of) => faultOf(of) ?? []);
    for (const same of alike(faults)) {
      const [{ of, found, planned }] = same as [ColourFault];
      const isWide = planned === 'bt709';
      report({
        message: 'other',
        data: {
          clips: clipNames(same),
          found: names[found],
          planned: names[planned],
          looks: isWide ? 'pale and flat' : 'too contrasty and too bright',
          again,
        },
        at: of.clip,
        shot: of.take.shot,
        related: places(same, of.take.asSet?.camera.colourSpace),
        fixes: [sayRecorded(`${found} was`, same, 'colour-space', (one) => one.found)],
      });
    }
  },
});

type Marked = 'bt709' | 'hlg' | 'pq';
const names: Readonly<Record<Marked, string>> = { bt709: 'BT.709', hlg: 'HLG', pq: 'PQ' };

interface ColourFault extends Fault {
  readonly found: Marked;
  readonly planned: Marked;
}

function faultOf(of: RecordedTake): ColourFault | undefined {
  const planned = of.take.asSet && recordedSpace(of.take.asSet);
  const found = of.video && marked(of.video.colour);
  // No container tells a log curve: cameras mark such clips as they like, so nothing is concluded.
  if (!found || !isMark(planned) || found === planned) return undefined;
  return { of, found, planned, key: `${found} ${planned}` };
}

function isMark(space: string | undefined): space is Marked {
  return space === 'bt709' || space === 'hlg' || space === 'pq';
}

const curves: Readonly<Record<string, Marked>> = {
  bt709: 'bt709',
  hlg: 'hlg',
  'arib-std-b67': 'hlg',
  pq: 'pq',
  smpte2084: 'pq',
};

function marked({ transfer }: ColourMarks): Marked | undefined {
  return transfer === undefined || !Object.hasOwn(curves, transfer) ? undefined : curves[transfer];
}
