/** The sheet as a PDF, for printers without a browser. A program of its own, loaded only when it is asked for. */
import { PDFDocument, registerStdFonts } from 'pdfkit';
import Helvetica from 'pdfkit/standard-fonts/Helvetica';
import HelveticaBold from 'pdfkit/standard-fonts/HelveticaBold';
import type { Sheet, SheetBlock, TableBlock } from '../views/sheet/blocks.ts';
import { mark } from '../views/marks.ts';
import { pictureElement } from '../views/picture.ts';
import { unbroken } from '../views/sheet/words.ts';
import { inks } from '../views/svg.ts';
import { drawElement } from './drawing.ts';
import { drawPng } from './pixels.ts';
import { printable } from './letters.ts';

registerStdFonts(Helvetica, HelveticaBold);

export type Paper = 'a4' | 'letter';

const margin = 34;
/** 11 CSS pixels: nothing is smaller. */
const setSize = 8.25;
/** Of what is read at a desk. */
const clientSize = 10;
/** A row that somebody writes in. */
const formRow = 16;
/** Between what stands side by side. */
const gutter = 14;
/** Drawings are made in CSS pixels, of which 96 are an inch. */
const ptPerPx = 0.75;

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
  const printer = new Printer(doc, sheet.isForClient ? clientSize : setSize);
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
  /** The column that is written in. */
  #x = margin;
  readonly #whole: number;
  #width: number;
  /** Nothing is put on paper: only the height is wanted. */
  #isMeasuring = false;
  /** True when a letter could not be printed. */
  #lost = false;

  constructor(
    readonly doc: PDFDocument,
    readonly size: number,
  ) {
    this.#whole = doc.page.width - 2 * margin;
    this.#width = this.#whole;
  }

  get width(): number {
    return this.#width;
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
        return this.paragraph(unbroken(block.words));
      case 'facts':
        return this.facts(block.rows.map(([name, value]) => [name, unbroken(value)]));
      case 'list':
        return this.facts(
          block.rows.map(([name, value]) => [name, unbroken(value)]),
          { isList: true },
        );
      case 'table':
        return this.table({ ...block, rows: block.rows.map((row) => row.map(unbroken)) });
      case 'picture':
        return this.picture(block.picture);
      case 'ticks':
        return this.ticks({ ...block, items: block.items.map(unbroken) });
      case 'frames':
        return this.frames(block);
      case 'questions':
        return this.questions(block.items);
      case 'findings':
        return this.findings({ ...block, items: block.items.map((one) => ({ ...one, words: unbroken(one.words) })) });
      case 'together':
        this.room(this.measured(() => this.printAll(block.blocks)));
        return this.printAll(block.blocks);
      case 'beside':
        return this.beside(block);
    }
  }

  private printAll(blocks: readonly SheetBlock[]): void {
    for (const block of blocks) this.print(block);
  }

  /** How high something comes out. */
  private measured(print: () => void): number {
    const [y, was] = [this.#y, this.#isMeasuring];
    [this.#y, this.#isMeasuring] = [0, true];
    print();
    const height = this.#y;
    [this.#y, this.#isMeasuring] = [y, was];
    return height;
  }

  private beside({ columns, isFirstWide }: Extract<SheetBlock, { kind: 'beside' }>): void {
    const [left, whole] = [this.#x, this.#width];
    const unit = (whole - gutter * (columns.length - 1)) / (columns.length + (isFirstWide ? 1 : 0));
    const each = (print: (column: readonly SheetBlock[]) => void) => {
      let x = left;
      columns.forEach((column, index) => {
        const width = isFirstWide && index === 0 ? 2 * unit : unit;
        [this.#x, this.#width] = [x, width];
        print(column);
        x += width + gutter;
      });
      [this.#x, this.#width] = [left, whole];
    };
    let height = 0;
    each(
      (column) =>
        (height = Math.max(
          height,
          this.measured(() => this.printAll(column)),
        )),
    );
    this.room(height);
    const top = this.#y;
    each((column) => {
      this.#y = top;
      this.printAll(column);
    });
    this.#y = top + height;
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
      this.line(`${title}, page ${page + 1} of ${count}`, margin, y, { fill: inks.soft });
    }
  }

  private page(): void {
    if (this.#isMeasuring || this.#y === margin) return;
    this.doc.addPage();
    this.#y = margin;
  }

  private room(height: number): void {
    if (!this.#isMeasuring && this.#y + height > this.bottom) this.page();
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
    style: { size?: number; bold?: boolean; fill?: string; width?: number; align?: 'left' | 'right' } = {},
  ): void {
    if (this.#isMeasuring) return;
    const { doc } = this;
    doc
      .font(style.bold ? 'Helvetica-Bold' : 'Helvetica')
      .fontSize(style.size ?? this.size)
      .fillColor(style.fill ?? inks.ink)
      .fillOpacity(1);
    doc.text(
      this.words(text),
      x,
      y,
      style.width === undefined ? { lineBreak: false } : { width: style.width, align: style.align ?? 'left' },
    );
  }

  private height(text: string, width: number, bold = false, fontSize = this.size): number {
    this.doc.font(bold ? 'Helvetica-Bold' : 'Helvetica').fontSize(fontSize);
    return this.doc.heightOfString(this.words(text) || ' ', { width });
  }

  private heading(words: string, level: 1 | 2 | 3): void {
    const fontSize = { 1: 17, 2: 13, 3: 10.5 }[level];
    const height = this.height(words, this.width, true, fontSize);
    this.room(height + 90);
    this.#y += level === 1 || this.#y === margin ? 0 : 5;
    this.line(words, this.#x, this.#y, { size: fontSize, bold: true, width: this.width });
    this.#y += height + 4;
  }

  private paragraph(words: string): void {
    const height = this.height(words, this.width);
    this.room(height);
    this.line(words, this.#x, this.#y, { width: this.width });
    this.#y += height + 4;
  }

  /** @param isList with sentences, which have the whole width */
  private facts(rows: readonly (readonly [string, string])[], { isList = false } = {}): void {
    const names = isList ? 100 : 60;
    const columns = this.width > 300 && !isList ? 2 : 1;
    const each = (this.width - gutter * (columns - 1)) / columns;
    for (let index = 0; index < rows.length; index += columns) {
      const line = rows.slice(index, index + columns);
      const heights = line.flatMap(([name, value]) => [
        this.height(value, each - names, !isList),
        this.height(name, names - 4),
      ]);
      const height = Math.max(...heights);
      this.room(height + 2);
      line.forEach(([name, value], column) => {
        const x = this.#x + column * (each + gutter);
        this.line(name, x, this.#y, { fill: inks.soft, width: names - 4 });
        this.line(value, x + names, this.#y, { bold: !isList, width: each - names });
      });
      this.#y += height + 2;
    }
    this.#y += 3;
  }

  private table({ caption, head, rows, isForm, isSum }: TableBlock): void {
    if (rows.length === 0) return;
    const widths = isForm ? head.map(() => this.width / head.length) : columnWidths([head, ...rows], this.width);
    const least = isForm ? formRow * (this.size / setSize) : 0;
    const rowHeight = (row: readonly string[], bold = false) =>
      Math.max(
        bold ? 0 : least,
        Math.max(...row.map((cell, index) => this.height(cell, widths[index]! - 6, bold || index === 0))) + 4,
      );
    const whole = rows.reduce((sum, row) => sum + rowHeight(row), 14 + rowHeight(head, true));
    // A table that a page holds is not parted.
    this.room(whole < this.bottom - margin ? whole : 14 + rowHeight(head, true) + rowHeight(rows[0]!));
    const captionHeight = this.height(caption, this.width, true);
    this.line(caption, this.#x, this.#y, { bold: true, width: this.width });
    this.#y += captionHeight + 3;
    for (const [at, row] of [head, ...rows].entries()) {
      const height = rowHeight(row, at === 0);
      this.room(height);
      this.row(row, widths, height, { isHead: at === 0, isSum: isSum === true, isLast: at === rows.length });
      this.#y += height;
    }
    this.#y += 6;
  }

  private row(
    row: readonly string[],
    widths: readonly number[],
    height: number,
    { isHead, isSum, isLast }: { isHead: boolean; isSum: boolean; isLast: boolean },
  ): void {
    let x = this.#x;
    row.forEach((cell, index) => {
      const width = widths[index]!;
      if (!this.#isMeasuring) {
        this.doc.save().rect(x, this.#y, width, height).lineWidth(0.5).strokeColor(inks.line);
        if (isHead) this.doc.fillColor(inks.shade).fillAndStroke();
        else this.doc.stroke();
        this.doc.restore();
      }
      this.line(cell, x + 3, this.#y + 2.5, {
        bold: isHead || index === 0 || (isSum && isLast),
        width: width - 6,
        align: isSum && index === row.length - 1 ? 'right' : 'left',
      });
      x += width;
    });
  }

  private picture(picture: Parameters<typeof pictureElement>[0]): void {
    const fits = this.bottom - margin;
    const scale = Math.min(ptPerPx, this.width / picture.width, fits / picture.height);
    const height = picture.height * scale;
    this.room(height);
    if (!this.#isMeasuring) {
      const element = pictureElement(picture, { captions: false });
      this.doc.save().translate(this.#x, this.#y).scale(scale);
      this.#lost = drawElement(this.doc, element) || this.#lost;
      this.doc.restore();
    }
    this.#y += height + 4;
  }

  /** In rows, each as high as its highest. */
  private frames({ frames, isStrip }: Extract<SheetBlock, { kind: 'frames' }>): void {
    const columns = isStrip ? 5 : 2;
    const width = (this.width - gutter * (columns - 1)) / columns;
    const most = isStrip ? 90 : 200;
    for (let index = 0; index < frames.length; index += columns) {
      const row = frames.slice(index, index + columns);
      const sizes = row.map(({ png }) => {
        const scale = png ? Math.min(width / png.width, most / png.height) : 0;
        return png ? { width: png.width * scale, height: png.height * scale } : { width, height: 40 };
      });
      const pictures = Math.max(...sizes.map(({ height }) => height));
      const words = row.map(({ heading, words }) =>
        [heading, ...words].map((one, at) => ({ text: one, bold: at === 0 })),
      );
      const heights = words.map((lines) =>
        lines.reduce((sum, { text, bold }) => sum + this.height(text, width, bold) + 1, 0),
      );
      this.room(pictures + Math.max(...heights) + 6);
      row.forEach(({ png }, column) => {
        const x = this.#x + column * (width + gutter);
        if (png && !this.#isMeasuring) drawPng(this.doc, png.bytes, { x, y: this.#y, ...sizes[column]! });
        let y = this.#y + pictures + 3;
        for (const { text, bold } of words[column]!) {
          this.line(text, x, y, { bold, width });
          y += this.height(text, width, bold) + 1;
        }
      });
      this.#y += pictures + Math.max(...heights) + 8;
    }
  }

  private questions(items: readonly string[]): void {
    items.forEach((item, index) => {
      const height = this.height(item, this.width - 20);
      this.room(height + 30);
      this.line(`${index + 1}.`, this.#x, this.#y);
      this.line(item, this.#x + 18, this.#y, { width: this.width - 20 });
      this.#y += height + 22;
      if (!this.#isMeasuring)
        this.doc
          .save()
          .moveTo(this.#x + 18, this.#y)
          .lineTo(this.#x + this.width, this.#y)
          .lineWidth(0.7)
          .strokeColor(inks.ink)
          .stroke()
          .restore();
      this.#y += 8;
    });
  }

  private ticks({ title, items, inRow }: Extract<SheetBlock, { kind: 'ticks' }>): void {
    this.room(30);
    if (title) {
      this.line(title, this.#x, this.#y, { bold: true });
      this.#y += 13;
    }
    let x = this.#x;
    for (const item of items) {
      const width = inRow ? this.height(item, 400) && this.doc.widthOfString(this.words(item)) : this.width - 16;
      const height = inRow ? 12 : this.height(item, width);
      if (inRow && x + width + 16 > this.#x + this.width) {
        x = this.#x;
        this.#y += 13;
      }
      this.room(height);
      this.box(x);
      this.line(item, x + 12, this.#y, inRow ? {} : { width });
      if (inRow) x += width + 26;
      else this.#y += height + 2.5;
    }
    this.#y += inRow ? 16 : 4;
  }

  private box(x: number): void {
    if (this.#isMeasuring) return;
    this.doc.save().rect(x, this.#y, 7.5, 7.5).lineWidth(0.9).strokeColor(inks.ink).stroke().restore();
  }

  private findings({ title, items }: Extract<SheetBlock, { kind: 'findings' }>): void {
    this.room(40);
    this.line(title, this.#x, this.#y, { bold: true, size: 10 });
    this.#y += 14;
    for (const { number, severity, words } of items) {
      const height = Math.max(16, this.height(words, this.width - 26) + 1.5);
      this.room(height);
      if (!this.#isMeasuring) {
        this.doc
          .save()
          .translate(this.#x + 9, this.#y + 8)
          .scale(0.62);
        drawElement(this.doc, mark({ x: 0, y: 0 }, number, severity));
        this.doc.restore();
      }
      this.line(words, this.#x + 24, this.#y + 3, { width: this.width - 26 });
      this.#y += height;
    }
    this.#y += 4;
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
