/** Pictures of pixels in a PDF, whose filters are those of PNG and JPEG: what is packed goes over as it is. */
import type { PDFDocument } from 'pdfkit';

interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A picture of 8 bits of red, green and blue, as `views/lit/png.ts` makes them. */
export function drawPng(doc: PDFDocument, bytes: Uint8Array, place: Place): void {
  const head = viewOf(bytes);
  const [width, height] = [head.getUint32(16), head.getUint32(20)];
  const picture = doc.ref({
    Type: 'XObject',
    Subtype: 'Image',
    Width: width,
    Height: height,
    ColorSpace: 'DeviceRGB',
    BitsPerComponent: 8,
    Filter: 'FlateDecode',
    // PNG's prediction (PDF 32000-1, 7.4.4.4): each row begins with the number of its filter.
    DecodeParms: { Predictor: 15, Colors: 3, BitsPerComponent: 8, Columns: width },
  });
  picture.end(rowsOf(bytes));
  put(doc, picture, place);
}

/** A JPEG file whose head was looked at before. */
export function drawJpeg(doc: PDFDocument, bytes: Uint8Array, place: Place): void {
  const frame = frameOf(bytes);
  if (!frame) return;
  const picture = doc.ref({
    Type: 'XObject',
    Subtype: 'Image',
    ...frame,
    BitsPerComponent: 8,
    Filter: 'DCTDecode',
  });
  picture.end(bytes);
  put(doc, picture, place);
}

/** Its size and colours: the start of its frame (Rec. ITU-T T.81, B.2.2). */
function frameOf(bytes: Uint8Array): { Width: number; Height: number; ColorSpace: string } | undefined {
  const view = viewOf(bytes);
  for (let at = 2; at + 10 <= bytes.length; at += 2 + view.getUint16(at + 2)) {
    const marker = view.getUint16(at);
    if (marker < 0xffc0 || marker > 0xffcf || [0xffc4, 0xffc8, 0xffcc].includes(marker)) continue;
    const ColorSpace = bytes[at + 9] === 1 ? 'DeviceGray' : 'DeviceRGB';
    return { Width: view.getUint16(at + 7), Height: view.getUint16(at + 5), ColorSpace };
  }
  return undefined;
}

function put(doc: PDFDocument, picture: unknown, place: Place): void {
  const name = `P${Object.keys(doc.page.xobjects).length + 1}`;
  doc.page.xobjects[name] = picture;
  doc
    .save()
    .transform(place.width, 0, 0, -place.height, place.x, place.y + place.height)
    .addContent(`/${name} Do`)
    .restore();
}

/** The packed rows: all `IDAT` chunks one behind the other. */
function rowsOf(file: Uint8Array): Uint8Array {
  const view = viewOf(file);
  const parts: Uint8Array[] = [];
  for (let at = 8; at + 8 <= file.length;) {
    const length = view.getUint32(at);
    if (String.fromCharCode(...file.subarray(at + 4, at + 8)) === 'IDAT')
      parts.push(file.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  const rows = new Uint8Array(parts.reduce((sum, one) => sum + one.length, 0));
  let to = 0;
  for (const part of parts) {
    rows.set(part, to);
    to += part.length;
  }
  return rows;
}

function viewOf(file: Uint8Array): DataView {
  return new DataView(file.buffer, file.byteOffset, file.byteLength);
}
