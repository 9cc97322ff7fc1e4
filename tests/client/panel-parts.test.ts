/** The parts of the panel that need no browser. */
import Color from 'colorjs.io';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Latest } from '../../client/ask-latest.ts';
import { inksFor } from '../../client/panel/inks.ts';
import { nextZoom, readKept, readMessage } from '../../client/panel/messages.ts';
import { pageHtml } from '../../client/panel/page.ts';
import { panelTextOf } from '../../client/panel/panel-text.ts';
import { themes } from '../helpers/themes.ts';

describe('asking for the newest picture', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  function asking(isSeen = () => true) {
    const answers: (() => void)[] = [];
    const latest = new Latest(isSeen, () => new Promise((resolve) => answers.push(resolve)));
    return { latest, answers };
  }

  test('a burst of changes is one question, within a frame of a screen', async () => {
    const { latest, answers } = asking();
    for (let key = 0; key < 20; key++) latest.changed();
    expect(answers).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(17);
    expect(answers).toHaveLength(1);
  });

  test('what changes while an answer is awaited is one more question', async () => {
    const { latest, answers } = asking();
    latest.changed();
    await vi.advanceTimersByTimeAsync(17);
    for (let key = 0; key < 20; key++) latest.changed();
    await vi.advanceTimersByTimeAsync(100);
    expect(answers).toHaveLength(1);
    answers[0]!();
    await vi.advanceTimersByTimeAsync(17);
    expect(answers).toHaveLength(2);
    answers[1]!();
    await vi.advanceTimersByTimeAsync(100);
    expect(answers).toHaveLength(2);
  });

  test('nothing is asked while nobody looks, nor after the end', async () => {
    let seen = false;
    const { latest, answers } = asking(() => seen);
    latest.changed();
    await vi.advanceTimersByTimeAsync(100);
    expect(answers).toHaveLength(0);
    seen = true;
    latest.changed();
    latest.end();
    await vi.advanceTimersByTimeAsync(100);
    expect(answers).toHaveLength(0);
  });
});

describe('colours of the drawings', () => {
  const contrast = (one: string, other: string) => new Color(one).contrast(other, 'WCAG21');

  // WCAG 2.2: 1.4.3 text 4.5 to 1, 1.4.6 text 7 to 1 (what a high-contrast theme is for), 1.4.11 lines 3 to 1.
  test.each(Object.entries(themes))('are legible in the theme %s', (name, theme) => {
    const high = name.startsWith('high contrast');
    const inks = inksFor(theme, high);
    for (const behind of [inks.paper, inks.shade]) {
      for (const words of [inks.ink, inks.soft, inks.accent, inks.alarm])
        expect(contrast(words, behind), `${words} on ${behind}`).toBeGreaterThanOrEqual(high ? 7 : 4.5);
      expect(contrast(inks.line, behind)).toBeGreaterThanOrEqual(3);
    }
    expect(inks.paper.toLowerCase()).toBe(theme.background.toLowerCase());
  });

  test.each(['#7f7f7f', '#777777', '#808080'])('are legible on a background of middle grey, %s', (background) => {
    const inks = inksFor({ background, foreground: '#888', soft: '#888', link: '#898', alarm: '#988' });
    for (const words of [inks.ink, inks.soft, inks.accent, inks.alarm])
      expect(contrast(words, inks.paper)).toBeGreaterThanOrEqual(4.5);
  });

  test('a colour that lets light through counts as it looks', () => {
    const seen = inksFor({ ...themes['high contrast dark'], soft: '#ffffff10' }, true);
    expect(contrast(seen.soft, seen.paper)).toBeGreaterThanOrEqual(7);
  });

  test('a theme that says nothing is black on white', () => {
    const inks = inksFor({ background: '', foreground: 'nonsense', soft: '', link: '', alarm: '' });
    expect([inks.paper, inks.ink]).toEqual(['#ffffff', '#000000']);
  });
});

describe('zoom', () => {
  test('goes up and down in steps, and stays at the ends', () => {
    expect([1, 1.25, 8].map((zoom) => nextZoom(zoom, 1))).toEqual([1.25, 1.5, 8]);
    expect([1, 1.25, 0.5].map((zoom) => nextZoom(zoom, -1))).toEqual([0.8, 1, 0.5]);
  });

  test('what goes in comes out the same number of steps later', () => {
    let zoom = 1;
    for (let step = 0; step < 5; step++) zoom = nextZoom(zoom, 1);
    for (let step = 0; step < 5; step++) zoom = nextZoom(zoom, -1);
    expect(zoom).toBe(1);
  });
});

describe('messages', () => {
  test('what was kept is read, and what is no such thing counts as not said', () => {
    const kept = { uri: 'file:///a.shoot.yaml', view: 'frame', shot: 'box', deliverable: 'film', zoom: 2 };
    expect(readKept(JSON.parse(JSON.stringify(kept)))).toEqual(kept);
    expect(readKept({ ...kept, isLit: true }).isLit).toBe(true);
    expect(readKept({ view: 7, zoom: '2', shot: null, isLit: 'yes' })).toEqual({ zoom: 1 });
    for (const none of [undefined, null, 'x', 3, []]) expect(readKept(none)).toEqual({ zoom: 1 });
    for (const zoom of [Number.NaN, -1, 0, Infinity])
      expect(readKept({ zoom }).zoom).toSatisfy((one) => one >= 0.5 && one <= 8);
  });

  test('a place to go to lies in the spec or in a file of its repo', () => {
    const go = (spot: unknown) => readMessage({ kind: 'go', spot });
    expect(go({ start: 1, end: 4 })).toEqual({ kind: 'go', spot: { start: 1, end: 4 } });
    expect(go({ start: 1, end: 4, file: 'kits/own.kit.yaml' })).toBeDefined();
    for (const file of [
      '../own.kit.yaml',
      'a/../../b.yaml',
      '/etc/own.yaml',
      'C:\\own.yaml',
      'a\\..\\b.yaml',
      'http://x/a.yaml',
      'notes.txt',
      7,
    ])
      expect(go({ start: 1, end: 4, file }), String(file)).toBeUndefined();
    for (const spot of [{ start: -1, end: 4 }, { start: 1.5, end: 4 }, { start: '1', end: 4 }, undefined, null])
      expect(go(spot)).toBeUndefined();
  });

  test('the room for pictures is two whole numbers', () => {
    const room = (of: unknown) => readMessage({ kind: 'room', room: of });
    expect(room({ width: 330, height: 700 })).toEqual({ kind: 'room', room: { width: 330, height: 700 } });
    for (const none of [{ width: 330 }, { width: -1, height: 2 }, { width: NaN, height: 2 }, '330', undefined])
      expect(room(none)).toBeUndefined();
  });

  test('anything else is no message', () => {
    for (const none of [undefined, 'ready', { kind: 'run' }, { kind: 'go' }, []])
      expect(readMessage(none)).toBeUndefined();
  });
});

test('the page lets in its own script and style, and nothing else', () => {
  const html = pageHtml({
    nonce: 'n0nce',
    script: 'https://here/panel.js',
    style: 'https://here/panel.css',
    source: 'https://here',
    words: panelTextOf({ t: (words) => words }),
    language: 'en',
  });
  const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)![1]!;
  expect(policy.split('; ')).toEqual([
    "default-src 'none'",
    'style-src https://here',
    "script-src 'nonce-n0nce'",
    // Pixels that stand in a drawing; an address is never among them.
    'img-src data:',
    // The painter of the film, made of a script of ours.
    'worker-src blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ]);
  expect(html).not.toMatch(/\son\w+=|style=|unsafe|<style/);
});
