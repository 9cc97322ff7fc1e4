/**
 * The page for the set: one HTML file for a phone or a tablet, without network. All that the plan says stands in it as
 * words and pictures, so that it can be read even where no script runs; the script notes what is done.
 */
import type { CheckResult } from '../../core/checker.ts';
import type { Film, Shot } from '../../core/film.ts';
import { inPrint } from '../../core/say.ts';
import { drawFrame } from '../frame/index.ts';
import type { Room } from '../page.ts';
import { type Picture, pictureElement, type Source } from '../picture.ts';
import { drawSketch, sketchOf } from '../sketch.ts';
import { drawAbove } from '../set/above.ts';
import type { SheetBlock } from '../sheet/blocks.ts';
import { concerns } from '../sheet/findings.ts';
import { blocksHtml } from '../sheet/html.ts';
import { filmNotes, setUpNotes } from '../sheet/notes.ts';
import { lampTable, partsOf, placeBlocks, type SetUpPart } from '../sheet/set-up.ts';
import { shotFacts, shotWords } from '../sheet/shot.ts';
import { tickBlocks } from '../sheet/ticks.ts';
import { joined } from '../sheet/words.ts';
import { escaped, toText } from '../svg.ts';
import { setPlanOf } from './plan-of.ts';

/** What the page is put together with. */
export interface SetPageParts {
  /** Of the spec, from the root of its repo. */
  readonly path: string;
  readonly script: string;
  readonly style: string;
  /** SHA-256 of a text in base64: the page's policy lets in what has one of these and nothing else. */
  hashOf(text: string): string;
}

/** As wide as the page on a phone held upright, so that letters are as large as they are drawn. */
const room: Room = { width: 358, bare: true };

export function setPageHtml(result: CheckResult, film: Film, { path, script, style, hashOf }: SetPageParts): string {
  const { findings } = result;
  const source: Source = { findings, number: (finding) => findings.indexOf(finding) + 1 };
  const parts = partsOf(film).filter(({ work }) => work.shots.length > 0);
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${hashOf(script)}'`,
    `style-src 'sha256-${hashOf(style)}'`,
    ...(parts.some(({ work }) => work.shots.some((shot) => sketchOf(film, shot))) ? ['img-src data:'] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const plan = setPlanOf(film, parts, path);
  return [
    '<!doctype html>',
    '<html lang="en-GB">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="color-scheme" content="dark">',
    `<title>${escaped(film.title?.value ?? 'Shoot')}: on the set</title>`,
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    '<p id="not-kept" class="bar" role="alert" hidden></p>',
    '<main>',
    dayHtml(film, parts, source),
    ...parts.map((part, index) => setUpHtml(part, index, film, source)),
    handOutHtml(),
    '</main>',
    '<nav aria-label="Set-ups"><button id="back" type="button" aria-label="Back">‹</button>' +
      '<p id="left"></p><button id="on" type="button" aria-label="On">›</button></nav>',
    `<script type="application/json" id="plan">${jsonInHtml(plan)}</script>`,
    `<script>${script}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** Nothing in it ends the element that it stands in. */
function jsonInHtml(value: unknown): string {
  return JSON.stringify(value).replace(
    /[<\u2028\u2029]/g,
    (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** The order of the day, and what to tick off. */
function dayHtml(film: Film, parts: readonly SetUpPart[], source: Source): string {
  const blocks = tickBlocks(film, source.findings);
  const lists = blocks.flatMap((block) => (block.kind === 'ticks' && block.title !== eachTime ? [block] : []));
  const cautions = blocks.filter((block) => block.kind === 'text');
  const jumps = parts.map(
    ({ heading, when }, index) =>
      `<li><button type="button" data-to="${index + 1}"><b>${escaped(heading)}</b><span>${escaped(when ?? '')}</span>` +
      `<span data-done="${index}"></span></button></li>`,
  );
  return place(escaped(film.title?.value ?? 'Shoot'), [
    `<ol class="jumps">${jumps.join('')}</ol>`,
    '<p><button type="button" data-to="last">Take sheet</button></p>',
    blocksHtml(filmNotes(film), 1),
    ...lists.map(({ title, items }) => ticksHtml(title, items, 'day')),
    blocksHtml(cautions, 1),
  ]);
}

/** One line a lamp: a table is too wide for a phone. */
function lampBlocks(shots: readonly Shot[]): SheetBlock[] {
  const rows = lampTable(shots).rows.map(([name = '', place, light, held, litIn]): [string, string] => [
    name,
    joined(place, light, held, litIn !== 'all' && `lit in ${litIn}`),
  ]);
  return rows.length > 0 ? [{ kind: 'facts', rows }] : [];
}

/** The list that is gone through after every set-up. */
const eachTime = 'After each set-up';

function setUpHtml(part: SetUpPart, index: number, film: Film, source: Source): string {
  const { work, heading, when } = part;
  const first = work.shots[0]!;
  const mind = source.findings.filter((finding) => concerns(finding, work, film));
  const after = tickBlocks(film, source.findings).flatMap((block) =>
    block.kind === 'ticks' && block.title === eachTime ? block.items : [],
  );
  const found = mind.map(
    (finding) => `<li><b>${source.number!(finding)}</b> <span>${escaped(inPrint(finding.message))}</span></li>`,
  );
  return place(escaped(joined(heading, when)), [
    blocksHtml(setUpNotes(work, film), 2),
    pictureHtml(drawAbove(source, film, first, room)),
    blocksHtml([...lampBlocks(work.shots), ...placeBlocks(first, film)], 2),
    found.length > 0 ? `<h2>To look at</h2><ul class="found">${found.join('')}</ul>` : '',
    ...work.shots.map((shot) => shotHtml(shot, film, source)),
    ticksHtml(eachTime, after, work.name ?? `part ${index + 1}`),
  ]);
}

function shotHtml(shot: Shot, film: Film, source: Source): string {
  const what = shotWords(shot);
  const clicks = film.music?.tempo
    ? '<label class="tick"><input type="checkbox" data-part="clicks"><span>Click on the beat (the microphone hears it)</span></label>'
    : '';
  return `<article data-shot="${escaped(shot.name)}" aria-label="Shot ${escaped(shot.name)}">
<h2>Shot ${escaped(shot.name)} <span data-part="count"></span></h2>
${what ? blocksHtml([{ kind: 'text', words: what }], 3) : ''}${blocksHtml([shotFacts(shot, film)], 3)}
${sketchOf(film, shot) ? pictureHtml(drawSketch(source, film, shot, room)) : ''}${pictureHtml(drawFrame(source, film, shot, { isRecorded: true }, room))}
<ol class="takes" data-part="takes" aria-label="Takes"></ol>
<div class="next"><label>Next clip <input data-part="clip" autocomplete="off" autocapitalize="off" spellcheck="false" maxlength="200"></label>
<button type="button" data-part="add" class="main">Take made</button></div>
<div class="pair"><label>Light, lx <input data-part="lux" inputmode="decimal" autocomplete="off" maxlength="12"></label>
<label>Colour, K <input data-part="kelvin" inputmode="decimal" autocomplete="off" maxlength="12"></label></div>
<p data-part="exposure" role="status"></p>
<div class="timer"><button type="button" data-part="timer">Start the timer</button><output data-part="time" aria-live="off"></output></div>${clicks}
<label class="tick"><input type="checkbox" data-tick="done/${escaped(shot.name)}"><span>This shot is done</span></label>
</article>`;
}

function ticksHtml(title: string, items: readonly string[], where: string): string {
  const lines = items.map(
    (item) =>
      `<label class="tick"><input type="checkbox" data-tick="${escaped(`${where}/${item}`.slice(0, 300))}"><span>${escaped(item)}</span></label>`,
  );
  return items.length > 0 ? `<fieldset><legend>${escaped(title)}</legend>${lines.join('')}</fieldset>` : '';
}

/** The take sheet as it stands, and another one to be read in. */
function handOutHtml(): string {
  return place('Take sheet', [
    `<p id="sheet-note"></p>
<label>What was shot, for the repo <textarea id="sheet" readonly rows="12" spellcheck="false"></textarea></label>
<p class="row"><button type="button" id="copy">Copy</button> <button type="button" id="share" hidden>Share</button>
<button type="button" id="save">Save as a file</button></p>
<p id="handed" role="status"></p>
<h2>Put another one’s sheet into this</h2>
<label>From a file <input type="file" id="other-file" accept=".yaml,.yml,text/*"></label>
<label>Or pasted here <textarea id="other" rows="4" spellcheck="false"></textarea></label>
<p><button type="button" id="merge">Read it in</button></p>
<p id="merged" role="status"></p>
<h2>Begin anew</h2>
<p><button type="button" id="clear">Delete what is kept here</button></p>`,
  ]);
}

function place(heading: string, inside: readonly string[]): string {
  return `<section class="place"><h1 tabindex="-1">${heading}</h1>${inside.join('\n')}</section>`;
}

/** Drawn in the colours of the page. */
function pictureHtml(picture: Picture): string {
  const svg = toText(pictureElement(picture, { captions: false }), { themed: true });
  return `<figure>${svg}</figure>`;
}
