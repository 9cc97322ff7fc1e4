/** Looks at drawings in a browser: words that stand on lines or on other words, leave the page, or are too small to read. */
import type { Page } from 'playwright-core';

export interface Crossing {
  readonly words: string;
  readonly by: string;
}

/** What is wrong with the words of every drawing on a page; the sizes are those that are seen. */
export function crossings(page: Page, least = 11): Promise<Crossing[]> {
  return page.evaluate((smallest) => {
    type Box = { left: number; right: number; top: number; bottom: number };
    type Item = { element: SVGGraphicsElement; box: Box; lines: number[][]; words?: string };
    const found: { words: string; by: string }[] = [];

    /** The letters themselves: capitals are 0.74 of the size high, and only some letters reach below the line. */
    function lettersOf(text: SVGTextElement): Box {
      const { x, width } = text.getBBox();
      const [foot, size] = [Number(text.getAttribute('y')), Number(text.getAttribute('font-size'))];
      const down = /[gjpqyQ,;()[\]{}|/]/.test(text.textContent ?? '') ? 0.18 : 0;
      return { left: x + 0.5, right: x + width - 0.5, top: foot - 0.72 * size, bottom: foot + down * size };
    }

    /** Straight strokes of an element, as x1 y1 x2 y2. */
    function linesOf(element: SVGGraphicsElement): number[][] {
      const style = getComputedStyle(element);
      const isSeen = (style.stroke !== 'none' && style.strokeWidth !== '0') || style.fill !== 'none';
      const value = (name: string) => Number(element.getAttribute(name) ?? 0);
      if (!isSeen) return [];
      if (element.localName === 'line') return [['x1', 'y1', 'x2', 'y2'].map(value)];
      const corners: number[][] = [];
      if (element.localName === 'rect') {
        const [x, y, w, h] = ['x', 'y', 'width', 'height'].map(value) as [number, number, number, number];
        corners.push([x, y], [x + w, y], [x + w, y + h], [x, y + h]);
      }
      if (element.localName === 'circle')
        for (let turn = 0; turn < 24; turn++)
          corners.push([
            value('cx') + value('r') * Math.cos((turn * Math.PI) / 12),
            value('cy') + value('r') * Math.sin((turn * Math.PI) / 12),
          ]);
      if (corners.length > 0) return corners.map((a, index) => [...a, ...corners[(index + 1) % corners.length]!]);
      const lines: number[][] = [];
      let [first, last]: number[][] = [];
      for (const [, step, numbers] of (element.getAttribute('d') ?? '').matchAll(/([MLZ])([^MLZ]*)/g)) {
        const next: number[] = step === 'Z' ? first! : numbers!.split(' ').map(Number);
        if (step !== 'M') lines.push([...last!, ...next]);
        if (step === 'M') first = next;
        last = next;
      }
      return lines;
    }

    /** Does any of a stroke lie in a box? Liang and Barsky. */
    function meets([x1, y1, x2, y2]: number[], box: Box): boolean {
      let [from, to] = [0, 1];
      for (const [way, room] of [
        [x1! - x2!, x1! - box.left],
        [x2! - x1!, box.right - x1!],
        [y1! - y2!, y1! - box.top],
        [y2! - y1!, box.bottom - y1!],
      ] as const) {
        if (way === 0 && room < 0) return false;
        if (way < 0) from = Math.max(from, room / way);
        else if (way > 0) to = Math.min(to, room / way);
      }
      return from < to;
    }

    /** What was drawn before is hidden by paper, or any colour that lets nothing through, under all of a word. */
    function isPaper({ element, box: outer }: Item, inner: Box): boolean {
      if (!(element instanceof SVGGeometryElement) || !holds(outer, inner)) return false;
      const { fill, fillOpacity } = getComputedStyle(element);
      if (fill === 'none' || fillOpacity !== '1') return false;
      const corners = [inner.left + 1, inner.right - 1].flatMap((x) =>
        [inner.top + 1, inner.bottom - 1].map((y) => new DOMPoint(x, y)),
      );
      return corners.every((point) => element.isPointInFill(point));
    }

    const holds = (outer: Box, inner: Box) =>
      outer.left <= inner.left + 1 &&
      outer.right >= inner.right - 1 &&
      outer.top <= inner.top &&
      outer.bottom >= inner.bottom;
    const share = (a: Box, b: Box) =>
      Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 &&
      Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1;

    for (const svg of document.querySelectorAll<SVGSVGElement>('svg[data-view], #picture svg, figure svg')) {
      const [, , width, height] = svg.getAttribute('viewBox')!.split(' ').map(Number) as [
        number,
        number,
        number,
        number,
      ];
      const scale = svg.getBoundingClientRect().width / width;
      const name = svg.getAttribute('aria-label') ?? svg.querySelector('title')?.textContent ?? '';
      const all = [...svg.querySelectorAll<SVGGraphicsElement>('text, line, path, rect, circle')].slice(1);
      const items = all.map((element): Item => {
        if (element instanceof SVGTextElement)
          return { element, box: lettersOf(element), lines: [], words: element.textContent ?? '' };
        const { x, y, width: w, height: h } = element.getBBox();
        return { element, box: { left: x, right: x + w, top: y, bottom: y + h }, lines: linesOf(element) };
      });
      items.forEach((text, at) => {
        if (text.words === undefined || text.words.trim() === '') return;
        const say = (by: string) => found.push({ words: `${name}: ${text.words}`, by });
        const { box } = text;
        const size = Number(text.element.getAttribute('font-size')) * scale;
        if (size < smallest - 1e-6) say(`is ${size.toFixed(1)} px`);
        if (box.left < 0 || box.right > width || box.top < 0 || box.bottom > height) say('leaves the page');
        const paper = items.findLastIndex((one, index) => index < at && isPaper(one, box));
        items.forEach((other, index) => {
          if (index === at || (index < paper && index < at)) return;
          if (other.words !== undefined) {
            if (index < at && share(box, other.box)) say(`on "${other.words}"`);
          } else if (other.lines.some((line) => meets(line, box))) say(`on a ${other.element.localName}`);
        });
      });
    }
    return found;
  }, least);
}
