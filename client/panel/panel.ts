/** The page's script: shows the picture that it is sent, and says what the person wants. It reaches nothing else. */
import { drawn, nameParts, outlineParts, spotOf } from './drawing.ts';
import { inksFor } from './inks.ts';
import {
  type Found,
  type FromPanel,
  type Kept,
  nextZoom,
  type Part,
  type Picture,
  type Room,
  type ToPanel,
} from './messages.ts';
import { quotedAsCode } from './quoted.ts';
import { put, type PanelText } from './panel-text.ts';
import { Player } from './play/player.ts';

declare function acquireVsCodeApi(): {
  postMessage(message: FromPanel): void;
  setState(kept: Kept): void;
};

const host = acquireVsCodeApi();
/** Written into the page by the extension, in the editor's language. */
const words = JSON.parse(document.body.dataset['words']!) as PanelText;
let kept: Kept | undefined;
let picture: Picture | undefined;
let svg: SVGSVGElement | undefined;
/** The text that `svg` was made from. */
let svgText = '';
/** What was said last of the room for pictures. */
let room: Room | undefined;
/** The part that the arrow keys are at. */
let partAt = 0;

const byId = <T extends HTMLElement>(id: string) => document.getElementById(id) as T;
const page = {
  all: byId('all'),
  nothing: byId('nothing'),
  why: byId('why'),
  views: byId('views'),
  shotLabel: byId('shot-label'),
  shot: byId<HTMLSelectElement>('shot'),
  deliverableLabel: byId('deliverable-label'),
  deliverable: byId<HTMLSelectElement>('deliverable'),
  lit: byId('lit'),
  fit: byId('fit'),
  title: byId('title'),
  note: byId('note'),
  seen: byId('seen'),
  picture: byId('picture'),
  description: byId('description'),
  findingsHead: byId('findings-head'),
  findings: byId('findings'),
  parts: byId('parts'),
};

const player = new Player(words, (message) => host.postMessage(message));

// -- what comes in ---------------------------------------------------------------------------------------------------

window.addEventListener('message', ({ data }: MessageEvent<ToPanel | null | undefined>) => {
  if (data && player.told(data)) return;
  if (data?.kind !== 'show' && data?.kind !== 'empty') return;
  page.all.hidden = data.kind !== 'show';
  page.nothing.hidden = data.kind === 'show';
  if (data.kind === 'empty') {
    player.open(false, undefined, undefined);
    say(page.why, data.words);
  } else show(data.picture, data.kept, data.file);
});

function show(next: Picture, choices: Kept, file: string): void {
  picture = next;
  kept = merged(choices);
  host.setState(kept);
  say(page.title, next.title);
  say(page.note, next.old ? put(words.old, file) : '');
  say(page.description, next.description);
  showViews(next);
  showChoices(next, kept);
  showPicture(next);
  player.open(next.view === 'timeline', svg, next.axis);
  player.textAt(next.here);
  showFindings(next.findings);
  showParts(next);
  sayRoom();
}

/** What was chosen here meanwhile counts, but for a shot of another plan. */
function merged(choices: Kept): Kept {
  if (!kept) return choices;
  return { ...kept, uri: choices.uri, shot: kept.uri === choices.uri ? kept.shot : choices.shot };
}

/** Words that stay are not written again, so that nothing reads them aloud twice. */
function say(element: HTMLElement, words: string): void {
  if (element.textContent !== words) element.textContent = words;
}

function showViews({ views, view }: Picture): void {
  const shown = [...page.views.children].map((tab) => tab.id).join();
  if (shown !== views.map(({ name }) => tabId(name)).join()) {
    page.views.replaceChildren(
      ...views.map(({ name, title, summary }) => {
        const tab = element('button', title, { type: 'button', role: 'tab', id: tabId(name), title: summary });
        tab.setAttribute('aria-controls', 'picture');
        tab.addEventListener('click', () => choose({ view: name }));
        return tab;
      }),
    );
  }
  for (const tab of page.views.children) {
    const selected = tab.id === tabId(view);
    tab.setAttribute('aria-selected', String(selected));
    tab.setAttribute('tabindex', selected ? '0' : '-1');
  }
}

const tabId = (view: string) => `view-${view}`;

function showChoices({ views, view, shots, shot, deliverables }: Picture, choices: Kept): void {
  const ofShot = views.find(({ name }) => name === view)?.about === 'shot';
  page.shotLabel.hidden = !ofShot || shots.length === 0;
  const isFollowed = choices.shot === undefined && shot !== undefined;
  const followed = isFollowed ? put(words.atCursorIn, shot) : words.atCursor;
  options(page.shot, [['', followed], ...shots.map((name) => [`=${name}`, name] as const)], pinned(choices.shot));
  page.lit.hidden = view !== 'frame';
  page.lit.setAttribute('aria-pressed', String(choices.isLit === true));
  // Frames of all can be shown, and the film of one be played.
  const isFilm = view === 'timeline';
  page.deliverableLabel.hidden = (view !== 'frame' && !isFilm) || deliverables.length < 2;
  const each = deliverables.map((name) => [`=${name}`, name] as const);
  const first = isFilm ? deliverables[0] : undefined;
  options(
    page.deliverable,
    isFilm ? each : [['', words.allDeliverables], ...each],
    pinned(choices.deliverable ?? first),
  );
  if (page.deliverable.selectedIndex < 0) page.deliverable.selectedIndex = 0;
}

/** A name as a choice, so that no name can be taken for the choice of none. */
const pinned = (name: string | undefined) => (name === undefined ? '' : `=${name}`);
const unpinned = (value: string) => (value === '' ? undefined : value.slice(1));

function options(select: HTMLSelectElement, choices: readonly (readonly [string, string])[], chosen: string): void {
  const wanted = JSON.stringify(choices);
  if (select.dataset['choices'] !== wanted) {
    select.dataset['choices'] = wanted;
    select.replaceChildren(...choices.map(([value, words]) => element('option', words, { value })));
  }
  select.value = choices.some(([value]) => value === chosen) ? chosen : '';
}

function showPicture(next: Picture): void {
  // Steps of the cursor mostly change nothing in it.
  if (next.svg === svgText) return;
  svgText = next.svg;
  const { scrollLeft, scrollTop } = page.picture;
  svg = drawn(next.svg);
  page.picture.replaceChildren(...(svg ? [svg] : []));
  svg?.setAttribute('role', 'img');
  svg?.setAttribute('aria-label', next.title);
  if (svg) nameParts(svg, next.parts);
  // The box keeps the shape of the picture, however large that is in it.
  const [, , width, height] = (svg?.getAttribute('viewBox') ?? '').split(' ');
  page.picture.style.setProperty('aspect-ratio', `${Number(width) || 1} / ${Number(height) || 1}`);
  showZoom();
  page.picture.scrollTo({ left: scrollLeft, top: scrollTop });
}

function showFindings(findings: readonly Found[]): void {
  const { length } = findings;
  const some = length === 1 ? words.oneFinding : put(words.findings, length);
  say(page.findingsHead, length === 0 ? words.noFinding : some);
  page.findings.replaceChildren(
    ...findings.map((finding) => {
      const button = element('button', '', { type: 'button', title: words.goTo });
      const mark = drawn(finding.mark);
      mark?.setAttribute('aria-hidden', 'true');
      const severity = element('strong', `${finding.number} ${words[finding.severity]}:`);
      button.append(
        ...(mark ? [mark] : []),
        element('span', '', {}, [
          severity,
          ' ',
          ...quotedAsCode(finding.message),
          ' ',
          element('code', finding.rule, { class: 'rule' }),
        ]),
      );
      button.addEventListener('click', () => host.postMessage({ kind: 'go', spot: plainSpot(finding) }));
      return element('li', '', {}, [button]);
    }),
  );
}

function showParts({ parts, here }: Picture): void {
  const focused = document.activeElement === page.parts;
  const atCursor = here === undefined ? -1 : smallestAt(parts, here);
  page.parts.replaceChildren(
    ...parts.map((part, index) => {
      const option = element('li', part.words, { role: 'option', id: `part-${index}` });
      option.addEventListener('click', () => go(index));
      option.addEventListener('pointerenter', () => svg && outlineParts(svg, part));
      return option;
    }),
  );
  if (!focused && atCursor >= 0) partAt = atCursor;
  markPart(Math.min(partAt, parts.length - 1), focused);
  if (svg && !focused) outlineParts(svg, parts[atCursor]);
}

/** The part that the cursor is in, as closely as may be. */
function smallestAt(parts: readonly Part[], here: number): number {
  let best = -1;
  parts.forEach((part, index) => {
    if (part.file !== undefined || part.start > here || part.end < here) return;
    const before = parts[best];
    if (!before || part.end - part.start < before.end - before.start) best = index;
  });
  return best;
}

function markPart(index: number, outline: boolean): void {
  partAt = Math.max(0, index);
  [...page.parts.children].forEach((option, at) => option.setAttribute('aria-selected', String(at === partAt)));
  const option = page.parts.children[partAt];
  if (option) page.parts.setAttribute('aria-activedescendant', option.id);
  else page.parts.removeAttribute('aria-activedescendant');
  if (!outline || !option || !svg) return;
  option.scrollIntoView({ block: 'nearest' });
  outlineParts(svg, picture?.parts[partAt]);
}

/** How large a picture may be: as wide as its box, as high as what is seen of the page below the bar. */
function sayRoom(): void {
  const { left, width } = page.picture.getBoundingClientRect();
  // As though no film were above it, so that all pictures have the same room.
  const { top } = page.seen.getBoundingClientRect();
  if (page.all.hidden || width < 100) return;
  const height = Math.max(0, Math.floor(window.innerHeight - (top + window.scrollY) - left));
  const next = { width: Math.floor(width), height };
  if (next.width === room?.width && next.height === room.height) return;
  room = next;
  host.postMessage({ kind: 'room', room });
}

function showZoom(): void {
  const zoom = kept?.zoom ?? 1;
  const percent = Math.round(zoom * 100);
  say(page.fit, `${percent} %`);
  page.fit.setAttribute('aria-label', put(words.zoomed, percent));
  svg?.style.setProperty('width', `${zoom * 100}%`);
  page.picture.classList.toggle('zoomed', zoom > 1);
}

// -- what the person does --------------------------------------------------------------------------------------------

function choose(change: Partial<Kept>): void {
  kept = { ...(kept ?? { zoom: 1 }), ...change };
  host.setState(kept);
  host.postMessage({ kind: 'kept', kept });
}

page.shot.addEventListener('change', () => choose({ shot: unpinned(page.shot.value) }));
page.deliverable.addEventListener('change', () => choose({ deliverable: unpinned(page.deliverable.value) }));
page.lit.addEventListener('click', turnLight);
byId('save').addEventListener('click', () => host.postMessage({ kind: 'save' }));
byId('smaller').addEventListener('click', () => zoomTo(nextZoom(kept?.zoom ?? 1, -1)));
byId('larger').addEventListener('click', () => zoomTo(nextZoom(kept?.zoom ?? 1, 1)));
page.fit.addEventListener('click', () => zoomTo(1));

/** Frames as lit, or as lines again. */
function turnLight(): void {
  const isLit = kept?.isLit !== true;
  page.lit.setAttribute('aria-pressed', String(isLit));
  choose({ isLit });
}

/** What is under `at` (by default the middle of what is seen) stays where it is. */
function zoomTo(zoom: number, at?: { readonly clientX: number; readonly clientY: number }): void {
  const before = kept?.zoom ?? 1;
  if (zoom === before) return;
  const box = page.picture.getBoundingClientRect();
  const x = at ? at.clientX - box.left : box.width / 2;
  const y = at ? at.clientY - box.top : box.height / 2;
  const { scrollLeft, scrollTop } = page.picture;
  choose({ zoom });
  showZoom();
  const grown = zoom / before;
  page.picture.scrollTo({ left: (scrollLeft + x) * grown - x, top: (scrollTop + y) * grown - y });
}

page.picture.addEventListener(
  'wheel',
  (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoomTo(nextZoom(kept?.zoom ?? 1, event.deltaY < 0 ? 1 : -1), event);
  },
  { passive: false },
);

document.addEventListener('keydown', (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target instanceof HTMLSelectElement) return;
  if (event.key === '+' || event.key === '=') zoomTo(nextZoom(kept?.zoom ?? 1, 1));
  else if (event.key === '-' || event.key === '−') zoomTo(nextZoom(kept?.zoom ?? 1, -1));
  else if (event.key === '0') zoomTo(1);
  else if (event.key.toLowerCase() === 'l' && !page.lit.hidden) turnLight();
});

page.views.addEventListener('keydown', (event) => {
  const tabs = [...page.views.children] as HTMLElement[];
  const to = moved(event, tabs.indexOf(document.activeElement as HTMLElement), tabs.length, true);
  if (to === undefined) return;
  tabs[to]?.focus();
  tabs[to]?.click();
});

page.parts.addEventListener('keydown', (event) => {
  if (event.key === 'Enter' || event.key === ' ') {
    event.preventDefault();
    go(partAt);
    return;
  }
  const to = moved(event, partAt, page.parts.children.length, false);
  if (to !== undefined) markPart(to, true);
});
page.parts.addEventListener('focus', () => markPart(partAt, true));

/** Where an arrow key leads in a list; undefined for other keys. */
function moved(event: KeyboardEvent, at: number, count: number, round: boolean): number | undefined {
  const steps: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };
  const step = steps[event.key];
  const to = event.key === 'Home' ? 0 : event.key === 'End' ? count - 1 : step === undefined ? undefined : at + step;
  if (to === undefined || count === 0) return undefined;
  event.preventDefault();
  return round ? (to + count) % count : Math.max(0, Math.min(count - 1, to));
}

page.picture.addEventListener('click', ({ target }) => {
  const spot = spotOf(target);
  if (spot) host.postMessage({ kind: 'go', spot });
});

function go(index: number): void {
  const part = picture?.parts[index];
  if (!part) return;
  markPart(index, true);
  host.postMessage({ kind: 'go', spot: plainSpot(part) });
}

function plainSpot({ start, end, file }: Part | Found) {
  return { start, end, ...(file !== undefined && { file }) };
}

// -- small things ----------------------------------------------------------------------------------------------------

/** All words come in as text, never as markup. */
function element(
  name: string,
  words: string,
  attributes: Readonly<Record<string, string>> = {},
  children: readonly (Node | string)[] = [],
): HTMLElement {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (words !== '') made.textContent = words;
  made.append(...children);
  return made;
}

/** The editor gives its colours as properties of the page, and new ones when the theme changes. */
function takeColours(): void {
  const style = getComputedStyle(document.documentElement);
  const read = (name: string) => style.getPropertyValue(`--vscode-${name}`).trim();
  const inks = inksFor(
    {
      background: read('editor-background'),
      foreground: read('editor-foreground'),
      soft: read('descriptionForeground'),
      link: read('textLink-foreground'),
      alarm: read('errorForeground'),
    },
    /vscode-high-contrast/.test(document.body.className),
  );
  for (const [name, colour] of Object.entries(inks)) {
    const property = `--plan-${name}`;
    // Setting what is set already would be seen as a change, and never end.
    if (document.documentElement.style.getPropertyValue(property) !== colour)
      document.documentElement.style.setProperty(property, colour);
  }
}

new ResizeObserver(sayRoom).observe(page.picture);
window.addEventListener('resize', sayRoom);
takeColours();
const themes = new MutationObserver(takeColours);
themes.observe(document.documentElement, { attributes: true, attributeFilter: ['style', 'class'] });
themes.observe(document.body, { attributes: true, attributeFilter: ['class', 'data-vscode-theme-id'] });
// Measured as it will be, so that the first picture is drawn for it already.
page.all.hidden = false;
sayRoom();
page.all.hidden = true;
host.postMessage({ kind: 'ready' });
