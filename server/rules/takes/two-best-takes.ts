import { shotsSoFar } from '../../core/derived/shooting.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import type { Take } from '../../core/takes.ts';
import { otherTake } from './other-take.ts';

export default defineRule({
  id: 'two-best-takes',
  family: 'takes',
  summary: 'Two takes are called the best of one shot, or of one piece of it, so nobody knows which is meant.',
  severity: 'warning',
  sources: ['the format itself: `best` is the take that the film uses'],
  messages: {
    both: '{shot} has a `best` take already: {other}. The film uses one{each}: call the other `good`{pieces}.',
  },
  take(take, { film, sheets, report }) {
    if (take.judged?.value !== 'best' || !take.shot) return;
    const { shot } = take;
    const all = shotsSoFar(film, sheets).get(shot.name)!.takes;
    const other = all.slice(0, all.indexOf(take)).find((one) => isRival(one, take));
    if (!other) return;
    const several = shot.pieces.length > 1;
    report({
      message: 'both',
      data: {
        shot: quoted(shot.name),
        other: quoted(other.clips[0]?.text ?? 'a take'),
        each: take.piece ? ` for piece ${take.piece.value}` : '',
        pieces: several && !take.piece ? ', or say with `piece` which piece of the cut each is for' : '',
      },
      at: take.judged,
      related: [otherTake(other, 'the other')],
      fixes: fixes(take, other),
    });
  },
});

/** Two that are kept for different pieces, or of which one is, are no rivals. */
function isRival(one: Take, take: Take): boolean {
  return one.judged?.value === 'best' && one.piece?.value === take.piece?.value;
}

/** The one that was filmed later is mostly the one that is meant; the other may be on another sheet. */
function fixes(take: Take, other: Take): FixIdea[] {
  const call = (one: Take): FixIdea => ({
    title: `Call ${quoted(one.clips[0]?.text ?? 'it')} \`good\``,
    edits: [{ start: one.judged!.start, end: one.judged!.end, text: 'good' }],
  });
  return [...(other.sheet.file === undefined ? [call(other)] : []), call(take)];
}
