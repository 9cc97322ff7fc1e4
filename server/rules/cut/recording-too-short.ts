import { type UsedStretch, lastUsed, usedStretch } from '../../core/derived/take.ts';
import { takesBytes } from '../../calc/data.ts';
import { rateFps } from '../../calc/rate.ts';
import { fileS, spareAtEndsS, startsAtS } from '../../core/derived/time.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { bytesText, num, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

const messages = {
  short: '{shot}: the cut uses its take up to {to}{dissolve}, and {record} are recorded. Record {need}{spare}.',
  lapse:
    '{shot}: the cut uses its take up to {to}{dissolve}, and {record} are recorded: {lacks} of the film are missing at its end. Record {need}.',
  spare:
    '{shot}: the cut uses its take up to {to}{dissolve}; {record} are recorded, which leaves {left} where {handles} should be spare. Record {need}.',
  start:
    '{shot}: the dissolve into it needs {before} before the piece, but the piece starts {from} into the take. Start it later, or shorten the dissolve.',
  past: '{shot}: backwards from {from} for {length} the piece goes {before} past the start of the take. Start it later in the take, or make it shorter.',
  action: '{shot}: what happens lasts {lasts}{spare}; {record} are recorded. Record {need}.',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'recording-too-short',
  family: 'cut',
  summary: 'A take is shorter than what the cut takes out of it, or leaves no spare time at its ends.',
  severity: 'error',
  sources: ['arithmetic: film seconds × speed are seconds of the take'],
  messages,
  shot(shot, { film, report }) {
    checkEnd(shot, film, report);
    for (const { piece, used, beforeS } of startsTooSoon(shot, film)) {
      if (used.fromS < -tiny) {
        const data = {
          shot: shot.name,
          from: piece.from!.text,
          length: piece.length!.text,
          before: secondsText(-used.fromS),
        };
        report({ message: 'past', data, at: piece.from!, excess: -used.fromS });
        continue;
      }
      const texts = { shot: shot.name, from: secondsText(used.fromS), before: secondsText(beforeS) };
      const at = piece.dissolve ?? piece.from ?? piece;
      const fixes = later(shot, piece, used);
      // Where nobody said where it starts and the take is long enough, it is a number to write down, and nothing is lacking.
      const severity =
        (!piece.from && fixes.length > 0) || beforeS <= fewFrames * frameS(piece, film) ? 'info' : 'error';
      report({ message: 'start', data: texts, at, severity, excess: beforeS, fixes });
    }
  },
});

const tiny = 1e-6;

function checkEnd(shot: Shot, film: Film, report: Ctx['report']): void {
  const { record } = shot;
  if (!record) return;
  const handlesS = spareAtEndsS(shot);
  const lastsS = shot.action?.lasts?.value;
  const last = lastUsed(shot, film);
  // Where nobody has said how much is spare, an action may fill its take.
  const aroundS = shot.fields.said('handles') ? 2 * handlesS : 0;
  const actionS = lastsS === undefined ? 0 : lastsS + aroundS;
  const byCutS = last ? neededBy(last.used, handlesS) : 0;
  const neededS = Math.max(byCutS, actionS);
  const lacksS = neededS - record.value;
  if (lacksS <= tiny || lacksS < (last ? frameS(last.piece, film) : 0) - tiny) return;
  const common = {
    at: record,
    excess: lacksS,
    fixes: () => [...earlier(shot, last), ...recordFix(shot, neededS)],
  };
  const data = {
    shot: shot.name,
    record: record.text,
    handles: secondsText(handlesS),
    need: recordText(shot, neededS),
  };
  if (!last || byCutS < actionS - tiny) {
    const severity = lastsS! > record.value + tiny ? 'error' : 'warning';
    const texts = {
      lasts: shot.action!.lasts!.text,
      spare: aroundS > 0 ? `, and with ${data.handles} spare at both ends that is ${secondsText(neededS)}` : '',
    };
    report({ message: 'action', data: { ...data, ...texts }, severity, ...common });
    return;
  }
  const { used, piece } = last;
  const texts = { ...data, to: secondsText(used.outerToS), dissolve: dissolveText(last, film) };
  if (used.outerToS <= record.value + tiny) {
    if (lacksS <= handlesS * unseenShare + tiny) return;
    const left = secondsText(Math.max(0, record.value - used.toS));
    report({ message: 'spare', data: { ...texts, left }, severity: 'warning', ...common });
  } else if (shot.interval) {
    const frames = lacksS / frameS(piece, film);
    const severity = frames <= fewFrames + tiny ? 'info' : 'error';
    report({ message: 'lapse', data: { ...texts, lacks: framesText(frames) }, severity, ...common });
  } else {
    const spare = used.toS + handlesS > used.outerToS - tiny ? `, ${data.handles} to spare included` : '';
    report({ message: 'short', data: { ...texts, spare }, ...common });
  }
}

/** Spare time is a round number: nobody misses a quarter of it (common practice, no source). */
const unseenShare = 0.25;

/** So many frames of the film a dissolve lacks and nobody sees (common practice, no source). */
const fewFrames = 2;

/** Seconds of a time-lapse's take that one frame of the film shows; 0 of what is recorded as it runs. */
function frameS({ shot, speed }: Piece, film: Film): Seconds {
  const edit = film.timeline.rate?.value;
  return shot?.interval && edit ? Math.abs(speed) / rateFps(edit) : 0;
}

function framesText(frames: number): string {
  const whole = Math.ceil(frames - tiny);
  return whole === 1 ? '1 frame' : `${whole} frames`;
}

/** Whole seconds, or minutes where the plan of a time-lapse counts in them. */
function recordS(shot: Shot, neededS: Seconds): Seconds {
  const unit = isInMinutes(shot) ? 60 : 1;
  return Math.ceil(neededS / unit - tiny) * unit;
}

function recordText(shot: Shot, neededS: Seconds): string {
  const seconds = recordS(shot, neededS);
  return isInMinutes(shot) ? `${seconds / 60} min` : secondsText(seconds);
}

function isInMinutes({ record, interval }: Shot): boolean {
  return interval !== undefined && record?.text.endsWith('min') === true;
}

/** Seconds of take for a piece: up to its end and a handle; a dissolve may use the handle up, not more. */
function neededBy(used: UsedStretch, handlesS: number): number {
  return Math.max(used.toS + handlesS, used.outerToS);
}

function dissolveText({ used, piece }: Last, film: Film): string {
  const overS = used.outerToS - used.toS;
  if (overS <= tiny) return '';
  const each = frameS(piece, film);
  const frames = each > 0 ? `, ${framesText(overS / each)} of the film,` : '';
  return ` (${secondsText(overS)} of it${frames} for the dissolve)`;
}

type Last = NonNullable<ReturnType<typeof lastUsed>>;

/** Pieces whose dissolve reaches back before the start of the take. */
function startsTooSoon(shot: Shot, film: Film) {
  return shot.pieces.flatMap((piece) => {
    const used = usedStretch(piece, film);
    const least = Math.max(tiny, frameS(piece, film) - tiny);
    return used && used.outerFromS < -least ? [{ piece, used, beforeS: used.fromS - used.outerFromS }] : [];
  });
}

/** The piece begun later in the take, where that is long enough. */
function later({ record }: Shot, piece: Piece, used: UsedStretch): FixIdea[] {
  const fromS = Math.ceil((used.fromS - used.outerFromS) * 10 - tiny) / 10;
  if (!record || used.outerToS - used.fromS + fromS > record.value + tiny) return [];
  const text = startText(fromS, piece);
  return [set(`Take it from ${text} of the take on (the dissolve has its frames)`, [piece, 'from', text])];
}

/** What is recorded is enough where the piece begins earlier in the take. */
function earlier(shot: Shot, last: Last | undefined): FixIdea[] {
  if (!last) return [];
  const { record } = shot;
  const handlesS = spareAtEndsS(shot);
  const { piece, used } = last;
  const before = used.fromS - used.outerFromS;
  const fromS = Math.floor((used.fromS - (neededBy(used, handlesS) - record!.value)) * 10 + tiny) / 10;
  if (fromS < Math.max(before, handlesS) - tiny) return [];
  const text = startText(fromS, piece);
  return [set(`Take it from ${text} of the take on (what is recorded is enough)`, [piece, 'from', text])];
}

/** What runs backwards starts at the end of what it takes. */
function startText(earliestS: Seconds, piece: Piece): string {
  return `${num(startsAtS({ ...piece, fromS: earliestS }), 1)} s`;
}

function recordFix(shot: Shot, neededS: Seconds): FixIdea[] {
  const [seconds, text] = [recordS(shot, neededS), recordText(shot, neededS)];
  const slower = slowsDown(shot) ? '; what moves gets slower with it' : '';
  return [set(`Record ${text}${price(shot, seconds)}${slower}`, [shot, 'record', text])];
}

function price(shot: Shot, seconds: number): string {
  const bitrate = shot.camera.mode?.bitrate?.value;
  if (!bitrate || !shot.record) return '';
  const bytes = (recordS: number) => takesBytes(bitrate, fileS(shot, recordS), shot.takes);
  const more = bytes(seconds) - bytes(shot.record.value);
  return ` (${bytesText(more)} more over ${shot.takes === 1 ? 'the take' : `${shot.takes} takes`})`;
}

/** Changes that fill the take: their length follows from `record` unless the action says how long it lasts. */
function slowsDown({ action, camera, turn, lit }: Shot): boolean {
  if (action?.lasts) return false;
  const changes = [camera.distance, camera.height, camera.angle, camera.slide, camera.focal].some(
    (change) => change && change.value.from !== change.value.to,
  );
  return changes || turn?.by !== undefined || lit.some((lamp) => lamp.changes);
}
