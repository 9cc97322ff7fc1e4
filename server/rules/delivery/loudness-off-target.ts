import type { Deliverable, Film } from '../../core/film.ts';
import { defineRule, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';
import { broadcastTarget, webLoudness } from './loudness.ts';
import { isForPlayers } from '../../core/derived/stream.ts';

export default defineRule({
  id: 'loudness-off-target',
  family: 'delivery',
  summary: 'The loudness is missing, or is not what this kind of delivery takes.',
  severity: 'warning',
  sources: [
    'EBU R 128 (2023)',
    'ATSC A/85',
    'ARIB TR-B32',
    'ITU-R BS.1770-5 (a full-scale tone in one channel is −3.01 LKFS, in both 0)',
    'about −14 LUFS on the web is a convention, not a standard',
  ],
  messages: {
    impossible:
      '{deliverable}: {found} is louder than any film can be: full scale in both channels is 0 LUFS. The minus is missing.',
    broadcast:
      '{deliverable}: {found} is planned; {standard} wants {wanted}: {off} LU too {way}, it will be refused.{web}',
    broadcastMissing: '{deliverable}: no loudness is said; {standard} wants {wanted}, and a broadcaster measures it.',
    web: '{deliverable}: {found} is planned; players on the web turn films to about {usual} (a convention), {effect}.',
  },
  deliverable(deliverable, { film, report }) {
    const { name, sound, loudness, shownOn } = deliverable;
    if (loudness && loudness.value > 0) {
      const meant = lufsText(-loudness.value);
      const fixes = [set(`Set loudness to ${meant}`, [deliverable, 'loudness', meant])];
      const data = { deliverable: name, found: loudness.text };
      report({ message: 'impossible', data, at: loudness, severity: 'error', fixes });
      return;
    }
    if (sound === 'none' || (!loudness && deliverable.fields.said('loudness'))) return;
    const lacking = loudness ? deliverable : firstLacking(deliverable, film);
    const at = loudness ?? lacking.soundAt ?? lacking;
    if (shownOn.includes('broadcast')) {
      const { standard, lufs, toleranceLu } = broadcastTarget(deliverable, film);
      const data = { deliverable: name, standard, wanted: lufsText(lufs) };
      const fixes = [set(`Set loudness to ${lufsText(lufs)}`, [lacking, 'loudness', lufsText(lufs)])];
      const off = loudness && loudness.value - lufs;
      if (off === undefined) report({ message: 'broadcastMissing', data, at, severity: 'error', fixes });
      else if (Math.abs(off) > toleranceLu + 1e-6) {
        const way = off > 0 ? 'loud' : 'quiet';
        const web = isForPlayers(deliverable) ? ' The web wants it louder: make it a deliverable of its own.' : '';
        const texts = { found: loudness!.text, off: num(Math.abs(off)), way, web };
        report({ message: 'broadcast', data: { ...data, ...texts }, at, severity: 'error', fixes });
      }
    } else if (loudness && isForPlayers(deliverable) && !isUsual(loudness.value, film)) {
      const usual = lufsText(webLoudness.usual);
      const fixes = [set(`Set loudness to ${usual}`, [deliverable, 'loudness', usual])];
      const loud = loudness.value > webLoudness.loudest;
      const effect = loud ? 'which makes it no louder and costs its peaks' : 'and not all of them turn a quiet one up';
      const data = { deliverable: name, usual, found: loudness.text, effect };
      report({ message: 'web', data, at: loudness, severity: 'info', fixes });
    }
  },
});

/** The one that others are like, where it lacks the same loudness: said there, it is said for all. */
function firstLacking(deliverable: Deliverable, film: Film): Deliverable {
  let first = deliverable;
  const seen = new Set<Deliverable>();
  while (!seen.has(first)) {
    seen.add(first);
    const base = film.deliverables.get(first.like?.value ?? '');
    if (!base || base.loudness || base.sound === 'none' || wantedLufs(base, film) !== wantedLufs(deliverable, film))
      break;
    first = base;
  }
  return first;
}

function wantedLufs(deliverable: Deliverable, film: Film): number | undefined {
  return deliverable.shownOn.includes('broadcast') ? broadcastTarget(deliverable, film).lufs : undefined;
}

/** Neither music nor a voice: of a click and the room nobody wants more. */
function isQuiet({ music, sounds }: Film): boolean {
  return !music && !sounds.some(({ words }) => words);
}

function isUsual(lufs: number, film: Film): boolean {
  const isLoudEnough = lufs >= webLoudness.quietest - 1e-6 || isQuiet(film);
  return isLoudEnough && lufs <= webLoudness.loudest + 1e-6;
}

function lufsText(lufs: number): string {
  return `${num(lufs)} LUFS`;
}
