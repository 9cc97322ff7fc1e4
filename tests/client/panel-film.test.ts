/** The film that plays in the panel, in a real browser: its clock, its keys, its sound, its caution, and its speed. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { hasBrowser, openBrowser } from '../helpers/browser.ts';
import { FilmPanel, type Files, reelFor, show } from '../helpers/film-panel.ts';
import type { Theme } from '../helpers/panel.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const text = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: stereo }
  story: { like: film, raster: 1080x1920 }
music: { track: tune, tempo: 100 bpm }
rights:
  tune: { kind: music, file: rights/tune.wav }
shots:
  box: { record: 12 s }
  lid: { record: 12 s, camera: { distance: 70 cm } }
cut:
  - { shot: box, length: 4 s, zoom: 1 to 1.2 }
  - { shot: lid, length: 6 s, dissolve: 10 frames }
titles:
  - { text: Wound by hand, at: 5 s, hold: 4 s, fade: 1 s }
`);

const flashing = spec(`lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key, flashes: 5 Hz }
`);

/** Twelve seconds of a tone, 8 kHz, 16 bits (the header of a RIFF WAVE file, IBM and Microsoft 1991). */
function tone(seconds = 12, rate = 8000): Uint8Array {
  const bytes = Buffer.alloc(44 + seconds * rate * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(bytes.length - 44, 40);
  for (let at = 0; at < seconds * rate; at++)
    bytes.writeInt16LE(Math.round(3000 * Math.sin((2 * Math.PI * 440 * at) / rate)), 44 + 2 * at);
  return bytes;
}

/** Notes for each frame that is shown when that was, by the page's clock, and what was heard when it was chosen. */
interface Note {
  readonly frame: number;
  readonly atMs: number;
  readonly soundS?: number;
}

describe.skipIf(!hasBrowser)('the film in the panel', () => {
  let browser: Browser;
  let film: FilmPanel;
  let page: Page;

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  afterEach(async () => {
    if (film !== shared) await page.context().close();
  });

  /** Most need nothing of their own: they share a page, which starts anew. */
  let shared: FilmPanel | undefined;

  async function open(
    how: { theme?: Theme; files?: Files; options?: BrowserContextOptions } = {},
    source = text,
  ): Promise<void> {
    const isPlain = Object.keys(how).length === 0 && source === text;
    film = isPlain && shared ? shared : await FilmPanel.open(browser, checkSpec(source), how);
    ({ page } = film);
    if (isPlain && shared) await anew();
    else if (isPlain) shared = film;
    await expect.poll(() => film.frame()).toBe(0);
  }

  async function anew(): Promise<void> {
    const result = checkSpec(text);
    const { picture, ...rest } = show(result);
    await film.panel.send({ ...rest, picture: { ...picture, view: 'budgets', axis: undefined } });
    await film.panel.send(show(result));
    await film.panel.send({ kind: 'reel', reel: reelFor(result) });
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await page.keyboard.press('Home');
    await page.evaluate(() => {
      const repeat = document.getElementById('repeat')!;
      if (repeat.getAttribute('aria-pressed') === 'true') repeat.click();
      (globalThis as unknown as { said: unknown[] }).said.length = 0;
    });
  }

  const now = () => page.locator('#now').textContent();
  const follows = async () =>
    (await film.panel.said()).flatMap((one) =>
      one.kind === 'follow' ? [text.slice(one.spot.start, one.spot.end)] : [],
    );

  const watch = () =>
    page.evaluate(() => {
      const notes: Note[] = [];
      const screen = document.getElementById('screen')!;
      new MutationObserver(() => {
        const { heardS } = globalThis as unknown as { heardS?: number };
        notes.push({ frame: Number(screen.dataset['frame']), atMs: performance.now(), soundS: heardS });
      }).observe(screen, { attributeFilter: ['data-frame'] });
      Object.assign(globalThis, { notes });
    });
  const notes = () => page.evaluate(() => (globalThis as unknown as { notes: Note[] }).notes);

  test('plays at its true speed, and holds where it is held', async () => {
    await open();
    await watch();
    await page.keyboard.press('Space');
    expect(await page.locator('#play').textContent()).toBe('Hold');
    await expect.poll(() => film.frame()).toBeGreaterThan(30);
    await page.keyboard.press('Space');
    const held = await film.frame();
    const all = (await notes()).filter(({ frame }) => frame > 0);
    const [first, last] = [all[0]!, all.at(-1)!];
    // However late a picture comes, it is the one of its time: to a frame at each end.
    const due = ((last.atMs - first.atMs) / 1000) * 25;
    expect(Math.abs(last.frame - first.frame - due)).toBeLessThan(2.5);
    await page.waitForTimeout(150);
    expect(await film.frame()).toBe(held);
    expect(await page.locator('#spoken').textContent()).toBe(await now());
  });

  test('ends at its last frame, and starts anew from there', async () => {
    await open();
    await page.keyboard.press('End');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Space');
    await expect.poll(() => page.locator('#play').textContent()).toBe('Play');
    expect(await film.frame()).toBe(249);
    await page.keyboard.press('Space');
    await expect.poll(() => film.frame()).toBeLessThan(200);
  });

  test('shows as many pictures as the screen does, and a push is drawn once', async () => {
    await open();
    await film.drawn();
    // A busy machine asks for some of them late.
    await expect
      .poll(async () => {
        const before = film.scenes;
        await page.waitForTimeout(300);
        return film.scenes - before;
      })
      .toBe(0);
    const { scenes } = film;
    await watch();
    await page.keyboard.press('Space');
    const turns = await page.evaluate(async () => {
      const start = performance.now();
      let count = 0;
      while (performance.now() - start < 1200) {
        await new Promise(requestAnimationFrame);
        count++;
      }
      return { count, ms: performance.now() - start };
    });
    const shown = (await notes()).length;
    // A machine that turns its screen seldom can't show more than that.
    const most = Math.min(turns.count, (turns.ms / 1000) * 25);
    expect(shown / most).toBeGreaterThan(0.7);
    expect(film.scenes).toBe(scenes);
  });

  test('keys go by frames, beats and pieces, and the moment is said', async () => {
    await open();
    await page.locator('#moment').focus();
    const after = async (key: string) => {
      await page.keyboard.press(key);
      await expect.poll(() => film.frame()).toBe((await page.locator('#moment').inputValue().then(Number)) || 0);
      return film.frame();
    };
    expect(await after('ArrowRight')).toBe(1);
    // A beat of 100 in a minute is 15 frames.
    expect(await after('Shift+ArrowRight')).toBe(15);
    expect(await after('Shift+ArrowRight')).toBe(30);
    expect(await after('ArrowLeft')).toBe(29);
    expect(await after('PageDown')).toBe(100);
    expect(await after('PageUp')).toBe(0);
    expect(await after('End')).toBe(249);
    expect(await after('Home')).toBe(0);
    expect(await after('PageDown')).toBe(100);
    const moment = '4.00 s · frame 101 of 250 · beat 6 · piece 2 lid';
    expect(await now()).toBe(moment);
    expect(await page.locator('#moment').getAttribute('aria-valuetext')).toBe(moment);
  });

  test('keys do nothing to the film in lists, choices and other pictures', async () => {
    await open();
    await page.locator('#deliverable').focus();
    await page.keyboard.press('ArrowRight');
    await page.locator('#parts').focus();
    await page.keyboard.press('ArrowDown');
    expect(await film.frame()).toBe(0);
    await page.locator('#repeat').focus();
    await page.keyboard.press('Space');
    expect(await page.locator('#repeat').getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('#play').textContent()).toBe('Play');
  });

  test('the line is dragged to a moment, and the strip of seconds leads there', async () => {
    await open();
    const box = async () => (await page.locator('.moment-line').boundingBox())!;
    const strip = (await page.locator('.moment-strip').boundingBox())!;
    const start = await box();
    await page.mouse.move(start.x + start.width / 2, start.y + 60);
    await page.mouse.down();
    await page.mouse.move(strip.x + strip.width / 2, start.y + 80, { steps: 3 });
    await page.mouse.up();
    await expect.poll(() => film.frame()).toBeGreaterThan(120);
    expect(await film.frame()).toBeLessThan(131);
    expect((await box()).x + (await box()).width / 2).toBeCloseTo(strip.x + strip.width / 2, -1);
    await page.mouse.click(strip.x + strip.width * 0.8, strip.y + 10);
    await expect.poll(() => film.frame()).toBeGreaterThan(195);
    expect((await film.panel.said()).some(({ kind }) => kind === 'go')).toBe(false);
  });

  test('the text follows the piece, and the film the text', async () => {
    await open();
    await page.keyboard.press('PageDown');
    await expect.poll(follows).toHaveLength(1);
    expect((await follows())[0]).toContain('shot: lid, length: 6 s');
    // The cursor comes back from there, and changes nothing.
    const result = checkSpec(text);
    await film.panel.send(show(result, text.indexOf('shot: lid, length')));
    expect(await film.frame()).toBe(100);
    await film.panel.send(show(result, text.indexOf('shot: box, length') + 3));
    await expect.poll(() => film.frame()).toBe(0);
    await film.panel.send(show(result, text.indexOf('camera: { distance: 70 cm')));
    await expect.poll(() => film.frame()).toBe(100);
    expect(await follows()).toHaveLength(1);
  });

  test('one piece goes round', async () => {
    await open();
    await page.keyboard.press('PageDown');
    for (let step = 0; step < 3; step++) await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('r');
    await watch();
    await page.keyboard.press('Space');
    await expect.poll(async () => (await notes()).some(({ frame }) => frame < 20)).toBe(true);
    const frames = (await notes()).map(({ frame }) => frame);
    expect(Math.max(...frames)).toBeLessThan(100);
    expect(frames.length).toBeGreaterThan(2);
  });

  test('every deliverable has its shape, and the moment of the cut stays', async () => {
    await open();
    const shape = async () => {
      const { width, height } = (await page.locator('#screen').boundingBox())!;
      return width / height;
    };
    expect(await shape()).toBeCloseTo(16 / 9, 1);
    await page.keyboard.press('PageDown');
    expect(await page.locator('#deliverable option').allTextContents()).toEqual(['film', 'story']);
    await page.locator('#deliverable').selectOption({ label: 'story' });
    expect((await film.panel.said()).at(-1)).toMatchObject({ kind: 'kept', kept: { deliverable: 'story' } });
    await film.panel.send({ kind: 'reel', reel: reelFor(checkSpec(text), 'story') });
    await expect.poll(shape).toBeCloseTo(9 / 16, 1);
    expect(await now()).toContain('4.00 s');
  });

  test('says why there is nothing to play', async () => {
    await open();
    await film.panel.send({ kind: 'reel', why: '“film” says no `rate`.' });
    expect(await page.locator('#no-film').textContent()).toContain('says no `rate`');
    expect(await page.locator('#screen').isVisible()).toBe(false);
    await page.keyboard.press('Space');
    await film.panel.send({ kind: 'reel', reel: reelFor(checkSpec(text)) });
    expect(await page.locator('#screen').isVisible()).toBe(true);
    expect(await page.locator('#play').textContent()).toBe('Play');
  });

  test('rests while another picture is shown', async () => {
    await open();
    await page.keyboard.press('Space');
    await expect.poll(() => film.frame()).toBeGreaterThan(2);
    const { picture, ...rest } = show(checkSpec(text));
    await film.panel.send({ ...rest, picture: { ...picture, view: 'budgets', axis: undefined } });
    expect(await page.locator('#player').isVisible()).toBe(false);
    const rested = await film.frame();
    await page.keyboard.press('Space');
    await film.panel.send(show(checkSpec(text)));
    expect(await film.frame()).toBe(rested);
    expect(await page.locator('#play').textContent()).toBe('Play');
  });

  describe('a text that changes', () => {
    test('leaves drawings that are still so, and draws the others anew', async () => {
      await open();
      await film.drawn();
      const before = film.scenes;
      await film.panel.send({ kind: 'reel', reel: reelFor(checkSpec(text)) });
      // Until it asks, what was drawn before is still all that there is.
      await expect.poll(() => film.scenes).toBe(before + 2);
      await film.drawn();
      // Each piece is asked for once.
      expect(film.scenes).toBe(before + 2);
    });
  });

  describe('sound', () => {
    const files = { 'rights/tune.wav': tone() };

    const listen = () =>
      page.evaluate(() => {
        const starts: unknown[] = [];
        const Real = AudioContext;
        const start = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (...at: [number, number, number]) {
          starts.push(at.slice(1));
          start.apply(this, at);
        };
        Object.assign(globalThis, {
          starts,
          /** What is heard at the moment at which the page looks at this clock; its delay is another at each look. */
          AudioContext: class extends Real {
            #nowS = 0;
            override get currentTime() {
              return (this.#nowS = super.currentTime);
            }
            override get outputLatency() {
              const late = super.outputLatency;
              Object.assign(globalThis, { heardS: this.#nowS - (late || this.baseLatency || 0) });
              return late;
            }
          },
        });
      });
    const starts = () => page.evaluate(() => (globalThis as unknown as { starts: number[][] }).starts);

    test('leads: each picture is the one of what is heard, to a frame', async () => {
      await open({ files });
      await listen();
      await page.keyboard.press('Space');
      await expect.poll(starts).toHaveLength(1);
      const began = await film.frame();
      await watch();
      await expect.poll(() => film.frame()).toBeGreaterThan(began + 30);
      const all = (await notes()).filter(({ soundS }) => soundS !== undefined);
      const offsets = all.map(({ frame, soundS }) => frame - soundS! * 25);
      // Of one line of time, within a frame: what is shown keeps its distance from what is heard. From one look to the next
      // the browser's estimate of the delay itself differs by up to half a frame.
      expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThan(1.6);
      expect(all.length).toBeGreaterThan(5);
    });

    test('starts where the film is', async () => {
      await open({ files });
      await listen();
      await page.keyboard.press('PageDown');
      await page.keyboard.press('Space');
      await expect.poll(starts).toHaveLength(1);
      const [fromS, lengthS] = (await starts())[0]!;
      expect(fromS).toBeGreaterThanOrEqual(4);
      expect(fromS! + lengthS!).toBeCloseTo(10, 6);
      await page.keyboard.press('Home');
      await expect.poll(starts).toHaveLength(2);
      expect((await starts())[1]![0]).toBe(0);
    });

    test('is taken away by a key, and what cannot be played is said', async () => {
      await open({ files: { 'rights/tune.wav': new Uint8Array([1, 2, 3]) } });
      await page.keyboard.press('h');
      expect(await page.locator('#hush').getAttribute('aria-pressed')).toBe('true');
      await page.keyboard.press('Space');
      await expect.poll(() => page.locator('#film-notes').textContent()).toContain("tune can't be played here");
      await expect.poll(() => film.frame()).toBeGreaterThan(5);
    });
  });

  describe('what flashes', () => {
    test('is held still, with the caution, until a key lets it', async () => {
      await open({}, flashing);
      expect(await page.locator('#caution').textContent()).toMatch(/up to 5 times in a second.*seizures/);
      await film.drawn();
      const light = () =>
        page.evaluate(() => {
          const screen = document.getElementById('screen') as HTMLCanvasElement;
          const { data } = screen.getContext('2d')!.getImageData(0, 0, screen.width, screen.height);
          return data.reduce((sum, one) => sum + one, 0) / data.length;
        });
      const lights = async () => {
        const all: number[] = [];
        await page.keyboard.press('Home');
        for (let step = 0; step < 6; step++) {
          await page.keyboard.press('ArrowRight');
          await expect.poll(() => film.frame()).toBe(step + 1);
          all.push(await light());
        }
        return Math.max(...all) - Math.min(...all);
      };
      expect(await lights()).toBeLessThan(0.01);
      await page.keyboard.press('f');
      expect(await page.locator('#flash').getAttribute('aria-pressed')).toBe('true');
      await expect.poll(lights).toBeGreaterThan(1);
    });
  });

  test('people who want no movement get stills, and are told', async () => {
    await open({ options: { reducedMotion: 'reduce' } });
    expect(await page.locator('#pace').textContent()).toContain('shown as stills');
    await film.drawn();
    const picture = () => page.evaluate(() => (document.getElementById('screen') as HTMLCanvasElement).toDataURL());
    const first = await picture();
    for (let step = 0; step < 5; step++) await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(() => film.frame()).toBe(75);
    expect(await picture()).toBe(first);
    await page.keyboard.press('PageDown');
    await expect.poll(picture).not.toBe(first);
  });

  test('a reel that is none changes nothing', async () => {
    await open();
    for (const reel of [null, 7, 'x', {}, [], { frames: 'x' }, { frames: 1e12, pieces: [] }]) {
      await film.panel.send({ kind: 'reel', reel });
    }
    for (const odd of [undefined, null, 7, {}, { id: 'x' }]) {
      await film.panel.send({ kind: 'scene', answer: odd });
      await film.panel.send({ kind: 'sound', sound: odd });
    }
    await film.panel.send({ kind: 'reel', reel: reelFor(checkSpec(text)) });
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => film.frame()).toBe(1);
    expect(film.panel.complaints).toEqual([]);
  });
});
