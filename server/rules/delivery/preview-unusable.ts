import { deliverablesOf, exactTime, shownStretch } from '../../core/derived/edit.ts';
import { blurredAt, clearNear, isShown, pieceAt, sentencesAt, wordsOf } from '../../core/derived/preview.ts';
import type { Range } from '../../core/document/node.ts';
import { quote } from '../../core/document/edits.ts';
import type { Deliverable, Film, Preview, Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, quoted, secondsText } from '../../core/say.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Seconds } from '../../core/units.ts';

/** What is read out in one go: common practice, no source. */
const longestText = 150;

export default defineRule({
  id: 'preview-unusable',
  family: 'delivery',
  summary: 'The preview picture is not in the film or not clear, or nothing says what is in it.',
  severity: 'warning',
  sources: [
    'W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.1.1 (text alternatives)',
    'common practice, no source (length of the text, still from a dissolve, words on a still)',
  ],
  messages: {
    outside: '{deliverable} shows {from} to {to} of the cut, and its preview is to be taken at {at}.',
    blurred:
      '{deliverable}: the preview at {at} lies in {what} ({from} to {to}), so two pictures mix in it or it is dark.',
    plain: '{deliverable}: at {at}, where the preview is to be taken, the cut shows a plain colour and no title.',
    worded:
      '{deliverable}: at {at} {words} {stand} in the picture of the preview. Letters are small there, and whoever has its `text` read out is not told what they say. Take it where no words stand, or say them in `text` too.',
    silent:
      '{deliverable}: the preview has no `text`, so who cannot see it is told nothing of it. Say in a sentence what is seen.',
    long: '{deliverable}: the text of the preview has {length} letters; more than {most} are tiring to listen to. Say what matters, and put the rest beside the film.',
  },
  deliverable(deliverable, { film, report }) {
    const { preview, name } = deliverable;
    if (!preview) return;
    const { at, atS, text } = preview;
    const stretch = shownStretch(deliverable, film);
    if (at && atS !== undefined && stretch) {
      const own = { at, cause: { ...at, as: name }, fixes: () => clearFixes(preview, deliverable, film) };
      const common = { ...own, cause: at };
      const data = { deliverable: name, at: at.text };
      const blurred = blurredAt(atS, film);
      const [first, ...others] = sentencesAt(atS, deliverable, film).filter((title) => !says(preview, title));
      if (!isShown(atS, stretch)) {
        const [from, to] = [secondsText(stretch.from), secondsText(stretch.to)];
        report({ message: 'outside', data: { ...data, from, to }, ...own });
      } else if (blurred) {
        const [from, to] = [secondsText(blurred.from), secondsText(blurred.to)];
        report({ message: 'blurred', data: { ...data, what: blurred.what, from, to }, ...common });
      } else if (pieceAt(atS, film)?.colour) {
        if (!hasTitleAt(atS, deliverable, film)) report({ message: 'plain', data, ...common });
      } else if (first) {
        report({
          message: 'worded',
          severity: 'info',
          data: {
            ...data,
            words: listText([first, ...others].map((title) => quoted(title.text!.value))),
            stand: others.length > 0 ? 'stand' : 'stands',
          },
          ...common,
          fixes: () => [
            ...clearFixes(preview, deliverable, film, nearS),
            ...sayToo(preview, deliverable, [first, ...others]),
          ],
          cause: { ...firstLike(first, film), isWide: true },
          excess: 1 + others.length,
        });
      }
    }
    const length = [...(text?.value.trim() ?? '')].length;
    const where = preview.fields.said('text') ? (text ?? preview) : preview;
    if (length === 0) report({ message: 'silent', data: { deliverable: name }, at: where, cause: where });
    else if (length > longestText)
      report({
        message: 'long',
        data: { deliverable: name, length, most: longestText },
        at: where,
        cause: where,
        severity: 'info',
        excess: length,
      });
  },
});

function says({ text }: Preview, title: Title): boolean {
  const said = new Set(wordsOf(text?.value ?? ''));
  return wordsOf(title.text!.value).every((word) => said.has(word));
}

/** Previews of several deliverables lie under the same words, which each may set by itself. */
function firstLike(title: Title, film: Film): Range {
  const { start, end } = film.titles.find((one) => one.text?.value === title.text?.value) ?? title;
  return { start, end };
}

function hasTitleAt(momentS: number, deliverable: Deliverable, film: Film): boolean {
  return film.titles.some(
    (title) =>
      title.atS !== undefined &&
      title.atS <= momentS &&
      momentS < title.atS + (title.holdS ?? 0) &&
      deliverablesOf(title, film).includes(deliverable),
  );
}

/** Farther off a picture that is right but for its words is another one, of which the text says nothing (common practice, no source). */
const nearS: Seconds = 1;

function clearFixes(preview: Preview, deliverable: Deliverable, film: Film, withinS: Seconds = Infinity): FixIdea[] {
  const clearS = preview.atS === undefined ? undefined : clearNear(preview.atS, deliverable, film);
  const rate = film.timeline.rate?.value;
  if (clearS === undefined || !rate || Math.abs(clearS - preview.atS!) > withinS) return [];
  // The first frame that begins no earlier.
  const frame = Math.ceil(clearS * rateFps(rate) - 1e-6);
  const text = frame === 0 ? '0 s' : exactTime(frame, preview.at, film);
  if (text === undefined) return [];
  const seconds = secondsText(frame / rateFps(rate));
  const other = pieceAt(clearS, film)?.shot;
  const notes = [
    ...(seconds === text ? [] : [seconds]),
    ...(other && other !== pieceAt(preview.atS!, film)?.shot
      ? [`${quoted(other.name)}: see whether its text holds`]
      : []),
  ];
  const note = notes.length > 0 ? ` (${notes.join(', ')})` : '';
  if (!isTakenOver(deliverable)) return [set(`Take the preview at ${text}${note}`, [preview, 'at', text])];
  const own = `{ ${[`at: ${text}`, ...(preview.text ? [`text: ${quote(preview.text.value)}`] : [])].join(', ')} }`;
  return [
    set(`Give ${quoted(deliverable.name)} a preview of its own at ${text}${note}`, [deliverable, 'preview', own]),
  ];
}

/** Whoever has the picture described is told its words. */
function sayToo(preview: Preview, deliverable: Deliverable, titles: readonly Title[]): FixIdea[] {
  const { text } = preview;
  if (!text || isTakenOver(deliverable)) return [];
  const words = listText(titles.map((title) => title.text!.value));
  const longer = `${text.value.trim().replace(/[.]?$/, '.')} In it stands: ${words}`;
  const title = `Say ${listText(titles.map((one) => quoted(one.text!.value)))} in its text too`;
  return [...longer].length > longestText ? [] : [set(title, [preview, 'text', quote(longer)])];
}

/** Is the preview that of another deliverable, which this one is like? There it is right. */
function isTakenOver({ fields: { own } }: Deliverable): boolean {
  return own !== undefined && !own.pairs.some(({ key }) => key.text === 'preview');
}
