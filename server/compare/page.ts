/** A comparison as one HTML file: pictures inside it, no script, nothing fetched. */
import { base64 } from '../views/lit/index.ts';
import { fontFamily } from '../views/page.ts';
import { escaped } from '../views/svg.ts';
import { aboutText, changeText, findingText } from './change-text.ts';
import type { ComparedFinding } from './comparison.ts';
import { brokenText, type ComparedFile, countsOf, headOf, loud, nothing } from './output.ts';
import type { ChangedPicture } from './pictures.ts';

const style = `
:root { color-scheme: light dark; }
body { margin: 0 auto; padding: 1rem; max-width: 64rem; font: 0.95rem/1.45 ${fontFamily}; overflow-wrap: break-word; }
h1 { font-size: 1.35rem; } h2 { font-size: 1.05rem; margin-bottom: 0.3rem; }
ul { margin: 0.3rem 0; padding-left: 1.2rem; }
.beside { display: grid; grid-template-columns: 1fr 1fr; gap: 0.6rem; }
figure { margin: 0.6rem 0; } figcaption { font-size: 0.85rem; }
img { display: block; width: 100%; height: auto; }
@media (max-width: 40rem) { .beside { grid-template-columns: 1fr; } }
`;

export function comparedPage(files: readonly ComparedFile[]): string {
  const blocks = loud(files).map(fileHtml);
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    '<meta name="viewport" content="width=device-width">',
    '<title>What changed in the plan</title>',
    `<style>${style}</style>`,
    ...(blocks.length === 0 ? [`<p>${nothing}</p>`] : blocks),
    '</html>',
    '',
  ].join('\n');
}

function fileHtml(one: ComparedFile): string {
  const { comparison, pictures = [] } = one;
  const finding = (found: ComparedFinding, note = '') =>
    `${escaped(findingText(found))} (${escaped(found.rule)}, line ${found.line})${escaped(note)}`;
  return [
    `<h1>${escaped(headOf(one))}</h1>`,
    ...section(
      'Not compared',
      comparison.broken.map((side) => `The file ${brokenText[side]}.`),
    ),
    ...pictures.map(pictureHtml),
    ...section(
      'Plan',
      comparison.plan.map((change) => `<b>${escaped(aboutText(change))}</b>: ${escaped(changeText(change))}`),
    ),
    ...section(
      'New findings',
      comparison.new.map((found) => finding(found)),
    ),
    ...section(
      'Findings with other numbers',
      comparison.changed.map(({ before, after }) => finding(after, `, was: ${findingText(before)}`)),
    ),
    ...section(
      'Gone',
      comparison.gone.map((found) => finding(found)),
    ),
    ...section(
      'Taken as meant',
      comparison.accepted.map((found) => finding(found, `, ${found.by}`)),
    ),
    `<p>${countsOf(comparison)}</p>`,
  ].join('\n');
}

function section(title: string, lines: readonly string[]): string[] {
  return lines.length === 0
    ? []
    : [`<h2>${title}</h2>`, `<ul>${lines.map((line) => `<li>${line}</li>`).join('')}</ul>`];
}

function pictureHtml({ shot, before, after }: ChangedPicture): string {
  const side = (word: string, file: Uint8Array | undefined) => {
    const caption = `<figcaption>${word}${file ? '' : ': no picture'}</figcaption>`;
    const picture = file
      ? `<img src="data:image/png;base64,${base64(file)}" alt="${escaped(shot)}, as lit, ${word}">`
      : '';
    return `<figure>${picture}${caption}</figure>`;
  };
  return `<h2>${escaped(shot)}</h2>\n<div class="beside">${side('before', before)}${side('after', after)}</div>`;
}
