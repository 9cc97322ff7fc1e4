import { degreesTurned } from '../../calc/motion.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { angleText, quoted, secondsText } from '../../core/say.ts';
import type { Shot, Turn } from '../../core/film.ts';

export default defineRule({
  id: 'turn-said-twice',
  family: 'names',
  summary: 'A turn is given both as an angle and as a speed, and only one of them can hold.',
  severity: 'error',
  sources: ['arithmetic: degrees = 6 × turns a minute × seconds'],
  messages: {
    both: '{shot}: `by` {by} and `speed` {speed} are both said. {also}Keep the one that you mean.',
  },
  shot(shot, { report }) {
    const { turn } = shot;
    if (!turn?.by || !turn.speed || agree(shot, turn)) return;
    report({
      message: 'both',
      data: { shot: shot.name, by: quoted(turn.by.text), speed: quoted(turn.speed.text), also: inAction(shot, turn) },
      at: turn.by,
      fixes: () => fixes(turn),
    });
  },
});

/** Is the one what the other comes to, rounded by hand? */
function agree({ actionS }: Shot, { by, speed }: Turn): boolean {
  const degrees = actionS === undefined ? 0 : degreesTurned(speed!.value, actionS);
  return Math.abs(degrees - by!.value) <= 0.02 * Math.abs(degrees);
}

/** What the speed would make of the action. */
function inAction({ actionS }: Shot, { speed }: Turn): string {
  if (!actionS) return '';
  const degrees = angleText(degreesTurned(speed!.value, actionS));
  return `In the ${secondsText(actionS)} of the action that speed turns it by ${degrees}. `;
}

function fixes(turn: Turn): FixIdea[] {
  return [
    { title: `Keep the angle, ${turn.by!.text} over the action`, remove: [{ block: turn, key: 'speed' }] },
    { title: `Keep the speed, ${turn.speed!.text} all through the take`, remove: [{ block: turn, key: 'by' }] },
  ];
}
