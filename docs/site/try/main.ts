/** The page to try it: samples in an editor that checks them as any other does, with their pictures, in this browser alone. */
import type { Diagnostic, Hover } from 'vscode-languageserver-types';
import style from '../findings.css';
import { Editor } from './editor.ts';
import { Findings } from './findings.ts';
import { changesOf, type Fix, fixesOf } from './fixes.ts';
import { linkOf, longestLink, planOf } from './link.ts';
import { type Samples, unpacked } from './parts.ts';
import { Pictures } from './pictures.ts';
import { positionOf, spanOf } from './places.ts';
import { folder, Server } from './server.ts';
import { wordsOf } from './words.ts';

const byId = <T extends HTMLElement>(id: string) => document.getElementById(id) as T;
const parts = globalThis.shootSpecParts;
const script = unpacked(parts.server);
const samples = JSON.parse(await unpacked(parts.samples)) as Samples;
const rules = new Set(samples.rules);
const first = 'first-draft.shoot.yaml';
/** A plan that came in a link or from a file. */
const own = 'own.shoot.yaml';

const texts = new Map(Object.entries(samples.files));
const found = new Map<string, readonly Diagnostic[]>();
const opened = new Set<string>();
let path = first;
/** The plan that is drawn: the one in front, or the last that was. */
let plan = first;

const uriOf = (name: string) => `${folder}/${name}`;
const pathOf = (uri: string) => decodeURIComponent(uri.slice(folder.length + 1));
const isPlan = (name: string) => name.endsWith('.shoot.yaml');

const server = new Server({
  script: await script,
  files: [...texts].map(([name, text]) => ({ uri: uriOf(name), text })),
  part: (name) => unpacked({ 'pages.md': parts.pages, 'set-page.js': parts.setScript, 'set-page.css': parts.setStyle }[name]),
  found(uri, diagnostics) {
    found.set(pathOf(uri), diagnostics);
    if (pathOf(uri) === path) showFindings();
    pictures.changed();
  },
  says: notice,
});
const ask = server.ask.bind(server);

// -- the editor --------------------------------------------------------------------------------------------------------

const host = byId('editor');
const root = host.attachShadow({ mode: 'open' });
const sheet = new CSSStyleSheet();
sheet.replaceSync(style);
root.adoptedStyleSheets = [sheet];
const inside = document.createElement('div');
inside.className = 'inside';
root.append(inside);

const editor = new Editor(root, inside, {
  complete: (position, context) =>
    ask('textDocument/completion', { textDocument: { uri: uriOf(path) }, position, context }),
  show: (text) => wordsOf(text, rules),
  hover: async (offset, doc) => {
    const here = (found.get(path) ?? []).filter(({ range }) => {
      const { from, to } = spanOf(doc, range);
      return from <= offset && offset <= to;
    });
    const position = positionOf(doc, offset);
    const hover = await ask<Hover | null>('textDocument/hover', { textDocument: { uri: uriOf(path) }, position });
    if (!hover && here.length === 0) return undefined;
    const dom = document.createElement('div');
    dom.className = 'hover';
    dom.append(...here.map((one) => findings.elementOf(one)));
    const { value } = (hover?.contents ?? { value: '' }) as { value: string };
    if (value !== '') dom.append(wordsOf(value, rules));
    return { ...spanOf(doc, hover?.range ?? here[0]!.range), dom };
  },
  changed(text) {
    if (text === texts.get(path)) return;
    texts.set(path, text);
    void server.text(uriOf(path), text);
    if (isPlan(path)) keepInAddress();
  },
  cursorMoved: () => pictures.changed(),
  fix: () => findings.openAt(editor.view.state.selection.main.head),
});

const findings = new Findings({ list: byId('findings'), count: byId('count'), tab: byId('how-many') }, {
  rules,
  fixes: (one) => fixesOf(ask, uriOf(path), one),
  apply,
  go(one) {
    const { from, to } = spanOf(editor.view.state.doc, one.range);
    editor.select(from, to);
  },
  contains: (one, offset) => {
    const { from, to } = spanOf(editor.view.state.doc, one.range);
    return from <= offset && offset <= to;
  },
});

const pictures = new Pictures(byId<HTMLIFrameElement>('pictures'), {
  ask,
  isChecked: () => found.has(plan),
  plan: () => ({
    uri: uriOf(plan),
    position: plan === path ? positionOf(editor.view.state.doc, editor.view.state.selection.main.head) : { line: 0, character: 0 },
  }),
  go({ start, end, file }, isTaken) {
    if (!isTaken && path !== (file ?? plan)) return;
    show(file ?? plan);
    editor.select(start, isTaken ? end : start, isTaken);
    if (isTaken) chooseView('text');
  },
  save: (name, svg) => download(`${name}.svg`, svg, 'image/svg+xml'),
});

function show(name: string): void {
  if (name === path && editor.text !== '') return;
  path = name;
  editor.show(name, texts.get(name) ?? '');
  byId<HTMLSelectElement>('file').value = name;
  if (!opened.has(name)) {
    opened.add(name);
    void server.text(uriOf(name), texts.get(name) ?? '');
  }
  if (isPlan(name) && name !== plan) {
    plan = name;
    pictures.turned();
  }
  showFindings();
  pictures.changed();
}

function showFindings(): void {
  const all = found.get(path);
  if (all) editor.mark(all);
  findings.show(all);
}

function apply({ edits }: Fix): void {
  for (const { uri, edits: own } of edits) {
    const name = pathOf(uri);
    const before = texts.get(name) ?? '';
    const changes = changesOf(before, own);
    if (name === path) {
      editor.view.dispatch({ changes, userEvent: 'input.fix' });
      continue;
    }
    let text = before;
    for (const { from, to, insert } of changes.sort((a, b) => b.from - a.from)) text = text.slice(0, from) + insert + text.slice(to);
    texts.set(name, text);
    editor.forget(name);
    opened.add(name);
    void server.text(uri, text);
    notice(`Changed ${name} too.`);
  }
}

// -- files -------------------------------------------------------------------------------------------------------------

const titleOf = (name: string) => /^title: *"?(.*?)"?$/m.exec(texts.get(name) ?? '')?.[1];

function listFiles(): void {
  const names = [...texts.keys()];
  const groups: [string, (name: string) => boolean][] = [
    ['Plans', isPlan],
    ['What was shot', (name) => name.endsWith('.takes.yaml')],
    ['Gear and settings', (name) => name.endsWith('.kit.yaml') || name === 'shootspec.yaml'],
  ];
  byId('file').replaceChildren(
    ...groups.map(([label, isIn]) => {
      const group = document.createElement('optgroup');
      group.label = label;
      group.append(...names.filter(isIn).map((name) => new Option(isPlan(name) ? (titleOf(name) ?? name) : name, name)));
      return group;
    }),
  );
}

function takeOwn(text: string, name = own): void {
  texts.set(name, text);
  editor.forget(name);
  if (opened.has(name)) void server.text(uriOf(name), text);
  listFiles();
  if (path === name) path = '';
  show(name);
}

/** Where a file of somebody's lies among the samples: what it is called says what it is, and anything else is a plan. */
function placeOf(name: string): string {
  if (name.endsWith('.kit.yaml')) return `kits/${name}`;
  return /\.(?:shoot|takes)\.yaml$|^shootspec\.yaml$/.test(name) ? name : own;
}

byId('file').addEventListener('change', () => show(byId<HTMLSelectElement>('file').value));
byId('open').addEventListener('click', () => byId('local').click());
byId('local').addEventListener('change', async () => {
  const input = byId<HTMLInputElement>('local');
  const [file] = input.files ?? [];
  const text = await file?.text();
  input.value = '';
  if (file && text !== undefined) takeOwn(text.replace(/^\ufeff/, ''), placeOf(file.name));
});

// -- what is taken away ------------------------------------------------------------------------------------------------

byId('save').addEventListener('change', async () => {
  const select = byId<HTMLSelectElement>('save');
  const wanted = select.value;
  select.value = '';
  const base = plan.replace('.shoot.yaml', '');
  if (wanted === 'plan') return download(path.slice(path.lastIndexOf('/') + 1), editor.text, 'text/yaml');
  const reader = wanted === 'sheet' ? {} : { for: wanted };
  const answer = await ask<{ html: string } | null>('shootSpec/sheetFile', { textDocument: { uri: uriOf(plan) }, ...reader });
  if (answer) download(`${base}-${wanted}.html`, answer.html, 'text/html');
  else notice('Nothing can be made of it yet: the plan needs a shot that can be read.');
});

function download(name: string, text: string, type: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

let keeping: ReturnType<typeof setTimeout> | undefined;
const keptAfterMs = 800;

/** What is typed stands in the address, so that it is there after a reload, and in a bookmark. */
function keepInAddress(): void {
  clearTimeout(keeping);
  keeping = setTimeout(() => void putInAddress(), keptAfterMs);
}

async function putInAddress(): Promise<string | undefined> {
  const hash = await linkOf(texts.get(plan) ?? '');
  if (hash.length > longestLink) {
    notice('This plan is too long for an address. Save it as a file before you leave.');
    return undefined;
  }
  history.replaceState(null, '', hash);
  return location.href;
}

byId('link').addEventListener('click', async () => {
  const address = await putInAddress();
  if (address === undefined) return;
  const isCopied = await navigator.clipboard?.writeText(address).then(
    () => true,
    () => false,
  );
  notice(isCopied ? 'The link is copied. It holds the plan itself; nothing was sent.' : 'The link stands in the address bar.');
});

addEventListener('hashchange', () => void takeLink());

async function takeLink(): Promise<boolean> {
  const linked = await planOf(location.hash);
  if (linked === 'broken') notice('The plan in this link can’t be read: the link may have been cut off.');
  if (linked === undefined || linked === 'broken') return false;
  if (linked !== texts.get(plan)) takeOwn(linked);
  return true;
}

// -- the page ----------------------------------------------------------------------------------------------------------

let clearing: ReturnType<typeof setTimeout> | undefined;
const noticeMs = 8000;

function notice(words: string): void {
  byId('notice').textContent = words;
  clearTimeout(clearing);
  clearing = setTimeout(() => (byId('notice').textContent = ''), noticeMs);
}

type View = 'text' | 'findings' | 'pictures';

/** Where there is room for one thing at a time. */
function chooseView(view: View): void {
  byId('try').dataset['view'] = view;
  for (const tab of document.querySelectorAll<HTMLElement>('[data-choose]'))
    tab.setAttribute('aria-pressed', String(tab.dataset['choose'] === view));
  pictures.changed();
}

for (const tab of document.querySelectorAll<HTMLElement>('[data-choose]'))
  tab.addEventListener('click', () => chooseView(tab.dataset['choose'] as View));
chooseView('text');

listFiles();
if (!(await takeLink())) {
  path = '';
  show(first);
}
