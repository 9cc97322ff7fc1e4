/** The sheet as one HTML file: pictures inside it, no script, nothing fetched; for paper (A4, Letter) and for a phone. */
import type { Severity } from '../../core/finding.ts';
import { mark } from '../marks.ts';
import { pictureElement } from '../picture.ts';
import { fontFamily } from '../page.ts';
import { el, escaped, toText } from '../svg.ts';
import { unbroken } from './words.ts';
import { base64 } from '../lit/index.ts';
import type { FrameOnSheet, Sheet, SheetBlock, TableBlock } from './blocks.ts';

const style = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; font: 0.95rem/1.4 ${fontFamily}; color: #16191d; background: #fff; overflow-wrap: break-word; }
h1 { font-size: 1.6rem; margin: 0 0 0.6rem; }
h2 { font-size: 1.15rem; margin: 1.2rem 0 0.4rem; }
h2.page { padding-top: 0.3rem; border-top: 3px solid #16191d; }
h3 { font-size: 1.05rem; margin: 1.2rem 0 0.3rem; }
h4 { font-size: 0.95rem; margin: 0.9rem 0 0.3rem; }
p { margin: 0.3rem 0; white-space: pre-line; }
dl { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 13.5rem), 1fr)); gap: 0.1rem 1.2rem; margin: 0.3rem 0; }
dl div { display: grid; grid-template-columns: 5.6rem 1fr; gap: 0.4rem; border-bottom: 1px solid #c6ccd3; padding: 0.05rem 0; }
dt { color: #4a515a; }
dd { margin: 0; font-weight: bold; }
.list { grid-template-columns: 1fr; }
.list dd { font-weight: normal; }
.list div { grid-template-columns: minmax(5.6rem, 9rem) 1fr; padding: 0.2rem 0; }
table { width: 100%; border-collapse: collapse; margin: 0.5rem 0; font-size: 0.85rem; }
caption { text-align: left; font-weight: bold; padding: 0.2rem 0; font-size: 0.95rem; }
th, td { border: 1px solid #7d858f; padding: 0.2rem 0.35rem; text-align: left; vertical-align: top; }
thead th { background: #eef0f3; }
.form { table-layout: fixed; }
.form td { height: 1.7rem; }
.sum td:last-child, .sum th:last-child { text-align: right; }
.sum tbody tr:last-child td { font-weight: bold; }
.wide { overflow-x: auto; }
.beside { display: grid; gap: 0 1rem; }
.of-2 { grid-template-columns: 1fr 1fr; }
.of-3 { grid-template-columns: 1fr 1fr 1fr; }
.first-wide { grid-template-columns: minmax(0, 1fr) 222px; }
.beside > div { min-width: 0; }
figure { margin: 0.6rem 0; }
svg { display: block; max-width: 100%; height: auto; }
ul, ol { list-style: none; margin: 0.3rem 0; padding: 0; }
.ticks li { display: flex; gap: 0.5rem; align-items: baseline; padding: 0.12rem 0; }
.row { display: flex; flex-wrap: wrap; gap: 0.2rem 1.1rem; }
.box { flex: none; width: 0.95rem; height: 0.95rem; border: 1.5px solid #16191d; transform: translateY(0.15rem); }
.found li { display: grid; grid-template-columns: 1.9rem 1fr; gap: 0.4rem; padding: 0.15rem 0; }
.found svg { width: 1.8rem; height: 1.8rem; }
.frames { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 20rem), 1fr)); gap: 0.8rem 1rem; align-items: start; }
.strip { grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); gap: 0.5rem; }
.frames figure { margin: 0; }
.frames img, .frames .none { display: block; width: 100%; height: auto; max-height: 26rem; object-fit: contain; object-position: left; }
.strip img { max-height: 9rem; }
.frames .none { border: 1px dashed #7d858f; padding: 1.5rem 0.5rem; color: #4a515a; }
.frames figcaption { padding: 0.2rem 0; }
.frames figcaption span { display: block; }
.questions { list-style: decimal; padding-left: 1.4rem; }
.questions li { padding: 0.2rem 0; }
.questions textarea { display: block; width: 100%; height: 3.2rem; margin: 0.2rem 0; font: inherit; border: 0; border-bottom: 1.5px solid #16191d; border-radius: 0; background: #f6f7f8; resize: vertical; }
.client { font-size: 1.05rem; line-height: 1.5; }
.client table { font-size: 1rem; }
.client .form td { height: 2.6rem; }
.client h2 { margin-top: 2rem; font-size: 1.3rem; }
@media screen and (max-width: 45rem) {
  .beside { grid-template-columns: 1fr; }
  .wide > svg { max-width: none; }
}
@page { margin: 12mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 8.25pt; line-height: 1.25; }
  h1 { font-size: 15pt; margin: 0 0 0.2rem; }
  h2 { margin: 0.4rem 0 0.15rem; font-size: 10pt; }
  h2.page { margin-top: 0; font-size: 12pt; }
  h3 { margin: 0.35rem 0 0.1rem; font-size: 9.5pt; }
  h4 { margin: 0.2rem 0 0; font-size: 8.25pt; }
  dl { margin: 0.15rem 0; gap: 0 1rem; }
  p { margin: 0.15rem 0; }
  table { margin: 0.3rem 0; font-size: 1em; }
  figure { margin: 0.3rem 0; }
  .form td { height: 1.3rem; }
  caption { padding: 0.05rem 0; font-size: 9pt; }
  .box { width: 0.8rem; height: 0.8rem; }
  .ticks li { padding: 0.05rem 0; }
  .found li { padding: 0; grid-template-columns: 1.5rem 1fr; }
  .found svg { width: 1.35rem; height: 1.35rem; }
  th, td { padding: 0.1rem 0.3rem; }
  .page { break-before: page; }
  h1, h2, h3, h4, caption { break-after: avoid; }
  figure, table, li, dl div, .together { break-inside: avoid; }
  .wide { overflow: visible; }
  .client { font-size: 10pt; line-height: 1.35; }
  .client h1 { font-size: 18pt; }
  .client h2 { font-size: 13pt; margin: 0.8rem 0 0.2rem; }
  .client h3 { font-size: 10.5pt; }
  .client caption, .client table { font-size: 10pt; }
  .client .form td { height: 2.6rem; }
  .frames { grid-template-columns: 1fr 1fr; gap: 0.5rem 0.8rem; }
  .strip { grid-template-columns: repeat(5, 1fr); }
  .frames img { max-height: 70mm; }
  .strip img { max-height: 30mm; }
  .questions textarea { background: none; height: 2.4rem; resize: none; }
}
`;

export function sheetHtml(sheet: Sheet): string {
  const title = escaped(sheet.title);
  return [
    '<!doctype html>',
    '<html lang="en-GB">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${title}</title>`,
    `<style>${style}</style>`,
    '</head>',
    sheet.isForClient ? '<body class="client">' : '<body>',
    '<main>',
    ...body(sheet.blocks),
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** A page break belongs to the heading that follows it; a list's title stands one level below the last heading. */
function body(blocks: readonly SheetBlock[], above = 1): string[] {
  let breaks = false;
  let level = above;
  return blocks.flatMap((block) => {
    if (block.kind === 'page') {
      breaks = true;
      return [];
    }
    if (block.kind === 'heading') level = block.level;
    const html = blockHtml(block, breaks, level + 1);
    breaks = false;
    return [html];
  });
}

/** Blocks that stand below a heading of a level. */
export function blocksHtml(blocks: readonly SheetBlock[], above: number): string {
  return body(blocks, above).join('');
}

function blockHtml(block: Exclude<SheetBlock, { kind: 'page' }>, breaks: boolean, below: number): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}${breaks ? ' class="page"' : ''}>${escaped(block.words)}</h${block.level}>`;
    case 'text':
      return `<p>${paragraph(block.words)}</p>`;
    case 'facts':
      return `<dl>${block.rows.map(([name, value]) => `<div><dt>${escaped(name)}</dt><dd>${escaped(unbroken(value))}</dd></div>`).join('')}</dl>`;
    case 'list':
      return `<dl class="list">${block.rows.map(([name, value]) => `<div><dt>${escaped(name)}</dt><dd>${escaped(unbroken(value))}</dd></div>`).join('')}</dl>`;
    case 'table':
      return tableHtml(block);
    case 'together':
      return `<div class="together">${blocksHtml(block.blocks, below - 1)}</div>`;
    case 'beside': {
      const columns = block.columns.map((column) => `<div>${blocksHtml(column, below - 1)}</div>`);
      const shape = block.isFirstWide ? 'first-wide' : `of-${block.columns.length}`;
      return `<div class="beside ${shape}">${columns.join('')}</div>`;
    }
    case 'picture': {
      const svg = toText(pictureElement(block.picture, { captions: false }), { isPrinted: true });
      return `<figure class="wide" tabindex="0" role="group" aria-label="${escaped(block.picture.title)}">${svg}</figure>`;
    }
    case 'ticks': {
      const items = block.items.map(
        (item) => `<li><span class="box"></span><span>${escaped(unbroken(item))}</span></li>`,
      );
      const title = block.title ? `<h${below}>${escaped(block.title)}</h${below}>` : '';
      return `${title}<ul class="ticks${block.inRow ? ' row' : ''}">${items.join('')}</ul>`;
    }
    case 'frames':
      return `<ul class="frames${block.isStrip ? ' strip' : ''}">${block.frames.map(frameHtml).join('')}</ul>`;
    case 'questions': {
      const items = block.items.map(
        (ask, index) => `<li>${escaped(ask)}<textarea aria-label="Answer ${index + 1}"></textarea></li>`,
      );
      return `<ol class="questions">${items.join('')}</ol>`;
    }
    case 'findings': {
      const items = block.items.map(({ number, severity, words }) => {
        const said = `<span><b>${severityWords[severity]}:</b> ${escaped(unbroken(words))}</span>`;
        return `<li>${markHtml(number, severity)}${said}</li>`;
      });
      return `<h${below}>${escaped(block.title)}</h${below}><ol class="found">${items.join('')}</ol>`;
    }
  }
}

/** The words under a picture say what is in it. */
function frameHtml({ png, heading, words }: FrameOnSheet): string {
  const image = png
    ? `<img src="data:image/png;base64,${base64(png.bytes)}" width="${png.width}" height="${png.height}" alt="">`
    : '<div class="none">No picture yet</div>';
  const lines = words.map((one) => `<span>${escaped(unbroken(one))}</span>`).join('');
  return `<li><figure>${image}<figcaption><b>${escaped(heading)}</b>${lines}</figcaption></figure></li>`;
}

/** Lines of the user's stay lines. */
function paragraph(words: string): string {
  return words
    .split(/\r\n|\r|\n/)
    .map((line) => escaped(unbroken(line)))
    .join('\n');
}

const severityWords: Readonly<Record<Severity, string>> = {
  error: 'Error',
  warning: 'Warning',
  info: 'Note',
  hint: 'Hint',
};

function markHtml(number: number, severity: Severity): string {
  const attrs = { viewBox: '0 0 32 32', width: 32, height: 32, role: 'img' };
  const label = el('title', {}, [`number ${number}`]);
  return toText(el('svg', { ...attrs, 'font-family': fontFamily }, [label, mark({ x: 16, y: 17 }, number, severity)]));
}

function tableHtml({ caption, head, rows, isForm, isSum }: TableBlock): string {
  const cells = (row: readonly string[]) =>
    row.map((cell, index) =>
      index === 0 && !isForm && cell
        ? `<th scope="row">${escaped(unbroken(cell))}</th>`
        : `<td>${escaped(unbroken(cell))}</td>`,
    );
  const top = head.map((cell) => `<th scope="col">${escaped(cell)}</th>`).join('');
  const lines = rows.map((row) => `<tr>${cells(row).join('')}</tr>`).join('');
  const table = `<table${isForm ? ' class="form"' : isSum ? ' class="sum"' : ''}><caption>${escaped(caption)}</caption><thead><tr>${top}</tr></thead><tbody>${lines}</tbody></table>`;
  return `<div class="wide" tabindex="0" role="group" aria-label="${escaped(caption)}">${table}</div>`;
}
