import { defineRule } from '../../core/rule.ts';
import { quoted, secondsText } from '../../core/say.ts';
import type { Recording, Sheets, Take } from '../../core/takes.ts';
import { otherTake } from './other-take.ts';

export default defineRule({
  id: 'clip-used-twice',
  family: 'takes',
  summary: 'Two takes are the same clip, or parts of it that overlap.',
  severity: 'warning',
  sources: ['the format itself: a take is one run of one shot'],
  messages: {
    whole:
      '{clip} is a take of {shot} already. If it holds several takes, say with `part` where each lies; if the camera started its numbers again, give the sheet of that day its own `folder`.',
    overlap:
      'This part of {clip} and the one of {shot} overlap by {both}: two takes can’t be at one time. Mend where one starts or ends.',
    itself: '{clip} stands twice in one recording: take one out.',
  },
  take(take, { sheets, report }) {
    const twice = take.clips.find((clip, index) => take.clips.findIndex((one) => one.value === clip.value) < index);
    if (twice) report({ message: 'itself', data: { clip: quoted(twice.text) }, at: twice });
    for (const clip of take.clips) {
      const other = before(take, clip, sheets).find((one) => overlapS(one, take) > 0);
      if (!other) continue;
      const data = { clip: quoted(clip.text), shot: quoted(other.shotName.text) };
      const related = [otherTake(other, 'the other take')];
      const excess = overlapS(other, take);
      if (Number.isFinite(excess))
        report({
          message: 'overlap',
          data: { ...data, both: secondsText(excess) },
          at: take.part ?? clip,
          related,
          excess,
        });
      else report({ message: 'whole', data, at: take.part ?? clip, related, excess });
      return;
    }
  },
});

/** The takes before this one that hold the same clip, in the order of the sheets. */
function before(take: Take, clip: Recording, sheets: Sheets): Take[] {
  const all = takesByClip(sheets).get(clip.value) ?? [];
  return all.slice(0, all.indexOf(take));
}

const known = new WeakMap<Sheets, ReadonlyMap<string, readonly Take[]>>();

function takesByClip(sheets: Sheets): ReadonlyMap<string, readonly Take[]> {
  const found = known.get(sheets);
  if (found) return found;
  const all = new Map<string, Take[]>();
  for (const take of sheets.flatMap(({ takes }) => takes)) {
    for (const path of new Set(take.clips.map(({ value }) => value))) {
      const takes = all.get(path);
      if (takes) takes.push(take);
      else all.set(path, [take]);
    }
  }
  known.set(sheets, all);
  return all;
}

/** Endless where both are the whole clip, or one is. */
function overlapS(a: Take, b: Take): number {
  const [one, other] = [a.part?.value, b.part?.value];
  if (!one || !other) return Infinity;
  return Math.min(one.to, other.to) - Math.max(one.from, other.from);
}
