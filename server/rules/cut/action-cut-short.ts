import { farthestShown } from '../../core/derived/reached.ts';
import { endsAtS, startsAtS, takenS } from '../../core/derived/time.ts';
import type { Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { pieceText } from '../framing/framing-text.ts';

export default defineRule({
  id: 'action-cut-short',
  family: 'cut',
  summary: 'No piece of the cut shows how an action ends, or any of it.',
  severity: 'info',
  sources: [
    'arithmetic: film seconds × speed are seconds of the take',
    'common practice, no source (a quarter is missed)',
  ],
  limits: {
    left: {
      quantity: 'share',
      default: '25 %',
      meaning: 'From this part of an action on, what the cut leaves out of its end is told.',
    },
  },
  messages: {
    short:
      '{shot}: {what} lasts {lasts}, and {line}, which follows it farthest, ends {left} before that is over, so the film does not show its end. Start the piece later in the take, hold it longer, or play it faster; where it is done sooner, say so in `lasts`.',
    missed:
      '{shot}: {what} lasts {lasts} from {begins} on, and {line} starts {start} into the take, {late} after it is over: the film shows none of it. Start the piece earlier.',
  },
  shot(shot, { film, limits, report }) {
    const { action, actionS, handlesS } = shot;
    if (!action?.what || !action.lasts || !actionS || shot.interval) return;
    const common = { at: action.lasts, cause: film.cutAt && { ...film.cutAt, isWide: true as const } };
    const data = { shot: shot.name, what: quoted(action.what.value), lasts: secondsText(actionS) };
    const most = farthestShown(shot, film);
    if (!most) return;
    const { piece } = most;
    const leftS = actionS * (1 - most.moment);
    const related = [{ start: piece.start, end: piece.end, message: 'follows it farthest' }];
    const firstS = Math.min(...shot.pieces.map((one) => Math.min(startsAtS(one), endsAtS(one))));
    const lateS = firstS - handlesS - actionS;
    if (lateS >= -1e-6) {
      report({
        message: 'missed',
        data: {
          ...data,
          begins: secondsText(handlesS),
          line: pieceText(piece),
          start: secondsText(firstS),
          late: secondsText(lateS),
        },
        ...common,
        cause: undefined,
        related,
        excess: lateS + actionS,
      });
    } else if (
      most.moment > 0 &&
      leftS >= Math.max(limits.left * actionS, leastS) - 1e-6 &&
      actionS <= longestDeedS &&
      isBroughtToAnEnd(action.what.value)
    ) {
      report({
        message: 'short',
        // From where in the take a piece is cut is settled with the take before one's eyes.
        severity: 'sheet',
        data: { ...data, line: pieceText(piece), left: secondsText(leftS) },
        ...common,
        related,
        excess: leftS,
        fixes: () => later(shot, piece, leftS),
      });
    }
  },
});

/** Less of an action is within what anybody can plan. */
const leastS: Seconds = 0.5;

/** What takes longer is work that goes on, of which a part stands for the whole (common practice, no source). */
const longestDeedS: Seconds = 15;

/**
 * What a sentence says last where its action comes to something that was not before: a lid that is off, a knot that is tight.
 * What can go on as long as one likes (steam, a crank, a walk) is as well seen in part.
 */
const ends: readonly RegExp[] = [
  /\b(?:sets?|puts?|lays?|laid|places?|placed|sent)\b.*\b(?:down|on|onto|in|into|(?<!the )back|aside|away|home)\b/,
  /\b(?:goes|go)\b.*\b(?:into|onto|under|(?<!the )back|home)\b/,
  /\b(?:lifts?|lifted|takes?|taken|draws?|drawn|pulls?|pulled|comes)\b.*\b(?:out(?! of\b)|off(?! (?:the|its|their)\b)|away|apart)\b/,
  /\b(?:slides?|slips?|push|pushe[sd]|pressed|clicks?|snaps?)\b.*(?<!-)\b(?:into|in|onto|under|home)\b/,
  /(?<!\bsprings? )\b(?:opens?|opened|closes?|closed|shuts?|unfolds?|unfolded|unrolled|unwrapped|uncoiled)\b(?! the clay\b)/,
  /\b(?:unrolls?|unwraps?|uncoils?) \w/,
  /\b(?:laid|pulled|rubbed|pressed|strokes?)\b.*\b(?:open|tight|down|flat)\b/,
  /\b(?:falls?|tips?|topples?|rolls?|turns?)\b.*\bover$/,
  /\bcomes (?:down|up (?:full|empty|clean))$/,
  /\b(?:tightened|lies|stops|leaves?|out)$/,
  /\bt(?:ies?|ied)\b.*\bknots?\b/,
  /\b(?:taps?|knocks?)\b.*\bhome$/,
];

/** Done over and over, or of so many alike some: a part of it stands for all. What moves camera or light is no deed. */
const inPart =
  /\b(?:to and fro|back and forth|one by one|again|times|round|(?:in|with) (?:two|three|four|five|six|long|short|slow) \w+|blows|steps|stitches|and shut|and closed|camera|slider|rail|lens|focus|lamp)\b/;

/** What happens by itself once the deed is done: a top that runs out, a cloud that opens. */
const afterwards =
  /^it (?:\w+ )?(?:runs?|swings?|rings?|rolls?|spins?|comes to rest)\b|\b(?:clouds?|steam|smoke|dust|powder|rings|ripples|glow|bubbles)\b/;

/** Does what is done come to something that was not before? It stands last in the sentence. */
function isBroughtToAnEnd(what: string): boolean {
  const text = what.toLowerCase();
  const clauses = text
    .replace(/\band (?=(?:away|down|out|off|in|shut|tight)\b)/g, '')
    .split(/[.;:,!?]|\b(?:and|then|until|till|while|as)\b/);
  const last = clauses.map((one) => one.trim()).findLast((one) => one !== '') ?? '';
  return !inPart.test(text) && !afterwards.test(last) && ends.some((one) => one.test(last));
}

/** The piece ends with the action, where the take is long enough. */
function later(shot: Shot, piece: Piece, byS: Seconds): FixIdea[] {
  const fromS = Math.floor((piece.fromS + byS) * 100 + 1e-6) / 100;
  const isInTake = fromS + (takenS(piece) ?? Infinity) <= (shot.record?.value ?? 0) + 1e-6;
  if (piece.speed <= 0 || !isInTake) return [];
  const text = `${num(fromS, 2)} s`;
  return [
    set(`Start piece ${piece.index + 1} ${text} into the take (it then ends with the action)`, [piece, 'from', text]),
  ];
}
