import { countWords, holdS, usualReading, wordsReadIn } from '../../calc/reading.ts';
import { filmTimeLike } from '../../core/derived/edit.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import type { Film, Title } from '../../core/film.ts';
import { num, quoted, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'title-too-brief',
  family: 'cut',
  summary: 'A title goes before it can be read.',
  severity: 'warning',
  sources: [
    'BBC subtitle guidelines (160 to 180 words a minute)',
    'subtitling practice, no single source (15 characters a second, 5/6 s at least)',
  ],
  limits: {
    pace: { quantity: 'pace', default: '160 wpm', meaning: 'How many words a minute people read.' },
    notice: { quantity: 'real-time', default: '1 s', meaning: 'Time to leave the picture and find the words.' },
  },
  messages: {
    brief: '{text} ({words}) is up for {hold}{fades}; reading takes {needed}. Hold it for {whole}, or {fit}.',
  },
  title(title, { film, limits, report }) {
    if (!title.text || title.holdS === undefined || outlasts(title, film)) return;
    const readable = title.holdS - 2 * title.fadeS;
    const speed = { ...usualReading, wordsPerMinute: limits.pace, noticeS: limits.notice };
    const neededS = holdS(title.text.value, speed);
    if (readable >= neededS - 1e-6) return;
    report({
      message: 'brief',
      data: {
        text: quoted(title.text.value.trim().replace(/\s+/g, ' ')),
        words: words(countWords(title.text.value)),
        hold: secondsText(title.holdS),
        fades: title.fadeS > 0 ? `, its two fades of ${secondsText(title.fadeS)} included` : '',
        needed: `${num(neededS, 1)} s`,
        whole: `${num(Math.ceil((neededS + 2 * title.fadeS) * 10 - 1e-6) / 10, 1)} s`,
        fit: fit(wordsReadIn(readable, speed)),
      },
      at: title.hold ?? title,
      fixes: () => longer(title, film, neededS + 2 * title.fadeS),
    });
  },
});

/** What runs past the end of the film is a finding of its own: `title-time-clash`. */
function outlasts({ atS, holdS: hold }: Title, { cutS }: Film): boolean {
  return cutS !== undefined && atS !== undefined && atS + (hold ?? 0) > cutS + 1e-6;
}

function words(count: number): string {
  return `${count} ${count === 1 ? 'word' : 'words'}`;
}

function fit(count: number): string {
  return count === 0 ? 'leave it out: nothing is read in that time' : `cut it to ${words(count)}`;
}

function longer(title: Title, film: Film, seconds: number): FixIdea[] {
  const text = filmTimeLike(title.hold, seconds, film, 'up');
  return text ? [set(`Hold it for ${text}`, [title, 'hold', text])] : [];
}
