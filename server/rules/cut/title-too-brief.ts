import { countWords, holdS, usualReading, wordsReadIn } from '../../calc/reading.ts';
import { sameTimeS } from '../../core/derived/edit.ts';
import { defineRule } from '../../core/rule.ts';
import type { Film, Title } from '../../core/film.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { isCaption } from './caption.ts';
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
    rough: {
      quantity: 'share',
      default: '10 %',
      meaning: 'What lacks no more of the time is told only of the words that a film ends with.',
    },
    slight: { quantity: 'share', default: '25 %', meaning: 'What lacks no more of the time is a note.' },
    notice: { quantity: 'real-time', default: '1 s', meaning: 'Time to leave the picture and find the words.' },
  },
  messages: {
    brief: '{text} ({words}) is up for {hold}{fades}; reading takes {needed}. Hold it for {whole}{start}{fit}.',
    noRoom:
      '{text} ({words}) is up for {hold}{fades}; reading takes {needed}, for which its piece of the cut has no room. Use fewer words, or let it run on over the cut.',
    lastPiece:
      '{text} ({words}) is up for {hold}{fades}; reading takes {needed}, for which the last piece of the cut has no room. Use fewer words, or give that piece more time.',
  },
  title(title, { film, limits, report }) {
    if (!title.text || title.holdS === undefined || outlasts(title, film)) return;
    // Of a fade half can be read.
    const readable = title.holdS - title.fadeS;
    const speed = {
      ...usualReading,
      wordsPerMinute: limits.pace,
      charactersPerS: limits.characters,
      noticeS: isCaption(title, film) ? 0 : limits.notice,
    };
    const leastS = holdS(title.text.value, speed);
    // The time to find the words is a rough figure too: half of it more or less is nobody's business.
    const roughS = endsFilm(title, film) ? unseenS : Math.max(leastS * limits.rough + unseenS, limits.notice / 2);
    if (readable >= leastS - roughS - 1e-6) return;
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

/** Words that go with the last picture: a name, mostly, which nobody reads later. */
function endsFilm({ atS, holdS: hold }: Title, { cutS }: Film): boolean {
  return cutS !== undefined && atS !== undefined && Math.abs(atS + (hold ?? 0) - cutS) <= sameTimeS;
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

/** Of a name nothing can be cut off (up to three words are taken for one), and of other words not more than half. */
function fit(all: number, count: number): string {
  if (count === 0) return ', or leave it out: nothing is read in that time';
  return all <= 3 || count * 2 < all ? '' : `, or cut it to ${words(count)}`;
}
