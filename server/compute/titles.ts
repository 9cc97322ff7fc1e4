/** Titles: whether they stand out, and how long they must stand. */
import { contrastRatio } from '../calc/colour.ts';
import { holdS, usualReading } from '../calc/reading.ts';
import { listText, num, secondsText } from '../core/say.ts';
import { colour, text as words, wpm } from './quantities.ts';
import { defineTopic, needed, usually } from './topic.ts';

/** What WCAG asks for, greatest first. */
const asked = [
  { ratio: 7, of: 'text, enhanced (1.4.6)' },
  { ratio: 4.5, of: 'text (1.4.3), and large text, enhanced' },
  { ratio: 3, of: 'large text (1.4.3)' },
];

const contrastTopic = defineTopic({
  id: 'contrast',
  summary: 'Contrast of letters with what is behind them',
  keys: {
    text: needed(colour('#ffffff'), 'colour of the letters'),
    back: needed(colour('#777777'), 'colour behind them'),
  },
  results: { ratio: { unit: '', meaning: 'contrast', say: (value) => `${num(value, 3)} : 1` } },
  formula:
    '(L1 + 0.05) ÷ (L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B of linear sRGB, L1 the lighter; 1 to 21. Text wants ' +
    '4.5, large text (18 pt, or 14 pt bold) 3',
  source: 'WCAG 2.2, relative luminance and contrast ratio; 1.4.3, 1.4.6',
  example: ['text=#ffffff', 'back=#777777'],
  compute({ text, back }) {
    const ratio = contrastRatio(text, back);
    const met = asked.filter((one) => ratio >= one.ratio).map((one) => one.of);
    return {
      results: { ratio },
      notes: [met.length > 0 ? `Enough for ${listText(met)}.` : 'Too little for any text.'],
    };
  },
});

const readingTopic = defineTopic({
  id: 'reading',
  summary: 'How long a title must stand to be read',
  keys: {
    text: needed(words, 'what stands there'),
    wpm: usually(wpm, `${usualReading.wordsPerMinute} wpm`, 'words a minute; 160 when left out'),
  },
  results: { seconds: { unit: 's', meaning: 'full on screen, without fades', say: (value) => secondsText(value) } },
  formula: 'the longer of words × 60 ÷ words a minute and characters ÷ 15; 5/6 s at least',
  source: 'BBC subtitle guidelines (160 to 180 words a minute); 15 characters a second and 5/6 s: subtitling practice',
  example: ['text=Wound by hand since 1911'],
  compute({ text, wpm: wordsPerMinute }) {
    return { results: { seconds: holdS(text, { ...usualReading, wordsPerMinute }) } };
  },
});

export const titleTopics = [contrastTopic, readingTopic];
