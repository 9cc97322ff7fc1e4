import { again, alike, clipNames, places, recordedClips } from '../../core/derived/recorded-clips.ts';
import { defineRule } from '../../core/rule.ts';

export default defineRule({
  id: 'recorded-interlaced',
  family: 'takes',
  summary: 'A clip holds two half pictures in each frame.',
  severity: 'warning',
  sources: ['QuickTime File Format, field handling', 'common practice, no source'],
  messages: {
    fields:
      '{clips}: each frame holds two half pictures, taken one after the other: what moves has combs at its edges, and half of the lines go when they are mended. Set the camera to whole frames (marked p, not i) and {again}.',
  },
  sheet(sheet, { footage, report }) {
    const faults = recordedClips(sheet, footage).flatMap((of) => (of.video?.interlaced ? [{ of, key: 'fields' }] : []));
    for (const same of alike(faults)) {
      const { of } = same[0]!;
      const related = places(same, undefined);
      report({ message: 'fields', data: { clips: clipNames(same), again }, at: of.clip, shot: of.take.shot, related });
    }
  },
});
