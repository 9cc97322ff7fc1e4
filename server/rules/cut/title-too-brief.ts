import { countWords, holdS, usualReading, wordsReadIn } from '../../calc/reading.ts';
import { deliverablesOf, sameTimeS } from '../../core/derived/edit.ts';
import { defineRule } from '../../core/rule.ts';
import type { Film, Title } from '../../core/film.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { isCaption, isInRow } from './caption.ts';
import { hasRoom, heldFor, latestStartS } from './title-room.ts';

export default defineRule({
  id: 'title-too-brief',
  family: 'cut',
  summary: 'A title goes before it can be read.',
  severity: 'warning',
  sources: [
    'BBC subtitle guidelines (160 to 180 words a minute)',
    'subtitling practice, no single source (12 to 17 characters a second, 5/6 s at least)',
  ],
  limits: {
    pace: { quantity: 'pace', default: '180 wpm', meaning: 'The most words a minute that people read.' },
    calm: { quantity: 'pace', default: '160 wpm', meaning: 'The pace for which time is offered.' },
    characters: { quantity: 'number', default: '17', meaning: 'How many characters a second people read.' },
    slight: { quantity: 'share', default: '25 %', meaning: 'What lacks no more of the time is a note.' },
    notice: {
      quantity: 'real-time',
      default: '1 s',
      meaning: 'More for a name that a film ends with, and for a longer translation.',
    },
  },
  messages: {
    brief: '{text} ({words}) is up for {hold}{fades}; reading takes {needed}. Hold it for {whole}{start}{fit}.',
    noRoom:
      '{text} ({words}) is up for {hold}{fades}; reading takes {needed}, for which there is no room between the cuts and titles around it. Use fewer words, or move one of those.',
    lastPiece:
      '{text} ({words}) is up for {hold}{fades}; reading takes {needed}, for which the last piece of the cut has no room. Use fewer words, or give that piece more time.',
  },
  title(title, { film, limits, report }) {
    if (!title.text || title.holdS === undefined || outlasts(title, film)) return;
    const readable = readableS(title);
    const pace = { ...usualReading, wordsPerMinute: limits.pace, charactersPerS: limits.characters };
    // Most titles are up for so long that nothing around them counts.
    if (readable >= holdS(title.text.value, { ...pace, noticeS: limits.notice })) return;
    const speed = {
      ...pace,
      floorS: isInRow(title, film) ? 0 : usualReading.floorS,
      noticeS: needsNotice(title, film) ? limits.notice : 0,
    };
    const leastS = holdS(title.text.value, speed);
    if (readable + repeatedS(title, film) >= leastS - unseenS - 1e-6) return;
    const calmS = holdS(title.text.value, { ...speed, wordsPerMinute: Math.min(limits.calm, limits.pace) });
    // Where there is no room for an easy pace, there may be for a quick one.
    const neededS = [calmS, leastS].find((one) => hasRoom(title, film, wholeHold(one, title))) ?? calmS;
    const wholeS = wholeHold(neededS, title);
    const latestS = latestStartS(title, film, wholeS);
    const mustMove = title.atS !== undefined && title.atS > latestS + sameTimeS;
    report({
      message: hasRoom(title, film, wholeS) ? 'brief' : isOfLastPiece(title, film) ? 'lastPiece' : 'noRoom',
      data: {
        text: quoted(title.text.value.trim().replace(/\s+/g, ' ')),
        words: words(countWords(title.text.value)),
        hold: secondsText(title.holdS),
        fades: title.fadeS > 0 ? `, its two fades of ${secondsText(title.fadeS)} included` : '',
        needed: `${num(neededS, 2)} s`,
        whole: `${num(wholeS, 1)} s`,
        start: mustMove ? `, from ${secondsText(latestS)} on at the latest` : '',
        fit: fit(countWords(title.text.value), wordsReadIn(readable, speed)),
      },
      at: title.hold ?? title,
      severity: readable >= leastS * (1 - limits.slight) ? 'info' : undefined,
      excess: neededS - readable,
      fixes: () => heldFor(title, film, neededS + title.fadeS),
    });
  },
});

/** To be up in whole tenths of a second. */
function wholeHold(readS: Seconds, { fadeS }: Title): Seconds {
  return Math.ceil((readS + fadeS) * 10 - 1e-6) / 10;
}

/** Nobody sees a frame or so. */
const unseenS = 0.04;

/** Of a fade half can be read. */
function readableS({ holdS: hold = 0, fadeS }: Title): Seconds {
  return hold - fadeS;
}

/** How long the same words can be read elsewhere in all of its deliverables. */
function repeatedS(title: Title, film: Film): Seconds {
  const text = title.text!.value.trim();
  const same = film.titles.filter((one) => one !== title && one.text?.value.trim() === text);
  const shown = same.length > 0 ? deliverablesOf(title, film) : [];
  return same
    .filter((one) => {
      const there = deliverablesOf(one, film);
      return shown.every((deliverable) => there.includes(deliverable));
    })
    .reduce((sum, one) => sum + readableS(one), 0);
}

function needsNotice(title: Title, film: Film): boolean {
  return (isLastName(title, film) && !isCaption(title, film)) || isLongerTranslation(title, film);
}

/** A name that goes with the last picture: nobody reads it later. In a loop it comes again. */
function isLastName(title: Title, film: Film): boolean {
  const { atS, holdS: hold, text } = title;
  const { cutS } = film;
  if (cutS === undefined || atS === undefined || countWords(text!.value) > mostOfName) return false;
  return Math.abs(atS + (hold ?? 0) - cutS) <= sameTimeS && deliverablesOf(title, film).some(({ loop }) => !loop);
}

/** Up to so many words are taken for a name. */
const mostOfName = 3;

/** Takes it a quarter longer to read than the words that other deliverables have at that time, to which it was cut? */
function isLongerTranslation(title: Title, film: Film): boolean {
  const takenS = ({ text }: Title) => holdS(text?.value ?? '');
  const shown = deliverablesOf(title, film);
  return film.titles.some(
    (one) =>
      one.atS === title.atS &&
      one.holdS === title.holdS &&
      takenS(title) >= takenS(one) * 1.25 &&
      !deliverablesOf(one, film).some((deliverable) => shown.includes(deliverable)),
  );
}

function isOfLastPiece({ atS }: Title, { cut }: Film): boolean {
  const startS = cut.at(-1)?.startS;
  return atS !== undefined && startS !== undefined && atS >= startS - sameTimeS;
}

/** What runs past the end of the film is a finding of its own: `title-time-clash`. */
function outlasts({ atS, holdS: hold }: Title, { cutS }: Film): boolean {
  return cutS !== undefined && atS !== undefined && atS + (hold ?? 0) > cutS + 1e-6;
}

function words(count: number): string {
  return `${count} ${count === 1 ? 'word' : 'words'}`;
}

/** Of a name nothing can be cut off, of other words not more than half, and of long ones their number says nothing. */
function fit(all: number, count: number): string {
  return all <= mostOfName || count * 2 < all || count >= all ? '' : `, or cut it to ${words(count)}`;
}
