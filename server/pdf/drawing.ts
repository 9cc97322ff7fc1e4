/** Draws our own elements into a PDF: lines, outlines, words and pixels; there is nothing else in them. */
import type { PDFDocument } from 'pdfkit';
import { type Attr, type El, type Ink, inks } from '../views/svg.ts';
import { printable } from './letters.ts';
import { drawJpeg, drawPng } from './pixels.ts';

/** At the document's own origin and scale. True when a word had letters that can't be printed. */
export function drawElement(doc: PDFDocument, element: El): boolean {
  switch (element.name) {
    case 'svg':
    case 'g':
      return element.children.map((one) => typeof one !== 'string' && drawElement(doc, one)).some(Boolean);
    case 'text':
      return drawText(doc, element);
    case 'path':
      return inked(doc, element, () => doc.path(String(element.attrs['d'])));
    case 'rect':
      return inked(doc, element, () =>
        doc.rect(n(element, 'x'), n(element, 'y'), n(element, 'width'), n(element, 'height')),
      );
    case 'circle':
      return inked(doc, element, () => doc.circle(n(element, 'cx'), n(element, 'cy'), n(element, 'r')));
    case 'line':
      return inked(doc, element, () =>
        doc.moveTo(n(element, 'x1'), n(element, 'y1')).lineTo(n(element, 'x2'), n(element, 'y2')),
      );
    case 'image':
      return drawImage(doc, element);
    case 'title':
    case 'desc':
      return false;
  }
}

/** Pixels that stand in the drawing itself: a lit scene. */
function drawImage(doc: PDFDocument, element: El): false {
  const [, kind, packed] = /^data:image\/(png|jpeg);base64,(.+)$/.exec(String(element.attrs['href'])) ?? [];
  if (packed === undefined) return false;
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const [x, y, width, height] = [n(element, 'x'), n(element, 'y'), n(element, 'width'), n(element, 'height')];
  const turned = /^rotate\((90|180|270) ([\d.]+) ([\d.]+)\)$/.exec(String(element.attrs['transform'] ?? ''));
  doc.save();
  if (turned) turn(doc, Number(turned[1]), { x: Number(turned[2]), y: Number(turned[3]) });
  if (kind === 'png') drawPng(doc, bytes, { x, y, width, height });
  else drawJpeg(doc, bytes, { x, y, width, height });
  doc.restore();
  return false;
}

/** Clockwise round a point. */
function turn(doc: PDFDocument, degrees: number, { x, y }: { readonly x: number; readonly y: number }): void {
  const [cosine, sine] = [
    Math.round(Math.cos((degrees * Math.PI) / 180)),
    Math.round(Math.sin((degrees * Math.PI) / 180)),
  ];
  doc.transform(cosine, sine, -sine, cosine, x - x * cosine + y * sine, y - x * sine - y * cosine);
}

function n({ attrs }: El, name: string, otherwise = 0): number {
  const value = attrs[name];
  return typeof value === 'number' && Number.isFinite(value) ? value : otherwise;
}

/** Undefined for `none` and for what is not said. */
function colour(value: Attr): string | undefined {
  if (typeof value === 'object') return inks[(value as Ink).ink];
  return typeof value === 'string' && value.startsWith('#') ? value : undefined;
}

function inked(doc: PDFDocument, element: El, outline: () => void): false {
  const { attrs } = element;
  const [fill, stroke] = [colour(attrs['fill']), colour(attrs['stroke'])];
  if (!fill && !stroke) return false;
  doc.save();
  if (fill) doc.fillColor(fill).fillOpacity(n(element, 'fill-opacity', 1));
  if (stroke) {
    doc
      .strokeColor(stroke)
      .strokeOpacity(1)
      .lineWidth(n(element, 'stroke-width', 1));
    const dashes = attrs['stroke-dasharray'];
    if (typeof dashes === 'string') doc.dash(dashes.split(/[ ,]+/).map(Number));
    if (attrs['stroke-linejoin'] === 'round') doc.lineJoin('round');
  }
  outline();
  if (fill && stroke) doc.fillAndStroke();
  else if (fill) doc.fill();
  else doc.stroke();
  doc.restore();
  return false;
}

function drawText(doc: PDFDocument, element: El): boolean {
  const { attrs, children } = element;
  const { words, lost } = printable(children.filter((one) => typeof one === 'string').join(''));
  doc.save();
  doc.font(attrs['font-weight'] === 'bold' ? 'Helvetica-Bold' : 'Helvetica').fontSize(n(element, 'font-size', 12));
  const width = doc.widthOfString(words);
  const anchor = attrs['text-anchor'];
  const x = n(element, 'x') - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
  const options = { lineBreak: false, baseline: 'alphabetic' } as const;
  const rim = colour(attrs['stroke']);
  if (rim) {
    doc
      .strokeColor(rim)
      .lineWidth(n(element, 'stroke-width', 3))
      .lineJoin('round');
    doc.text(words, x, n(element, 'y'), { ...options, stroke: true, fill: false });
  }
  doc
    .fillColor(colour(attrs['fill']) ?? inks.ink)
    .fillOpacity(1)
    .text(words, x, n(element, 'y'), options);
  doc.restore();
  return lost;
}
