/** A timer for moves by hand: still, then the action, counted in the beats of the music. Nothing flashes: digits and words change. */
import type { ShotOnSet } from '../../server/views/set-page/plan.ts';
import { click, prepareClick } from './click.ts';
import { part, say } from './elements.ts';

/** So many beats are counted in before the camera is to be still. */
const countIn = 4;

export function startTimer(element: HTMLElement, shot: ShotOnSet): void {
  const button = part<HTMLButtonElement>(element, 'timer');
  const output = part(element, 'time');
  const clicks = element.querySelector<HTMLInputElement>('[data-part="clicks"]');
  let started: number | undefined;
  let beat: string | undefined;
  const step = () => {
    if (started === undefined) return;
    const said = timerWords(shot, (performance.now() - started) / 1000);
    say(output, said);
    const before = beat;
    beat = /^Beat -?\d+/.exec(said)?.[0];
    if (beat !== undefined && beat !== before && clicks?.checked) click();
    requestAnimationFrame(step);
  };
  button.addEventListener('click', () => {
    started = started === undefined ? performance.now() : undefined;
    beat = undefined;
    if (clicks?.checked) prepareClick();
    say(button, started === undefined ? 'Start the timer' : 'Stop the timer');
    step();
  });
}

/** What is said so many seconds after the start. */
export function timerWords({ beatS, handleS, actionS }: ShotOnSet, elapsedS: number): string {
  const before = beatS ? countIn * beatS : 0;
  if (beatS && elapsedS < before) return `Beat ${Math.floor(elapsedS / beatS) - countIn}`;
  const sinceS = elapsedS - before;
  if (sinceS < handleS) return `Hold still ${(handleS - sinceS).toFixed(1)} s`;
  const atS = sinceS - handleS;
  const ends = actionS !== undefined && atS >= actionS;
  if (ends)
    return atS - actionS < handleS
      ? `Hold still ${(handleS - atS + actionS).toFixed(1)} s`
      : `Over, ${sinceS.toFixed(1)} s`;
  const beat = beatS
    ? `Beat ${Math.floor(atS / beatS) + 1}${actionS ? ` of ${beatsText(actionS / beatS)}` : ''}, `
    : '';
  return `${beat}${atS.toFixed(1)} s${actionS ? ` of ${actionS.toFixed(1)} s` : ''}`;
}

function beatsText(beats: number): string {
  return String(Math.round(beats * 10) / 10);
}
