import { again, type RecordedTake, recordedTake } from '../../core/derived/recorded-clips.ts';
import { usedStretch } from '../../core/derived/take.ts';
import type { Film } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted, secondsText } from '../../core/say.ts';
import { piecesOf } from '../../core/takes.ts';
import type { Seconds } from '../../core/units.ts';

export default defineRule({
  id: 'take-too-short',
  family: 'takes',
  summary: 'A take is shorter than what the cut takes out of it, or than its action.',
  severity: 'error',
  sources: ['arithmetic: film seconds × speed are seconds of the take'],
  messages: {
    cut: '{clip}: {length} long, and the cut uses {shot} up to {to}, which leaves {lacking} without a picture. {advice} and {again}.',
    action:
      '{clip}: {length} long, and what happens in {shot} lasts {lasts}, from {from} on. See whether all of it is there, or {again}.',
  },
  take(take, { film, footage, report }) {
    const recorded = recordedTake(take, footage);
    // A take that is not used may be as short as it likes.
    if (!recorded?.video || !take.shot || take.judged?.value === 'bad' || take.asSet?.interval) return;
    const { shot } = take;
    const lengthS = recorded.lengthS * slowed(recorded);
    const data = { clip: quoted(recorded.clip.text), length: secondsText(lengthS), shot: quoted(shot.name), again };
    const neededS = neededByCut(recorded, film);
    const common = { at: take.part ?? recorded.clip, related: recordPlace(recorded) };
    if (neededS > lengthS + frameS(recorded)) {
      const advice = `Record ${secondsText(Math.ceil(neededS + shot.handlesS))}`;
      const lacking = secondsText(neededS - lengthS);
      report({
        message: 'cut',
        data: { ...data, to: secondsText(neededS), lacking, advice },
        excess: neededS - lengthS,
        ...common,
      });
      return;
    }
    const { lasts } = shot.action ?? {};
    const fromS = actionFromS(recorded);
    if (!lasts || fromS + lasts.value <= lengthS + frameS(recorded)) return;
    const texts = { lasts: lasts.text, from: secondsText(fromS) };
    report({
      message: 'action',
      data: { ...data, ...texts },
      severity: 'warning',
      excess: fromS + lasts.value - lengthS,
      ...common,
    });
  },
});

/** Seconds of real time in a second of the file: a camera that slows the clip itself makes it longer. */
function slowed({ take, video }: RecordedTake): number {
  return take.captured ? video!.rate / (take.captured.value.num / take.captured.value.den) : 1;
}

function frameS({ video }: RecordedTake): Seconds {
  return video!.usualStepS;
}

/** When the action starts, from the start of the take; as planned where the sheet does not say. */
function actionFromS({ take, fromS }: RecordedTake): Seconds {
  return take.action ? take.action.value - fromS : (take.shot?.handlesS ?? 0);
}

/** The last moment of the take that a piece may use: it moves with the start of the action. */
function neededByCut(recorded: RecordedTake, film: Film): Seconds {
  const { take } = recorded;
  const movedS = take.action ? actionFromS(recorded) - (take.shot?.handlesS ?? 0) : 0;
  const ends = piecesOf(take).flatMap((piece) => usedStretch(piece, film)?.outerToS ?? []);
  return Math.max(0, ...ends.map((end) => end + movedS));
}

function recordPlace({ take: { shot } }: RecordedTake) {
  const planned = shot?.record;
  return planned
    ? [{ start: planned.start, end: planned.end, file: planned.file, message: `planned: ${planned.text}` }]
    : [];
}
