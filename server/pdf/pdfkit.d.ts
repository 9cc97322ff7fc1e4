/** The part of the PDF library that we use, in its build for every runtime. */
declare module 'pdfkit' {
  export interface TextOptions {
    width?: number;
    height?: number;
    lineBreak?: boolean;
    lineGap?: number;
    baseline?: 'alphabetic' | 'top';
    stroke?: boolean;
    fill?: boolean;
    align?: 'left' | 'center' | 'right';
  }

  export class PDFDocument {
    constructor(options: {
      size: string;
      margin: number;
      bufferPages?: boolean;
      lang?: string;
      displayTitle?: boolean;
      info?: Record<string, string | Date>;
    });
    x: number;
    y: number;
    readonly page: {
      readonly width: number;
      readonly height: number;
      readonly margins: { bottom: number };
      readonly xobjects: Record<string, unknown>;
    };
    ref(fields: Record<string, unknown>): { end(data: Uint8Array): void };
    addContent(words: string): this;
    transform(a: number, b: number, c: number, d: number, e: number, f: number): this;
    on(event: 'data', listener: (chunk: Uint8Array) => void): this;
    on(event: 'end', listener: () => void): this;
    addPage(): this;
    bufferedPageRange(): { start: number; count: number };
    switchToPage(number: number): this;
    end(): void;
    save(): this;
    restore(): this;
    translate(x: number, y: number): this;
    scale(factor: number): this;
    path(d: string): this;
    rect(x: number, y: number, width: number, height: number): this;
    circle(x: number, y: number, radius: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    lineWidth(width: number): this;
    lineJoin(join: string): this;
    dash(length: number, options: { space: number }): this;
    dash(lengths: number[]): this;
    undash(): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    fillOpacity(share: number): this;
    strokeOpacity(share: number): this;
    fill(): this;
    stroke(): this;
    fillAndStroke(): this;
    font(name: string): this;
    fontSize(size: number): this;
    text(words: string, x: number, y: number, options?: TextOptions): this;
    widthOfString(words: string): number;
    heightOfString(words: string, options?: TextOptions): number;
  }
  export function registerStdFonts(...fonts: unknown[]): void;
}

declare module 'pdfkit/standard-fonts/Helvetica' {
  const font: unknown;
  export default font;
}

declare module 'pdfkit/standard-fonts/HelveticaBold' {
  const font: unknown;
  export default font;
}
