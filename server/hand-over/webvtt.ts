/** Titles and spoken words of one deliverable as captions: W3C WebVTT. */
import { framesToS, nearestFrame, type Rate } from '../calc/rate.ts';
import { shownStretch } from '../core/derived/edit.ts';
import { quoted, secondsText } from '../core/say.ts';
import { harmless } from '../formats/escape.ts';
import { type Cut, cutOf } from './cut.ts';
import type { Kind, ToHandOver } from './kind.ts';

export const webvtt: Kind = {
  make(asked) {
    const cut = cutOf(asked);
    const spoken = spokenIn(asked, cut);
    const titles = cut.titles.map(({ title, startFrame, frames }) => ({
      startFrame,
      endFrame: startFrame + frames,
      text: title.text!.value,
      // What stands low is where captions stand anyhow.
      settings: /top/.test(title.place) ? ' line:5%' : /bottom/.test(title.place) ? '' : ' line:45%',
    }));
    const cues = [...titles, ...spoken.cues].sort((a, b) => a.startFrame - b.startFrame || a.endFrame - b.endFrame);
    const texts = cues.map((cue) => cueText(cue, cut.rate)).filter((text) => text !== '');
    return { text: `WEBVTT\n\n${texts.join('\n')}`, notes: spoken.notes };
  },
};

interface Cue {
  readonly startFrame: number;
  readonly endFrame: number;
  readonly text: string;
  readonly settings: string;
}

/** A voice whose words have no length ends where the next begins. */
function spokenIn({ film }: ToHandOver, { deliverable, rate, frames }: Cut): { cues: Cue[]; notes: string[] } {
  const cues: Cue[] = [];
  const notes: string[] = [];
  const fromS = shownStretch(deliverable, film)!.from;
  const voices = film.sounds.filter(({ words }) => words).sort((a, b) => a.atS - b.atS);
  for (const [index, { words, atS, lengthS }] of voices.entries()) {
    const endS = lengthS === undefined ? (voices[index + 1]?.atS ?? film.cutS ?? atS) : atS + lengthS;
    if (lengthS === undefined)
      notes.push(
        `How long ${quoted(words!.value)} is spoken is not said: its caption stands until ${secondsText(endS)}. Give the sound a \`length\`.`,
      );
    const [start, end] = [nearestFrame(atS - fromS, rate), nearestFrame(endS - fromS, rate)];
    const [startFrame, endFrame] = [Math.max(0, start), Math.min(frames, end)];
    if (endFrame > startFrame) cues.push({ startFrame, endFrame, text: words!.value, settings: '' });
  }
  return { cues, notes };
}

function cueText({ startFrame, endFrame, text, settings }: Cue, rate: Rate): string {
  const words = escaped(text);
  if (words === '') return '';
  return `${stamp(startFrame, rate)} --> ${stamp(endFrame, rate)}${settings}\n${words}\n`;
}

/** `00:00:01.040`: the start of a frame, to the nearest millisecond. */
function stamp(frame: number, rate: Rate): string {
  const ms = Math.round(framesToS(frame, rate) * 1000);
  const part = (value: number, digits: number) => String(value).padStart(digits, '0');
  const seconds = Math.floor(ms / 1000);
  const hours = part(Math.floor(seconds / 3600), 2);
  return `${hours}:${part(Math.floor(seconds / 60) % 60, 2)}:${part(seconds % 60, 2)}.${part(ms % 1000, 3)}`;
}

/** An empty line would end the cue, `<` start a tag, and an arrow begin another cue. */
function escaped(text: string): string {
  const lines = text.split(/[\r\n]+/).map((line) => harmless(line).trim());
  return lines
    .filter((line) => line !== '')
    .join('\n')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;');
}
