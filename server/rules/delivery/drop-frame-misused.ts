import type { Rate } from '../../calc/rate.ts';
import {
  hasDropFrame,
  nextLegalTimecode,
  nonDropLagSPerHour,
  type Timecode,
  timecodeFault,
  timecodeText,
} from '../../calc/timecode.ts';
import { runsS } from '../../core/derived/edit.ts';
import { once } from '../../core/memo.ts';
import type { Film, Piece, Val } from '../../core/film.ts';
import type { Range } from '../../core/document/node.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import type { FilmTime } from '../../core/units.ts';

export default defineRule({
  id: 'drop-frame-misused',
  family: 'delivery',
  summary: 'A timecode counts drop-frame at a rate that has none, or names a frame that does not exist.',
  severity: 'error',
  sources: ['SMPTE ST 12-1'],
  messages: {
    noDrop: '{code} counts drop-frame (`;`), and at {rate} there is none: it is defined for 29.97 and 59.94 only.',
    dropped:
      '{code} does not exist: drop-frame leaves out the first numbers of each minute but every tenth. {next} comes next.',
    range: '{code} does not exist at {rate}: frames are counted from 00 to {last}.',
    drifts:
      '{code} counts every frame, and at {rate} falls behind the clock by {lag} s an hour: broadcasters usually want drop-frame (`;`) from a minute on.',
  },
  film(film, { report }) {
    for (const { val, rate, rateText } of codes(film)) {
      for (const { code, start, end } of timecodesIn(val)) {
        const fault = timecodeFault(code, rate);
        const at = { start, end };
        const texts = { code: quoted(timecodeText(code)), rate: rateText };
        if (fault === 'no-drop-frame-at-this-rate') {
          const text = timecodeText({ ...code, drop: false });
          report({ message: 'noDrop', data: texts, at, fixes: [write(at, text, `Write ${text} (non-drop)`)] });
        } else if (fault === 'dropped-number') {
          const next = timecodeText(nextLegalTimecode(code, rate));
          report({
            message: 'dropped',
            data: { ...texts, next: quoted(next) },
            at,
            fixes: [write(at, next, `Write ${next}`)],
          });
        } else if (fault === 'out-of-range') {
          report({ message: 'range', data: { ...texts, last: lastFrame(rate) }, at });
        }
      }
    }
    reportDrift(film, (at, code, rate, lag) => {
      report({ message: 'drifts', data: { code: quoted(code), rate, lag }, at, severity: 'info' });
    });
  },
});

interface Written {
  readonly val: { readonly text: string } & Range;
  readonly rate: Rate;
  readonly rateText: string;
}

/** Everything that may be written as a timecode, with the rate that counts it. */
function codes(film: Film): Written[] {
  const { timeline, cut, titles, sounds, deliverables } = film;
  const edit = timeline.rate;
  const inCut: Val<unknown>[] = [];
  for (const piece of cut) for (const val of codesOf(piece)) inCut.push(val);
  const vals: (Val<unknown> | undefined)[] = [
    timeline.starts,
    ...inCut,
    ...titles.flatMap((title) => [title.at, title.hold]),
    ...sounds.flatMap((sound) => [sound.at, sound.length]),
    ...[...deliverables.values()].map((one) => one.section),
  ];
  const counted = (val: Val<unknown> | undefined, rate: Val<Rate> | undefined): Written[] =>
    val?.text.includes(':') && rate ? [{ val, rate: rate.value, rateText: rate.text }] : [];
  const own = [...deliverables.values()].flatMap((one) =>
    [one.length, one.longest].flatMap((val) => counted(val, one.rate ?? edit)),
  );
  const all = [...vals.flatMap((val) => counted(val, edit)), ...own];
  return [...new Map(all.map((one) => [one.val.start, one])).values()];
}

/** What in a line of the cut is written as a timecode. */
const codesOf = once((piece: Piece): readonly Val<unknown>[] =>
  [piece.length, piece.dissolve, piece.fadeIn, piece.fadeOut].flatMap((val) => (val?.text.includes(':') ? [val] : [])),
);

/** The timecodes in a value as written: one, or both ends of a stretch. */
function timecodesIn({ text, start, end }: { text: string } & Range): { code: Timecode; start: number; end: number }[] {
  // Quotes around the value are no part of its text.
  const inset = (end - start - text.length) / 2;
  return [...text.matchAll(/(\d{2}):(\d{2}):(\d{2})([:;])(\d{2})/g)].map((match) => {
    const [hours, minutes, seconds, frames] = [match[1], match[2], match[3], match[5]].map(Number);
    const at = start + inset + match.index;
    const code = { hours: hours!, minutes: minutes!, seconds: seconds!, frames: frames!, drop: match[4] === ';' };
    return { code, start: at, end: at + match[0].length };
  });
}

function write({ start, end }: Range, text: string, title: string): FixIdea {
  return { title, safe: true, edits: [{ start, end, text }] };
}

function lastFrame(rate: Rate): string {
  return String(Math.ceil(rate.num / rate.den - 1e-9) - 1);
}

function reportDrift(film: Film, report: (at: Val<FilmTime>, code: string, rate: string, lag: string) => void): void {
  const { starts, rate } = film.timeline;
  if (starts?.value.kind !== 'timecode' || starts.value.drop || !rate || !hasDropFrame(rate.value)) return;
  const long = [...film.deliverables.values()].some(
    (one) => one.shownOn.includes('broadcast') && (runsS(one, film) ?? 0) > 60,
  );
  if (long) report(starts, starts.text, rate.text, num(nonDropLagSPerHour(rate.value), 1));
}
