/** Puts a drawing into the page, element by element: only what draws is taken over, and nothing that acts or loads. */
import type { Part, TextPlace } from './messages.ts';

const svgSpace = 'http://www.w3.org/2000/svg';

/** `title` and `desc` are left out: the page says both itself. */
const elements: ReadonlySet<string> = new Set(['svg', 'g', 'path', 'rect', 'circle', 'line', 'text', 'image']);

const attributes: ReadonlySet<string> = new Set(
  (
    'viewBox width height x y x1 y1 x2 y2 cx cy r rx d transform fill fill-opacity stroke stroke-width stroke-opacity ' +
    'stroke-dasharray stroke-linejoin stroke-linecap paint-order opacity font-size font-weight font-family font-style ' +
    'text-anchor preserveAspectRatio data-start data-end data-file'
  ).split(' '),
);

/** A picture's pixels stand in the drawing itself; nothing is loaded for it. */
const ownPixels = /^data:image\/(?:png|jpeg);base64,[A-Za-z0-9+/]+={0,2}$/;

/** The drawing as elements of this page; undefined when it is no drawing. */
export function drawn(svg: string): SVGSVGElement | undefined {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  const copy = root.localName === 'svg' ? copied(root) : undefined;
  return copy instanceof SVGSVGElement ? copy : undefined;
}

function copied(from: Element): SVGElement | undefined {
  if (from.namespaceURI !== svgSpace || !elements.has(from.localName)) return undefined;
  const to = document.createElementNS(svgSpace, from.localName) as SVGElement;
  if (from.localName === 'image') {
    const pixels = from.getAttribute('href') ?? '';
    if (!ownPixels.test(pixels)) return undefined;
    to.setAttribute('href', pixels);
  }
  for (const { name, value } of from.attributes) {
    if (attributes.has(name) && !pointsElsewhere(value)) to.setAttribute(name, value);
  }
  for (const child of from.childNodes) {
    const inside = child instanceof Element ? copied(child) : child instanceof Text ? child.data : undefined;
    if (inside !== undefined) to.append(inside);
  }
  return to;
}

/** Whether a colour could load something: by a function that may hold an address, or one whose name is escaped. */
function pointsElsewhere(value: string): boolean {
  return value.includes('\\') || /(?<!\b(?:var|rgb|rotate|translate|scale))\s*\(/.test(value);
}

/** What of the plan an element shows; undefined for what comes from none of its places. */
export function spotOf(target: EventTarget | null): TextPlace | undefined {
  const element = target instanceof Element ? target.closest('[data-start]') : null;
  if (!element) return undefined;
  const file = element.getAttribute('data-file') ?? undefined;
  return { start: Number(element.getAttribute('data-start')), end: Number(element.getAttribute('data-end')), file };
}

/** All elements that show one place. */
export function elementsOf(svg: SVGSVGElement, { start, end, file }: TextPlace): SVGGElement[] {
  const found = svg.querySelectorAll<SVGGElement>(`[data-start="${start}"][data-end="${end}"]`);
  return [...found].filter((one) => (one.getAttribute('data-file') ?? undefined) === file);
}

/** Says under the mouse what a thing is. */
export function nameParts(svg: SVGSVGElement, parts: readonly Part[]): void {
  for (const part of parts) {
    for (const element of elementsOf(svg, part)) {
      const title = document.createElementNS(svgSpace, 'title');
      title.textContent = part.words;
      element.prepend(title);
    }
  }
}

/** Draws a line round what shows a place, and takes the lines before away. */
export function outlineParts(svg: SVGSVGElement, spot: TextPlace | undefined): void {
  for (const old of svg.querySelectorAll('.outline')) old.remove();
  for (const element of spot ? elementsOf(svg, spot) : []) {
    const { x, y, width, height } = element.getBBox();
    const rect = document.createElementNS(svgSpace, 'rect');
    const size = { x: x - 4, y: y - 4, width: width + 8, height: height + 8, rx: 3 };
    for (const [name, value] of Object.entries(size)) rect.setAttribute(name, String(value));
    rect.setAttribute('class', 'outline');
    svg.append(rect);
  }
}
