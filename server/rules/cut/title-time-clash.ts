import { holdS } from '../../calc/reading.ts';
import { deliverablesOf, exactTime, samePlaceS, sameTimeS, shownStretch } from '../../core/derived/edit.ts';
import { sToFrames } from '../../calc/rate.ts';
import type { Film, Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, quoted, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { heldFor, startEarlier } from './title-room.ts';

export default defineRule({
  id: 'title-time-clash',
  family: 'cut',
  summary: 'A title outlasts the film, stands on another title, or crosses a cut by a blink.',
  severity: 'warning',
  sources: ['common practice, no source'],
  limits: {
    blink: { quantity: 'real-time', default: '0.4 s', meaning: 'How long a title must stay on the far side of a cut.' },
  },
  messages: {
    late: '{text} starts at {from}, and the film ends at {end}: it is never seen. Start it earlier.',
    outlasts:
      '{text} runs to {to}, and the film ends at {end}: {over} of it are lost. Start it earlier, or hold it shorter.',
    clipped:
      '{deliverable}: {text} runs from {from} to {to}, and {stretch} of the cut are shown here: part of it is lost. Start it within the `section`, or say `only-in`.',
    absent:
      '{text} is meant for {deliverables}, but that part of the cut is not shown there. Start it within the `section`.',
    overlap: '{text} stands on {other}, which is in the same place until {end}. Start it then, or put it elsewhere.',
    together:
      '{text} and {other} have {time} between them; reading both takes {needed}. Let one follow the other, or hold them longer.',
    blink: '{text} crosses the cut at {cut} by {time}: it looks like a slip. Let it {change} on the cut.',
  },
  title(title, { film, limits, report }) {
    const { atS, holdS: hold, text } = title;
    const { cutS } = film;
    if (atS === undefined || hold === undefined || !text || cutS === undefined) return;
    const endS = atS + hold;
    const name = quoted(text.value.trim());
    const data = { text: name, from: secondsText(atS), to: secondsText(endS), end: secondsText(cutS) };
    const at = title.at ?? title;
    const same = samePlaceS(film);
    if (atS >= cutS - same) {
      report({ message: 'late', data, at, fixes: () => readable(title, film) });
      return;
    }
    if (endS > cutS + same) {
      const over = secondsText(endS - cutS);
      const fixes = () => [...readable(title, film), ...holdUntil(title, film, cutS)];
      report({
        message: 'outlasts',
        data: { ...data, over },
        at: title.hold ?? title,
        severity: lossOf(cutS - atS, title),
        fixes,
      });
      return;
    }
    const absent = missingFrom(title, film);
    if (absent.length > 0) {
      report({ message: 'absent', data: { text: name, deliverables: listText(absent) }, at });
    }
    for (const clip of clippedIn(title, film)) report({ message: 'clipped', data: { ...data, ...clip }, at });
    let clashes = 0;
    for (const other of film.titles.slice(0, film.titles.indexOf(title))) {
      if (clashes === mostClashes) break;
      const clash = clashOf(title, other, film);
      if (clash) {
        clashes++;
        const texts = { text: name, other: quoted(other.text!.value.trim()) };
        if (clash.samePlace) {
          const fixes = startAt(title, film, other.atS! + other.holdS!);
          report({ message: 'overlap', data: { ...texts, end: secondsText(other.atS! + other.holdS!) }, at, fixes });
        } else {
          const times = { time: secondsText(clash.togetherS), needed: secondsText(clash.neededS, 1) };
          report({ message: 'together', data: { ...texts, ...times }, at });
        }
      }
    }
    const blink = blinkOver(title, film, limits.blink);
    if (blink) {
      const { cutS, starts } = blink;
      report({
        message: 'blink',
        data: { text: name, cut: secondsText(cutS), time: secondsText(blink.byS), change: starts ? 'start' : 'end' },
        at: starts ? at : (title.hold ?? title),
        severity: 'hint',
        fixes: starts ? startAt(title, film, cutS) : holdUntil(title, film, cutS),
      });
    }
  },
});

/** With so many others it is told that a title clashes. */
const mostClashes = 3;

/** Deliverables that `only-in` names and that show none of it. */
function missingFrom(title: Title, film: Film): string[] {
  const shown = new Set(deliverablesOf(title, film).map((one) => one.name));
  return (title.onlyIn ?? [])
    .map((name) => name.value)
    .filter((name) => film.deliverables.has(name) && !shown.has(name));
}

/** Sections that begin or end in the middle of it. */
function clippedIn(title: Title, film: Film): { deliverable: string; stretch: string }[] {
  const same = samePlaceS(film);
  return deliverablesOf(title, film).flatMap((one) => {
    const stretch = shownStretch(one, film);
    if (!stretch || !one.section) return [];
    const [from, to] = [title.atS!, title.atS! + title.holdS!];
    const whole = from >= stretch.from - same && to <= stretch.to + same;
    const text = `${secondsText(stretch.from)} to ${secondsText(stretch.to)}`;
    const shownS = Math.min(to, stretch.to) - Math.max(from, stretch.from);
    return whole || isReadIn(shownS, title) ? [] : [{ deliverable: one.name, stretch: text }];
  });
}

/** What has been read goes with the picture. */
function lossOf(shownS: Seconds, title: Title): 'info' | undefined {
  return isReadIn(shownS, title) ? 'info' : undefined;
}

/** One of its two fades is seen, or lost with what is cut off. */
function isReadIn(shownS: Seconds, { text, fadeS }: Title): boolean {
  return shownS - fadeS >= holdS(text!.value);
}

/** Two titles up at once in one deliverable: on each other, or in two places without time to read both. */
function clashOf(title: Title, other: Title, film: Film) {
  if (other.atS === undefined || other.holdS === undefined || !other.text) return undefined;
  const [from, to] = [title.atS!, title.atS! + title.holdS!];
  const [otherFrom, otherTo] = [other.atS, other.atS + other.holdS];
  const same = samePlaceS(film);
  if (from > otherTo - same || otherFrom > to - same) return undefined;
  const both = deliverablesOf(title, film).some((one) => deliverablesOf(other, film).includes(one));
  if (!both) return undefined;
  if (title.place === other.place) return { samePlace: true, togetherS: 0, neededS: 0 };
  if (isOneCard({ from, to }, { from: otherFrom, to: otherTo })) return undefined;
  const togetherS = Math.max(to, otherTo) - Math.min(from, otherFrom);
  const neededS = holdS(title.text!.value) + holdS(other.text.value);
  return togetherS < neededS - roughS ? { samePlace: false, togetherS, neededS } : undefined;
}

/** How long people read differs by more than this. */
const roughS = 0.5;

/** Its rows come one soon after the other, and go together: whoever laid them so knows that they are read together. */
function isOneCard(title: Stretch, other: Stretch): boolean {
  const starts = Math.abs(title.from - other.from);
  return starts < sameTimeS || (starts <= rowAfterS && Math.abs(title.to - other.to) < sameTimeS);
}

interface Stretch {
  readonly from: Seconds;
  readonly to: Seconds;
}

/** Common practice, no source. */
const rowAfterS = 1;

/** A cut that the title reaches over by less than `leastS`, at its start or at its end. */
function blinkOver(title: Title, film: Film, leastS: number) {
  const [from, to] = [title.atS!, title.atS! + title.holdS!];
  for (const piece of film.cut.slice(1)) {
    const cutS = piece.startS;
    if (cutS === undefined || piece.dissolveS > 0) continue;
    // Under half a frame it is on the cut.
    const rate = film.timeline.rate?.value;
    const least = rate ? rate.den / rate.num / 2 : 0.02;
    const [before, after] = [cutS - from, to - cutS];
    if (before > least && before < leastS - sameTimeS && after > least) return { cutS, byS: before, starts: true };
    if (after > least && after < leastS - sameTimeS && before > least) return { cutS, byS: after, starts: false };
  }
  return undefined;
}

/** Earlier, with the hold that it has where that is enough to read it. */
function readable(title: Title, film: Film): FixIdea[] {
  const neededS = holdS(title.text!.value) + 2 * title.fadeS;
  return title.holdS! >= neededS - unseenS ? startEarlier(title, film) : heldFor(title, film, neededS);
}

/** Nobody sees a tenth of a second. */
const unseenS = 0.1;

function startAt(title: Title, film: Film, seconds: number): FixIdea[] {
  const rate = film.timeline.rate?.value;
  if (!rate || seconds < 0 || seconds + title.holdS! > film.cutS! + sameTimeS) return [];
  const text = seconds < sameTimeS ? '0 s' : exactTime(Math.ceil(sToFrames(seconds, rate) - 1e-6), title.at, film);
  return text ? [set(`Start it at ${text} (hold unchanged)`, [title, 'at', text])] : [];
}

function holdUntil(title: Title, film: Film, seconds: number): FixIdea[] {
  const rate = film.timeline.rate?.value;
  const heldS = seconds - title.atS!;
  if (!rate || heldS < holdS(title.text!.value) - sameTimeS) return [];
  const text = exactTime(Math.floor(sToFrames(heldS, rate) + 1e-6), title.hold, film);
  return text ? [set(`Hold it for ${text}`, [title, 'hold', text])] : [];
}
