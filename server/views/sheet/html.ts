/** The sheet as one HTML file: pictures inside it, no script, nothing fetched; for paper (A4, Letter) and for a phone. */
import type { Severity } from '../../core/finding.ts';
import { mark, pictureElement } from '../picture.ts';
import { el, escaped, toText } from '../svg.ts';
import type { Sheet, SheetBlock } from './blocks.ts';

const style = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; font: 0.95rem/1.4 Helvetica, Arial, "Liberation Sans", sans-serif; color: #16191d; background: #fff; overflow-wrap: break-word; }
h1 { font-size: 1.6rem; margin: 0 0 0.6rem; }
h2 { font-size: 1.25rem; margin: 1.6rem 0 0.5rem; padding-top: 0.4rem; border-top: 3px solid #16191d; }
h3 { font-size: 1.05rem; margin: 1.2rem 0 0.3rem; }
h4 { font-size: 0.95rem; margin: 0.9rem 0 0.3rem; }
p { margin: 0.3rem 0; white-space: pre-line; }
dl { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr)); gap: 0.15rem 1.2rem; margin: 0.4rem 0; }
dl div { display: grid; grid-template-columns: 7.2rem 1fr; gap: 0.4rem; border-bottom: 1px solid #c6ccd3; padding: 0.1rem 0; }
dt { color: #4a515a; }
dd { margin: 0; font-weight: bold; }
table { width: 100%; border-collapse: collapse; margin: 0.5rem 0; font-size: 0.85rem; }
caption { text-align: left; font-weight: bold; padding: 0.2rem 0; font-size: 0.95rem; }
th, td { border: 1px solid #7d858f; padding: 0.2rem 0.35rem; text-align: left; vertical-align: top; }
thead th { background: #eef0f3; }
.wide { overflow-x: auto; }
figure { margin: 0.6rem 0; }
svg { display: block; max-width: 100%; height: auto; }
ul, ol { list-style: none; margin: 0.3rem 0; padding: 0; }
.ticks li { display: flex; gap: 0.5rem; align-items: baseline; padding: 0.12rem 0; }
.row { display: flex; flex-wrap: wrap; gap: 0.2rem 1.1rem; }
.box { flex: none; width: 0.95rem; height: 0.95rem; border: 1.5px solid #16191d; transform: translateY(0.15rem); }
.found li { display: grid; grid-template-columns: 1.9rem 1fr; gap: 0.4rem; padding: 0.15rem 0; }
.found svg { width: 1.8rem; height: 1.8rem; }
@media screen and (max-width: 45rem) {
  figure svg { max-width: none; width: 46rem; }
}
@page { margin: 12mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 9pt; }
  h2 { margin-top: 0; }
  .page { break-before: page; }
  h1, h2, h3, h4, caption { break-after: avoid; }
  figure, table, li, dl div { break-inside: avoid; }
  figure svg { max-height: 235mm; margin: 0 auto; }
  .wide { overflow: visible; }
}
`;

export function sheetHtml(sheet: Sheet): string {
  const title = escaped(sheet.title);
  return [
    '<!doctype html>',
    '<html lang="en-GB">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${title}</title>`,
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    '<main>',
    ...body(sheet.blocks),
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** A page break belongs to the heading that follows it; a list's title stands one level below the last heading. */
function body(blocks: readonly SheetBlock[]): string[] {
  let breaks = false;
  let level = 1;
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

function blockHtml(block: Exclude<SheetBlock, { kind: 'page' }>, breaks: boolean, below: number): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}${breaks ? ' class="page"' : ''}>${escaped(block.words)}</h${block.level}>`;
    case 'text':
      return `<p>${paragraph(block.words)}</p>`;
    case 'facts':
      return `<dl>${block.rows.map(([name, value]) => `<div><dt>${escaped(name)}</dt><dd>${escaped(value)}</dd></div>`).join('')}</dl>`;
    case 'table':
      return tableHtml(block);
    case 'picture': {
      const svg = toText(pictureElement(block.picture, { captions: false }));
      return `<figure class="wide" tabindex="0" role="group" aria-label="${escaped(block.picture.title)}">${svg}</figure>`;
    }
    case 'ticks': {
      const items = block.items.map((item) => `<li><span class="box"></span><span>${escaped(item)}</span></li>`);
      return `<h${below}>${escaped(block.title)}</h${below}><ul class="ticks${block.inRow ? ' row' : ''}">${items.join('')}</ul>`;
    }
    case 'findings': {
      const items = block.items.map(({ number, finding }) => {
        const words = `<span><b>${severityWords[finding.severity]}:</b> ${escaped(finding.message)}</span>`;
        return `<li>${markHtml(number, finding.severity)}${words}</li>`;
      });
      return `<h3>${escaped(block.title)}</h3><ol class="found">${items.join('')}</ol>`;
    }
  }
}

/** Lines of the user's stay lines. */
function paragraph(words: string): string {
  return words
    .split(/\r\n|\r|\n/)
    .map(escaped)
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
  return toText(
    el('svg', { ...attrs, 'font-family': 'Helvetica, Arial, sans-serif' }, [
      label,
      mark({ x: 16, y: 17 }, number, severity),
    ]),
  );
}

function tableHtml({ caption, head, rows }: Extract<SheetBlock, { kind: 'table' }>): string {
  const cells = (row: readonly string[]) =>
    row.map((cell, index) => (index === 0 ? `<th scope="row">${escaped(cell)}</th>` : `<td>${escaped(cell)}</td>`));
  const top = head.map((cell) => `<th scope="col">${escaped(cell)}</th>`).join('');
  const lines = rows.map((row) => `<tr>${cells(row).join('')}</tr>`).join('');
  return `<div class="wide" tabindex="0" role="group" aria-label="${escaped(caption)}"><table><caption>${escaped(caption)}</caption><thead><tr>${top}</tr></thead><tbody>${lines}</tbody></table></div>`;
}
