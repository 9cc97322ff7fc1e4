import { type UsedStretch, lastUsed, usedStretch } from '../../core/derived/take.ts';
import { takesBytes } from '../../calc/data.ts';
import { fileS, startsAtS } from '../../core/derived/time.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { bytesText, num, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

export default defineRule({
  id: 'recording-too-short',
  family: 'cut',
  summary: 'A take is shorter than what the cut takes out of it, or leaves no spare time at its ends.',
  severity: 'error',
  sources: ['arithmetic: film seconds × speed are seconds of the take'],
  messages: {
    short:
      '{shot}: the cut uses its take up to {to}{dissolve}, and {record} are recorded. Record {need}, {handles} to spare included.',
    spare:
      '{shot}: the cut uses its take up to {to}{dissolve}; {record} are recorded, which leaves {left} where {handles} should be spare. Record {need}.',
    start:
      '{shot}: the dissolve into it needs {before} before the piece, but the piece starts {from} into the take. Start it later, or shorten the dissolve.',
    past: '{shot}: backwards from {from} for {length} the piece goes {before} past the start of the take. Start it later in the take, or make it shorter.',
    action:
      '{shot}: what happens lasts {lasts}, and with {handles} spare at both ends that is {need}; {record} are recorded. Record {need}.',
  },
  shot(shot, { film, report }) {
    const { record, handlesS } = shot;
    if (!record) return;
    const data = { shot: shot.name, record: record.text, handles: secondsText(handlesS) };
    const lastsS = shot.action?.lasts?.value;
    const last = lastUsed(shot, film);
    const actionS = lastsS === undefined ? 0 : lastsS + 2 * handlesS;
    const neededS = Math.max(last ? neededBy(last.used, handlesS) : 0, actionS);
    if (neededS > record.value + tiny) {
      const common = {
        at: record,
        excess: neededS - record.value,
        fixes: () => [...earlier(shot, last), ...recordFix(shot, Math.ceil(neededS - tiny))],
      };
      const byCut = last && neededBy(last.used, handlesS) >= actionS - tiny;
      if (!byCut) {
        const severity = lastsS! > record.value + tiny ? 'error' : 'warning';
        const texts = { lasts: shot.action!.lasts!.text, need: secondsText(neededS) };
        report({ message: 'action', data: { ...data, ...texts }, severity, ...common });
      } else {
        const lacking = last.used.outerToS > record.value + tiny;
        const texts = { to: secondsText(last.used.outerToS), dissolve: dissolveText(last.used), need: need(neededS) };
        if (lacking) report({ message: 'short', data: { ...data, ...texts }, ...common });
        else {
          const left = secondsText(Math.max(0, record.value - last.used.toS));
          report({ message: 'spare', data: { ...data, ...texts, left }, severity: 'warning', ...common });
        }
      }
    }
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
      const severity = !piece.from && fixes.length > 0 ? 'info' : 'error';
      report({ message: 'start', data: texts, at, severity, excess: beforeS, fixes });
    }
  },
});

const tiny = 1e-6;

/** Seconds of take for a piece: up to its end and a handle; a dissolve may use the handle up, not more. */
function neededBy(used: UsedStretch, handlesS: number): number {
  return Math.max(used.toS + handlesS, used.outerToS);
}

function need(seconds: number): string {
  return secondsText(Math.ceil(seconds - tiny));
}

function dissolveText(used: UsedStretch): string {
  const overS = used.outerToS - used.toS;
  return overS > tiny ? ` (${secondsText(overS)} of it for the dissolve)` : '';
}

/** Pieces whose dissolve reaches back before the start of the take. */
function startsTooSoon(shot: Shot, film: Film) {
  return shot.pieces.flatMap((piece) => {
    const used = usedStretch(piece, film);
    return used && used.outerFromS < -tiny ? [{ piece, used, beforeS: used.fromS - used.outerFromS }] : [];
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
function earlier({ record, handlesS }: Shot, last: ReturnType<typeof lastUsed>): FixIdea[] {
  if (!last) return [];
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

function recordFix(shot: Shot, seconds: number): FixIdea[] {
  const text = `${num(seconds)} s`;
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
