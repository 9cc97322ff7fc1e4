/** The sheet as a PDF, for printers without a browser. A program of its own, loaded only when it is asked for. */
import { PDFDocument, registerStdFonts } from 'pdfkit';
import Helvetica from 'pdfkit/standard-fonts/Helvetica';
import HelveticaBold from 'pdfkit/standard-fonts/HelveticaBold';
import type { SheetBlock, Sheet } from '../views/sheet/blocks.ts';
import { mark, pictureElement } from '../views/picture.ts';
import { inks } from '../views/svg.ts';
import { drawElement } from './drawing.ts';
import { printable } from './letters.ts';

registerStdFonts(Helvetica, HelveticaBold);

export type Paper = 'a4' | 'letter';

const margin = 34;
const size = 9;

/** The bytes of the file. */
export function sheetPdf(sheet: Sheet, paper: Paper = 'a4'): Promise<Uint8Array> {
  const doc = new PDFDocument({
    size: paper === 'a4' ? 'A4' : 'LETTER',
    margin,
    bufferPages: true,
    lang: 'en-GB',
    displayTitle: true,
    info: { Title: printable(sheet.title).words },
  });
  const chunks: Uint8Array[] = [];
  const done = new Promise<Uint8Array>((resolve) => {
    doc.on('data', (chunk) => chunks.push(chunk));
    doc.on('end', () => resolve(joined(chunks)));
  });
  const printer = new Printer(doc);
  for (const block of sheet.blocks) printer.print(block);
  printer.finish(sheet.title);
  doc.end();
  return done;
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(chunks.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

/** Writes blocks below each other, on new pages where they do not fit. */
class Printer {
  /** Where the next thing goes. */
  #y = margin;
  /** True when a letter could not be printed. */
  #lost = false;

  constructor(readonly doc: PDFDocument) {}

  get width(): number {
    return this.doc.page.width - 2 * margin;
  }

  get bottom(): number {
    // The last line is the page's number.
    return this.doc.page.height - margin - 14;
  }

  print(block: SheetBlock): void {
    switch (block.kind) {
      case 'page':
        return this.page();
      case 'heading':
        return this.heading(block.words, block.level);
      case 'text':
        return this.paragraph(block.words);
      case 'facts':
        return this.facts(block.rows);
      case 'table':
        return this.table(block);
      case 'picture':
        return this.picture(block.picture);
      case 'ticks':
        return this.ticks(block);
      case 'findings':
        return this.findings(block);
    }
  }

  /** Page numbers, and a word about letters that are missing. */
  finish(title: string): void {
    if (this.#lost) {
      this.#y += 6;
      this.paragraph(
        'Letters that the built-in type of a PDF does not have are printed as ?. The HTML sheet has them all.',
      );
    }
    const { start, count } = this.doc.bufferedPageRange();
    for (let page = start; page < start + count; page++) {
      this.doc.switchToPage(page);
      const y = this.doc.page.height - margin - 9;
      this.line(`${title}, page ${page + 1} of ${count}`, margin, y, { size: 8, fill: inks.soft });
    }
  }

  private page(): void {
    if (this.#y === margin) return;
    this.doc.addPage();
    this.#y = margin;
  }

  private room(height: number): void {
    if (this.#y + height > this.bottom) this.page();
  }

  private words(text: string): string {
    const { words, lost } = printable(text);
    this.#lost ||= lost;
    return words;
  }

  private line(
    text: string,
    x: number,
    y: number,
    style: { size?: number; bold?: boolean; fill?: string; width?: number } = {},
  ): void {
    const { doc } = this;
    doc
      .font(style.bold ? 'Helvetica-Bold' : 'Helvetica')
      .fontSize(style.size ?? size)
      .fillColor(style.fill ?? inks.ink)
      .fillOpacity(1);
    doc.text(this.words(text), x, y, style.width === undefined ? { lineBreak: false } : { width: style.width });
  }

  private height(text: string, width: number, bold = false, fontSize = size): number {
    this.doc.font(bold ? 'Helvetica-Bold' : 'Helvetica').fontSize(fontSize);
    return this.doc.heightOfString(this.words(text) || ' ', { width });
  }

  private heading(words: string, level: 1 | 2 | 3): void {
    const fontSize = { 1: 18, 2: 14, 3: 11 }[level];
    const height = this.height(words, this.width, true, fontSize);
    this.room(height + 90);
    this.#y += level === 1 ? 0 : 8;
    this.line(words, margin, this.#y, { size: fontSize, bold: true, width: this.width });
    this.#y += height + 4;
  }

  private paragraph(words: string): void {
    const height = this.height(words, this.width);
    this.room(height);
    this.line(words, margin, this.#y, { width: this.width });
    this.#y += height + 4;
  }

  private facts(rows: readonly (readonly [string, string])[]): void {
    const [names, half] = [78, (this.width - 14) / 2];
    for (let index = 0; index < rows.length; index += 2) {
      const pair = rows.slice(index, index + 2);
      const height = Math.max(
        ...pair.flatMap(([name, value]) => [this.height(value, half - names, true), this.height(name, names - 4)]),
      );
      this.room(height + 4);
      pair.forEach(([name, value], side) => {
        const x = margin + side * (half + 14);
        this.line(name, x, this.#y, { fill: inks.soft, width: names - 4 });
        this.line(value, x + names, this.#y, { bold: true, width: half - names });
      });
      this.#y += height + 4;
    }
    this.#y += 4;
  }

  private table({ caption, head, rows }: Extract<SheetBlock, { kind: 'table' }>): void {
    if (rows.length === 0) return;
    const widths = columnWidths([head, ...rows], this.width);
    const rowHeight = (row: readonly string[], bold = false) =>
      Math.max(...row.map((cell, index) => this.height(cell, widths[index]! - 6, bold || index === 0, 8))) + 5;
    const whole = rows.reduce((sum, row) => sum + rowHeight(row), 14 + rowHeight(head, true));
    // A table that a page holds is not parted.
    this.room(whole < this.bottom - margin ? whole : 14 + rowHeight(head, true) + rowHeight(rows[0]!));
    this.line(caption, margin, this.#y, { bold: true });
    this.#y += 13;
    for (const [at, row] of [head, ...rows].entries()) {
      const height = rowHeight(row, at === 0);
      this.room(height);
      let x = margin;
      row.forEach((cell, index) => {
        const width = widths[index]!;
        this.doc.save().rect(x, this.#y, width, height).lineWidth(0.5).strokeColor(inks.line);
        if (at === 0) this.doc.fillColor(inks.shade).fillAndStroke();
        else this.doc.stroke();
        this.doc.restore();
        this.line(cell, x + 3, this.#y + 3, { size: 8, bold: at === 0 || index === 0, width: width - 6 });
        x += width;
      });
      this.#y += height;
    }
    this.#y += 8;
  }

  private picture(picture: Parameters<typeof pictureElement>[0]): void {
    const fits = this.bottom - margin;
    const scale = Math.min(this.width / picture.width, fits / picture.height);
    const height = picture.height * scale;
    this.room(height);
    const element = pictureElement(picture, { captions: false });
    this.doc
      .save()
      .translate(margin + (this.width - picture.width * scale) / 2, this.#y)
      .scale(scale);
    this.#lost = drawElement(this.doc, element) || this.#lost;
    this.doc.restore();
    this.#y += height + 8;
  }

  private ticks({ title, items, inRow }: Extract<SheetBlock, { kind: 'ticks' }>): void {
    this.room(30);
    this.line(title, margin, this.#y, { bold: true });
    this.#y += 14;
    let x = margin;
    for (const item of items) {
      const width = inRow ? this.height(item, 400) && this.doc.widthOfString(this.words(item)) : this.width - 16;
      const height = inRow ? 12 : this.height(item, width);
      if (inRow && x + width + 16 > margin + this.width) {
        x = margin;
        this.#y += 15;
      }
      this.room(height);
      this.doc.save().rect(x, this.#y, 8, 8).lineWidth(0.9).strokeColor(inks.ink).stroke().restore();
      this.line(item, x + 13, this.#y, inRow ? {} : { width });
      if (inRow) x += width + 30;
      else this.#y += height + 4;
    }
    this.#y += inRow ? 18 : 6;
  }

  private findings({ title, items }: Extract<SheetBlock, { kind: 'findings' }>): void {
    this.room(40);
    this.line(title, margin, this.#y, { bold: true });
    this.#y += 14;
    for (const { number, finding } of items) {
      const height = Math.max(18, this.height(finding.message, this.width - 26) + 4);
      this.room(height);
      this.doc
        .save()
        .translate(margin + 9, this.#y + 7)
        .scale(0.72);
      drawElement(this.doc, mark({ x: 0, y: 0 }, number, finding.severity));
      this.doc.restore();
      this.line(finding.message, margin + 24, this.#y + 2, { width: this.width - 26 });
      this.#y += height;
    }
    this.#y += 6;
  }
}

/** Widths in proportion to the longest cells, none too narrow for a word. */
function columnWidths(rows: readonly (readonly string[])[], width: number): number[] {
  const longest = rows[0]!.map((_, index) =>
    Math.max(...rows.map((row) => Math.sqrt(Math.max(row[index]!.length, 6)))),
  );
  const sum = longest.reduce((all, one) => all + one, 0);
  return longest.map((one) => (one / sum) * width);
}
