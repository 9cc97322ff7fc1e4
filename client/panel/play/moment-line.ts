/** A line through the picture of the film in time: where the film is, to be dragged elsewhere. */
import type { TimeAxis } from '../../../server/views/picture.ts';
import type { Seconds } from '../../../server/core/units.ts';

const svgSpace = 'http://www.w3.org/2000/svg';

export class MomentLine {
  #svg: SVGSVGElement | undefined;
  #axis: TimeAxis | undefined;
  #strip: SVGRectElement | undefined;
  #line: SVGGElement | undefined;
  #atS: Seconds | undefined;

  /** @param moved the person has dragged it there, or pointed there */
  constructor(private readonly moved: (atS: Seconds) => void) {}

  attach(svg: SVGSVGElement | undefined, axis: TimeAxis | undefined): void {
    if (svg === this.#svg && axis?.top === this.#axis?.top) return;
    this.#strip?.remove();
    this.#line?.remove();
    [this.#strip, this.#line] = [undefined, undefined];
    this.#svg = svg;
    this.#axis = axis;
    if (svg && axis) this.#make(svg, axis);
    if (this.#atS !== undefined) this.place(this.#atS);
  }

  place(atS: Seconds): void {
    this.#atS = atS;
    const axis = this.#axis;
    if (!axis || !this.#line) return;
    const x = axis.left + ((axis.right - axis.left) * Math.min(atS, axis.lengthS)) / axis.lengthS;
    this.#line.setAttribute('transform', `translate(${Math.round(x * 100) / 100} 0)`);
  }

  #make(svg: SVGSVGElement, { left, right, top, bottom }: TimeAxis): void {
    const line = part('g', { class: 'moment' });
    line.append(
      part('line', { x1: 0, x2: 0, y1: top, y2: bottom, class: 'moment-line' }),
      part('path', { d: `M0 ${top + 27}l6 7l-6 7l-6 -7z`, class: 'moment-grip' }),
      part('rect', { x: -8, y: top - 4, width: 16, height: bottom - top + 4, class: 'moment-hold' }),
    );
    // The strip of seconds leads there too.
    const strip = part('rect', { x: left, y: top - 4, width: right - left, height: 44, class: 'moment-strip' });
    for (const one of [strip, line]) {
      one.addEventListener('pointerdown', (event) => this.#held(event as PointerEvent, one));
      one.addEventListener('pointermove', (event) => this.#dragged(event as PointerEvent, one));
      one.addEventListener('click', (event) => event.stopPropagation());
    }
    svg.append(strip, line);
    [this.#strip, this.#line] = [strip, line];
  }

  #held(event: PointerEvent, on: Element): void {
    if (event.button !== 0) return;
    on.setPointerCapture(event.pointerId);
    event.preventDefault();
    this.#tell(event);
  }

  #dragged(event: PointerEvent, on: Element): void {
    if (on.hasPointerCapture(event.pointerId)) this.#tell(event);
  }

  #tell({ clientX }: PointerEvent): void {
    if (!this.#svg || !this.#axis) return;
    const { left: svgLeft, width } = this.#svg.getBoundingClientRect();
    const x = ((clientX - svgLeft) / width) * this.#svg.viewBox.baseVal.width;
    const { left, right, lengthS } = this.#axis;
    this.moved(Math.max(0, Math.min(1, (x - left) / (right - left))) * lengthS);
  }
}

function part<K extends keyof SVGElementTagNameMap>(
  name: K,
  attributes: Readonly<Record<string, string | number>>,
): SVGElementTagNameMap[K] {
  const made = document.createElementNS(svgSpace, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}
