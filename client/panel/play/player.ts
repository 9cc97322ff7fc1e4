/** Plays the film of the plan above its picture in time: at its true speed, drawn as lit, with its sound. */
import { quotedAsCode } from '../quoted.ts';
import type { TimeAxis } from '../../../server/views/picture.ts';
import type { Seconds } from '../../../server/core/units.ts';
import type { Reel, ReelPiece } from '../../../server/film/reel.ts';
import type { FromPanel, SoundFile, TextPlace, ToPanel } from '../messages.ts';
import { put, type PanelText } from '../panel-text.ts';
import { Drawings, type SceneAnswer } from './drawings.ts';
import { FilmClock } from './film-clock.ts';
import { MomentLine } from './moment-line.ts';
import type { Painted } from './painter.ts';
import painterScript from './painter.ts?text';
import { Pace } from './pace.ts';
import { beatAt, beatFrom, pieceAt, pieceFrom, shownAt, type Wanted } from './shown-at.ts';
import { Stage } from './stage.ts';

const byId = <T extends HTMLElement>(id: string) => document.getElementById(id) as T;
const page = {
  player: byId('player'),
  why: byId('no-film'),
  film: byId('film'),
  screen: byId<HTMLCanvasElement>('screen'),
  moment: byId<HTMLInputElement>('moment'),
  play: byId('play'),
  repeat: byId('repeat'),
  hush: byId('hush'),
  flash: byId('flash'),
  caution: byId('caution'),
  now: byId('now'),
  spoken: byId('spoken'),
  pace: byId('pace'),
  beat: byId('beat'),
  notes: byId('film-notes'),
};

export class Player {
  readonly #stage = new Stage(page.screen);
  readonly #clock = new FilmClock();
  readonly #pace = new Pace();
  readonly #drawings: Drawings;
  readonly #line = new MomentLine((atS) => this.#seek(this.#frameAt(atS)));
  readonly #calm = matchMedia('(prefers-reduced-motion: reduce)');
  #painter: Worker | undefined;
  #reel: Reel | undefined;
  #isOpen = false;
  #frame = 0;
  #drawnFrame = -1;
  #isDue = false;
  #repeats = false;
  #flashes = false;
  /** The place of the text that was seen last, and the piece that the text was shown last. */
  #here: number | undefined;
  /** The text has changed just now, and may change again. */
  #isTyping = false;
  #quiet: ReturnType<typeof setTimeout> | undefined;
  #followed: number | undefined;
  #sounds = new Map<string, Promise<AudioBuffer | undefined>>();
  readonly #awaited = new Map<string, (bytes: ArrayBuffer | undefined) => void>();

  constructor(
    private readonly words: PanelText,
    private readonly send: (message: FromPanel) => void,
  ) {
    this.#drawings = new Drawings({
      ask: (scene) => send({ kind: 'scene', scene }),
      paint: (what) => this.#painter?.postMessage(what),
      changed: () => this.#draw(),
    });
    page.play.addEventListener('click', () => this.#turn());
    page.repeat.addEventListener('click', () => this.#setRepeats(!this.#repeats));
    page.hush.addEventListener('click', () => this.#hush());
    page.flash.addEventListener('click', () => this.#setFlashes(!this.#flashes));
    page.moment.addEventListener('input', () => this.#seek(page.moment.valueAsNumber));
    document.addEventListener('keydown', (event) => this.#key(event));
    window.addEventListener('resize', () => this.#fit());
    new ResizeObserver(() => this.#fit()).observe(page.player);
    this.#calm.addEventListener('change', () => this.#draw());
    document.addEventListener('visibilitychange', () => document.hidden && this.#hold());
  }

  // -- what comes in -------------------------------------------------------------------------------------------------

  /** With the picture of the film in time, or with another one, where it rests. */
  open(isOpen: boolean, svg: SVGSVGElement | undefined, axis: TimeAxis | undefined): void {
    this.#isOpen = isOpen;
    page.player.hidden = !isOpen;
    if (!isOpen) this.#hold();
    this.#line.attach(isOpen ? svg : undefined, isOpen ? axis : undefined);
    const viewWidth = svg?.viewBox.baseVal.width;
    if (axis && viewWidth) {
      page.film.style.setProperty('--axis-left', `${(100 * axis.left) / viewWidth}%`);
      page.film.style.setProperty('--axis-right', `${100 - (100 * axis.right) / viewWidth}%`);
    }
  }

  /** Whether a message is for it. What is no reel counts as none. */
  told(message: ToPanel): boolean {
    if (message.kind === 'reel') this.#setReel(isReel(message.reel) ? message.reel : undefined, message.why);
    else if (message.kind === 'scene') this.#answered(message.answer);
    else if (message.kind === 'sound') this.#heard(message.sound);
    else return false;
    return true;
  }

  #setReel(reel: Reel | undefined, why: string | undefined): void {
    page.film.hidden = reel === undefined;
    say(page.why, why ?? '');
    if (!reel) {
      this.#hold();
      this.#reel = undefined;
      return;
    }
    const before = this.#reel;
    this.#reel = reel;
    if (before) this.#waitForQuiet();
    this.#openPainter();
    this.#stage.setReel(reel);
    this.#fit();
    this.#drawings.setReel(reel);
    page.moment.max = String(reel.frames - 1);
    page.notes.replaceChildren(...quotedAsCode(reel.notes.join(' ')));
    this.#showFlashes(reel);
    page.hush.hidden = reel.sounds.length === 0;
    page.beat.hidden = !reel.beats;
    const same = before?.deliverable === reel.deliverable;
    const atS = before && !same ? before.fromS + this.#frame / fpsOf(before) : undefined;
    const frame = atS === undefined ? this.#frame : this.#frameAt(atS);
    if (this.#clock.runs) {
      this.#frame = Math.min(reel.frames - 1, Math.max(0, frame));
      this.#start();
    } else this.#seek(frame, false);
  }

  /** What moves takes many drawings: they wait until nobody types. */
  #waitForQuiet(): void {
    this.#isTyping = true;
    clearTimeout(this.#quiet);
    this.#quiet = setTimeout(() => {
      this.#isTyping = false;
      this.#draw();
    }, quietMs);
  }

  #answered(answer: SceneAnswer | undefined): void {
    if (answer) this.#drawings.answered(answer);
    this.#draw();
  }

  #heard(sound: SoundFile | undefined): void {
    if (!sound) return;
    this.#awaited.get(sound.file)?.(sound.bytes);
    this.#awaited.delete(sound.file);
  }

  /** The cursor in the text: the film goes to the piece there, where it is not in it already. */
  textAt(here: number | undefined): void {
    const isNew = here !== undefined && here !== this.#here;
    this.#here = here;
    const reel = this.#reel;
    if (!isNew || !reel || !this.#isOpen || this.#clock.runs) return;
    const isIn = (range: ReelPiece['written']) => range && range.start <= here && here <= range.end;
    const now = pieceAt(reel, this.#frame);
    if (now && (isIn(now.written) || isIn(now.shot))) return;
    const piece = reel.pieces.find(({ written }) => isIn(written)) ?? reel.pieces.find(({ shot }) => isIn(shot));
    if (!piece || piece.end <= piece.start) return;
    this.#followed = piece.index;
    this.#seek(piece.start, false);
  }

  // -- what the person does ------------------------------------------------------------------------------------------

  #key(event: KeyboardEvent): void {
    const { key, shiftKey, target } = event;
    const reel = this.#reel;
    if (!this.#isOpen || !reel || event.ctrlKey || event.metaKey || event.altKey) return;
    const on = target instanceof Element ? target : document.body;
    const isOurs = on === document.body || on === page.moment || page.player.contains(on);
    if (!isOurs || (key === ' ' && on.closest('button, summary'))) return;
    const deed = this.#deeds(reel, shiftKey)[key.length === 1 ? key.toLowerCase() : key];
    if (!deed) return;
    event.preventDefault();
    deed();
  }

  #deeds(reel: Reel, byBeat: boolean): Readonly<Record<string, () => void>> {
    const step = (way: 1 | -1) => () => this.#seek(byBeat ? beatFrom(reel, this.#frame, way) : this.#frame + way);
    return {
      ' ': () => this.#turn(),
      ArrowRight: step(1),
      ArrowUp: step(1),
      ArrowLeft: step(-1),
      ArrowDown: step(-1),
      PageDown: () => this.#seek(pieceFrom(reel, this.#frame, 1)),
      PageUp: () => this.#seek(pieceFrom(reel, this.#frame, -1)),
      Home: () => this.#seek(0),
      End: () => this.#seek(reel.frames - 1),
      r: () => this.#setRepeats(!this.#repeats),
      f: () => reel.flashes.length > 0 && this.#setFlashes(!this.#flashes),
      h: () => reel.sounds.length > 0 && this.#hush(),
    };
  }

  #turn(): void {
    const reel = this.#reel;
    if (!reel) return;
    if (this.#clock.runs) return this.#hold();
    const { end } = this.#stretch(reel);
    // From the end it starts anew.
    if (this.#frame >= end - 1) this.#frame = this.#stretch(reel).start;
    this.#start();
    void this.#loadSounds(reel);
  }

  #start(): void {
    const reel = this.#reel!;
    const fps = fpsOf(reel);
    this.#clock.start(this.#frame / fps, this.#stretch(reel).end / fps);
    this.#pace.begin();
    say(page.play, this.words.hold);
    this.#draw();
  }

  #hold(): void {
    if (!this.#clock.runs) return;
    this.#clock.stop();
    say(page.play, this.words.play);
    say(page.spoken, this.#momentWords());
    this.#draw();
  }

  /** To a frame of the film; a film that runs goes on from there. */
  #seek(to: number, tells = true): void {
    const reel = this.#reel;
    if (!reel) return;
    this.#frame = Math.max(0, Math.min(reel.frames - 1, Math.round(to)));
    if (this.#clock.runs) this.#start();
    this.#tell();
    if (tells) this.#showInText();
    if (tells && !this.#clock.runs && document.activeElement !== page.moment) say(page.spoken, this.#momentWords());
    this.#draw();
  }

  #setRepeats(repeats: boolean): void {
    this.#repeats = repeats;
    page.repeat.setAttribute('aria-pressed', String(repeats));
    if (this.#clock.runs) this.#start();
  }

  #setFlashes(flashes: boolean): void {
    this.#flashes = flashes;
    page.flash.setAttribute('aria-pressed', String(flashes));
    this.#draw();
  }

  #hush(): void {
    this.#clock.setSilent(!this.#clock.isSilent);
    page.hush.setAttribute('aria-pressed', String(this.#clock.isSilent));
  }

  // -- what is shown -------------------------------------------------------------------------------------------------

  /** The frames that run: all, or those of the piece that is repeated. */
  #stretch(reel: Reel): { readonly start: number; readonly end: number } {
    const piece = this.#repeats ? pieceAt(reel, this.#frame) : undefined;
    return piece ?? { start: 0, end: reel.frames };
  }

  #frameAt(atS: Seconds): number {
    const reel = this.#reel;
    return reel ? Math.floor((atS - reel.fromS) * fpsOf(reel) + 1e-6) : 0;
  }

  #fit(): void {
    const reel = this.#reel;
    const width = page.player.clientWidth;
    if (!reel || page.player.hidden || width < 50) return;
    const height = Math.max(140, window.innerHeight * screenShare);
    this.#stage.fit(reel.raster.width / reel.raster.height, { width, height });
    this.#drawings.setSize(this.#stage.size);
    this.#drawnFrame = -1;
    this.#draw();
  }

  /** Once for the next frame of the screen, however often it is asked. */
  #draw(): void {
    this.#drawnFrame = -1;
    if (this.#isDue || !this.#isOpen) return;
    this.#isDue = true;
    requestAnimationFrame(() => this.#tick());
  }

  #tick(): void {
    this.#isDue = false;
    const reel = this.#reel;
    if (!reel || !this.#isOpen) return;
    if (this.#clock.runs) this.#goOn(reel);
    if (this.#frame !== this.#drawnFrame) this.#show(reel);
    if (!this.#clock.runs) return;
    this.#isDue = true;
    requestAnimationFrame(() => this.#tick());
  }

  #goOn(reel: Reel): void {
    const { start, end } = this.#stretch(reel);
    const frame = Math.floor(this.#clock.now() * fpsOf(reel) + 1e-6);
    if (frame < end) {
      if (frame !== this.#frame) this.#moveTo(frame);
    } else if (this.#repeats) {
      this.#moveTo(start);
      this.#start();
    } else {
      this.#moveTo(end - 1);
      this.#hold();
    }
  }

  #moveTo(frame: number): void {
    this.#frame = frame;
    this.#tell();
    // Who types meanwhile keeps the cursor.
    if (document.hasFocus()) this.#showInText();
  }

  #show(reel: Reel): void {
    const frame = this.#frame;
    const shown = shownAt(reel, frame, this.#how);
    const now = shown.layers.flatMap((layer) => (layer.kind === 'drawing' ? [layer.wanted] : []));
    this.#stage.show(shown, this.#drawings);
    this.#drawnFrame = frame;
    page.screen.dataset['frame'] = String(frame);
    const isMissing = (one: Wanted) => !this.#drawings.nearest(one);
    // While it runs what is late is not drawn any more, but for what there is nothing of.
    const isAll = this.#clock.runs || !this.#isTyping;
    this.#drawings.fill(this.#clock.runs ? now.filter(isMissing) : now, this.#soon(reel, isAll), isAll);
    if (this.#clock.runs)
      this.#pace.shown(
        frame,
        now.map((one) => this.#drawings.nearest(one)?.bitmap),
      );
    this.#tellPace(reel);
  }

  get #how() {
    return { flashes: this.#flashes, stills: this.#calm.matches };
  }

  /** First one drawing of each piece, then all frames, from this one on and round; while it runs what will be in time. */
  *#soon(reel: Reel, isAll: boolean): Generator<Wanted> {
    const wantedAt = (frame: number) =>
      shownAt(reel, frame, this.#how).layers.flatMap((layer) => (layer.kind === 'drawing' ? [layer.wanted] : []));
    if (this.#clock.runs) yield* this.#inTime(reel, wantedAt);
    const at = this.#frame;
    const first = reel.pieces.findIndex(({ end }) => end > at);
    for (let step = 0; step < reel.pieces.length; step++) {
      const piece = reel.pieces[(Math.max(0, first) + step) % reel.pieces.length]!;
      if (piece.end > piece.start) yield* wantedAt(Math.floor((piece.start + piece.end) / 2));
    }
    for (let step = 0; isAll && step < reel.frames; step++) yield* wantedAt((at + step) % reel.frames);
  }

  /** Frames to come, as far from now and from each other as drawing them takes. */
  *#inTime(reel: Reel, wantedAt: (frame: number) => readonly Wanted[]): Generator<Wanted> {
    const { waitMs, betweenMs } = this.#drawings.times;
    const framesIn = (ms: number) => Math.max(1, Math.ceil((ms / 1000) * fpsOf(reel)));
    const { end } = this.#stretch(reel);
    for (let frame = this.#frame + framesIn(waitMs); frame < end; frame += framesIn(betweenMs)) yield* wantedAt(frame);
  }

  #tell(): void {
    const reel = this.#reel!;
    const words = this.#momentWords();
    page.now.textContent = words;
    page.moment.value = String(this.#frame);
    page.moment.setAttribute('aria-valuetext', words);
    this.#line.place(reel.fromS + this.#frame / fpsOf(reel));
    const beat = beatAt(reel, this.#frame);
    page.beat.classList.toggle('on', beat !== undefined && beat.gone < 0.25 && !this.#calm.matches);
  }

  #momentWords(): string {
    const reel = this.#reel!;
    const { words } = this;
    const atS = (this.#frame / fpsOf(reel)).toFixed(2);
    const beat = beatAt(reel, this.#frame);
    const piece = pieceAt(reel, this.#frame);
    return [
      put(words.moment, atS, this.#frame + 1, reel.frames),
      beat && put(words.beat, beat.number),
      piece && put(words.piece, piece.index + 1, piece.name),
    ]
      .filter(Boolean)
      .join(' · ');
  }

  #tellPace(reel: Reel): void {
    const { done, all } = this.#drawings.progress;
    page.screen.dataset['drawn'] = done < all ? 'part' : 'all';
    const drawing = done < all ? put(this.words.drawing, done, all) : '';
    const pace = this.#pace.read();
    const runs = pace && put(this.words.pace, pace.frames, Math.round(fpsOf(reel)), pace.drawings);
    const calm = this.#calm.matches ? this.words.calm : '';
    say(page.pace, [calm, runs, drawing].filter(Boolean).join(' '));
  }

  #showFlashes({ flashes }: Reel): void {
    page.caution.hidden = flashes.length === 0;
    page.flash.hidden = flashes.length === 0;
    if (flashes.length === 0) return;
    say(page.caution, put(this.words.flashCaution, Math.max(...flashes.map(({ inOneSecond }) => inOneSecond))));
  }

  #showInText(): void {
    const piece = this.#reel && pieceAt(this.#reel, this.#frame);
    if (!piece?.written || piece.index === this.#followed) return;
    this.#followed = piece.index;
    const spot: TextPlace = { start: piece.written.start, end: piece.written.end };
    // The cursor will come back from there.
    this.#here = spot.start;
    this.send({ kind: 'follow', spot });
  }

  // -- helpers of its own --------------------------------------------------------------------------------------------

  #openPainter(): void {
    if (this.#painter) return;
    const address = URL.createObjectURL(new Blob([painterScript], { type: 'text/javascript' }));
    this.#painter = new Worker(address);
    this.#painter.addEventListener('message', ({ data }: MessageEvent<Painted>) => {
      this.#drawings.painted(data.id, data.bitmap);
    });
  }

  /** When it is played first: a browser lets sound start only then. */
  async #loadSounds(reel: Reel): Promise<void> {
    const loaded = await Promise.all(
      reel.sounds.map(async (sound) => ({ sound, buffer: await this.#buffer(sound.file) })),
    );
    if (reel !== this.#reel) return;
    const silent = loaded.filter(({ buffer }) => !buffer).map(({ sound }) => sound.name);
    if (silent.length > 0) {
      const cannot = put(this.words.cannotPlay, [...new Set(silent)].join(', '));
      page.notes.replaceChildren(...quotedAsCode([...reel.notes, cannot].join(' ')));
    }
    this.#clock.setSounds(loaded.flatMap(({ sound, buffer }) => (buffer ? [{ sound, buffer }] : [])));
  }

  #buffer(file: string): Promise<AudioBuffer | undefined> {
    const known = this.#sounds.get(file);
    if (known) return known;
    const asked = new Promise<ArrayBuffer | undefined>((done) => this.#awaited.set(file, done))
      .then((bytes) => bytes && this.#clock.decode(bytes))
      .catch(() => undefined);
    this.#sounds.set(file, asked);
    this.send({ kind: 'sound', file });
    return asked;
  }
}

/** So long after the last change of the text nobody types. */
const quietMs = 1000;
/** How much of the window's height the film may take. */
const screenShare = 0.45;

function fpsOf({ rate }: Reel): number {
  return rate.num / rate.den;
}

function isReel(from: Reel | undefined): from is Reel {
  const lists = from ? [from.pieces, from.stretches, from.titles, from.flashes, from.sounds, from.notes] : [];
  return from !== undefined && Number.isInteger(from?.frames) && lists.every((one) => Array.isArray(one));
}

/** Words that stay are not written again, so that nothing reads them aloud twice. */
function say(element: HTMLElement, words: string): void {
  if (element.textContent !== words) element.textContent = words;
}
