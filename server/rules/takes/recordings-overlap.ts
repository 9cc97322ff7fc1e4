import { type RecordedTake, recordedClips } from '../../core/derived/recorded-clips.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'recordings-overlap',
  family: 'takes',
  summary: 'Two clips of one camera were recorded at the same time, or are one recording under two names.',
  severity: 'info',
  sources: ['arithmetic: one camera records one clip at a time'],
  messages: {
    twice:
      '{clip} and {other} have the same length, size and time of recording: one recording counts as two takes. Name it once.',
    overlap:
      '{clip} and {other} overlap by {overlap} by the clocks in the files, which one camera can’t record. Say with `use` which camera made which.',
  },
  sheet(sheet, { footage, film, report }) {
    const all = recordedClips(sheet, footage).filter(({ facts }) => facts[0]?.recordedAtMs !== undefined);
    const inOrder = [...all].sort((a, b) => startMs(a) - startMs(b));
    for (const [index, one] of inOrder.entries()) {
      const before = inOrder.slice(Math.max(0, index - mostBack), index).find((other) => isSameCamera(other, one));
      if (!before) continue;
      const [first, second] = before.clip.start < one.clip.start ? [before, one] : [one, before];
      const data = { clip: quoted(second.clip.text), other: quoted(first.clip.text) };
      const related = [{ start: first.clip.start, end: first.clip.end, message: 'the other clip' }];
      const overlapS = (startMs(before) + lengthMs(before) - startMs(one)) / 1000;
      if (isTwice(before, one)) report({ message: 'twice', data, at: second.clip, severity: 'warning', related });
      // With one camera in the kit it is the clock that is wrong, and nothing comes of that.
      else if (overlapS > roundedS && film.kit.cameras.size > 1)
        report({ message: 'overlap', data: { ...data, overlap: secondsText(overlapS, 0) }, at: second.clip, related });
    }
  },
});

/** So many clips before are looked at. */
const mostBack = 3;
/** Clocks in files count whole seconds, and some are set when a recording starts and some when it is closed. */
const roundedS = 4;

function startMs({ facts }: RecordedTake): number {
  return facts[0]!.recordedAtMs!;
}

function lengthMs({ facts }: RecordedTake): number {
  return facts.reduce((sum, { durationS }) => sum + durationS * 1000, 0);
}

/** As far as one can tell: two that differ in what they record are two cameras, and so are two that the sheet names. */
function isSameCamera(a: RecordedTake, b: RecordedTake): boolean {
  const [first, second] = [a.facts[0]!, b.facts[0]!];
  return (
    a.take.use?.value === b.take.use?.value &&
    first.container === second.container &&
    a.video !== undefined &&
    b.video !== undefined &&
    a.video.codec === b.video.codec &&
    a.video.raster.width === b.video.raster.width &&
    a.video.raster.height === b.video.raster.height
  );
}

function isTwice(a: RecordedTake, b: RecordedTake): boolean {
  const [first, second] = [a.facts[0]!, b.facts[0]!];
  return (
    startMs(a) === startMs(b) &&
    first.bytes === second.bytes &&
    first.durationS === second.durationS &&
    a.clip.value !== b.clip.value
  );
}
