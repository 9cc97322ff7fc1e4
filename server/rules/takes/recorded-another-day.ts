import {
  alike,
  clipNames,
  type Fault,
  places,
  type RecordedTake,
  recordedClips,
} from '../../core/derived/recorded-clips.ts';
import type { Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText } from '../../core/say.ts';

export default defineRule({
  id: 'recorded-another-day',
  family: 'takes',
  summary: 'The clock of a clip shows another day than its sheet.',
  severity: 'info',
  sources: ['ISO/IEC 14496-12, 8.2.2: the time of creation', 'common practice, no source'],
  messages: {
    other:
      '{clips}: recorded on {recorded} by the clock in the file, and the sheet says {said}. Is it a clip of the same name from another day, or was the camera’s clock wrong?',
    all: 'All clips of this sheet were recorded on {recorded} by the clocks in the files, and the sheet says {said}. Correct the day here, or set the clock of the camera before the next.',
  },
  sheet(sheet, { footage, report }) {
    const all = recordedClips(sheet, footage);
    const faults = all.flatMap((of) => faultOf(of) ?? []);
    for (const same of alike(faults)) {
      const [{ of, recorded, said }] = same as [DayFault];
      const data = { recorded, said: said.text };
      const isAll = same.length > 1 && same.length === all.length && said === sheet.day;
      const common = { shot: of.take.shot, related: places(same, said === sheet.day ? undefined : said) };
      if (!isAll) report({ message: 'other', data: { ...data, clips: clipNames(same) }, at: of.clip, ...common });
      else {
        const edits = [{ start: said.start, end: said.end, text: recorded }];
        report({
          message: 'all',
          data,
          at: said,
          fixes: [{ title: `Say that it was ${recorded}`, edits }],
          shot: of.take.shot,
        });
      }
    }
  },
});

interface DayFault extends Fault {
  readonly recorded: string;
  readonly said: Val<number>;
}

const dayMs = 86_400_000;
const hourMs = 3_600_000;
/** A clock of which nobody knows the zone may be off from the hour of the place by so much, either way. */
const zonesMs = 14 * hourMs;
/** Who works past midnight is still on the day of the sheet. */
const nightMs = 6 * hourMs;

function faultOf(of: RecordedTake): DayFault | undefined {
  const { take, facts } = of;
  const [first] = facts;
  const said = take.day;
  if (!said || first?.recordedAtMs === undefined) return undefined;
  const unsureMs = first.clockIsLocal ? 0 : zonesMs;
  const [from, to] = [said.value * dayMs - unsureMs, (said.value + 1) * dayMs + nightMs + unsureMs];
  if (first.recordedAtMs >= from && first.recordedAtMs < to) return undefined;
  const recorded = dateText(Math.floor(first.recordedAtMs / dayMs));
  return { of, recorded, said, key: `${recorded} ${said.value}` };
}
