import { pairOf, type Range } from '../../core/document/node.ts';
import { groupBy } from '../../core/group-by.ts';
import { once, onceIn } from '../../core/memo.ts';
import { moves } from '../../core/derived/time.ts';
import type { Film, Shot, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText } from '../../core/say.ts';
import { isCarried } from '../optics/carried.ts';
import { lockValues, type Setting } from './lock-values.ts';

export default defineRule({
  id: 'setting-left-automatic',
  family: 'exposure',
  summary: 'Shutter, aperture, ISO, white balance or focus is left to the camera, which changes it during the take.',
  severity: 'warning',
  sources: ['common practice, no source'],
  messages: {
    automatic: '{shot}: {setting} is left to the camera{why}: {effect}. {way}',
    unsaid: '{shot}: {settings} {are} not said, so left to the camera{why}: {effect}. {way}',
  },
  shot(shot, { film, report }) {
    const left = leftOf(shot, film);
    for (const [setting, val] of left.automatic) {
      const sharers = sharersOf(film).get(keyOf([setting], val)) ?? [shot];
      const locks = lockValues(shot, film, [setting]);
      report({
        message: 'automatic',
        data: { shot: shot.name, setting: words[setting], ...consequence(sharers, film, [setting]), way: way(locks) },
        at: val,
        cause: { start: val.start, end: val.end, file: val.file },
        severity: sharers.some((one) => isRisky(one, film, setting)) ? 'warning' : 'info',
        fixes: lockFix(shot, locks),
      });
    }
    const { unsaid } = left;
    if (unsaid.length === 0) return;
    const at = outermostCamera(shot);
    const sharers = sharersOf(film).get(keyOf(unsaid, at)) ?? [shot];
    const locks = lockValues(shot, film, unsaid);
    report({
      message: 'unsaid',
      data: {
        shot: shot.name,
        settings: listText(unsaid.map((setting) => words[setting])),
        are: unsaid.length > 1 ? 'are' : 'is',
        ...consequence(sharers, film, unsaid),
        way: way(locks),
      },
      at,
      cause: { start: at.start, end: at.end, as: unsaid.join() },
      severity: sharers.some((one) => unsaid.some((setting) => isRisky(one, film, setting))) ? 'warning' : 'info',
      fixes: locks.size === unsaid.length ? lockFix(shot, locks) : [],
    });
  },
});

const settings = ['shutter', 'aperture', 'iso', 'white-balance', 'focus'] as const;

const words: Record<Setting, string> = {
  shutter: 'shutter',
  aperture: 'aperture',
  iso: 'ISO',
  'white-balance': 'white balance',
  focus: 'focus',
};

function value({ camera }: Shot, setting: Setting): Val<unknown> | undefined {
  switch (setting) {
    case 'white-balance':
      return camera.whiteBalance;
    default:
      return camera[setting];
  }
}

/** Focus only hunts when something moves before a camera that stands; brightness and colour also differ from shot to shot. */
function isRisky(shot: Shot, film: Film, setting: Setting): boolean {
  if (setting === 'focus' && isTravelling(shot)) return false;
  return moves(shot) || (setting !== 'focus' && cutTogether(shot, film));
}

/** Who carries the camera, or moves it to or fro, has no hand for the focus. */
function isTravelling({ camera: { support, distance } }: Shot): boolean {
  return (support && isCarried(support)) || (distance !== undefined && distance.value.from !== distance.value.to);
}

function cutTogether(shot: Shot, film: Film): boolean {
  return shot.pieces.length > 0 && film.cut.some((piece) => piece.shot && piece.shot !== shot);
}

/** What a shot leaves to the camera, in words or by saying nothing. */
const leftOf = onceIn((shot: Shot, film: Film) => ({
  automatic: settings.flatMap((setting): [Setting, Val<unknown>][] => {
    const val = value(shot, setting);
    return val?.value === 'auto' ? [[setting, val]] : [];
  }),
  unsaid: unsaidOf(shot, film),
}));

function unsaidOf(shot: Shot, film: Film): Setting[] {
  // A phone's lens has one aperture, which a kit says: one that can't be read, or one that is still to be named or written.
  const open = !film.kit.complete || !shot.camera.lens;
  return settings.filter(
    (setting) => !value(shot, setting) && !shot.camera.fields.said(setting) && !(setting === 'aperture' && open),
  );
}

/** Shots that leave the same to the camera at the same place are spoken of together, the one with most movement for all. */
const sharersOf = once((film: Film): ReadonlyMap<string, readonly Shot[]> => {
  const shots = [...film.shots.values()].sort((a, b) => Number(moves(b)) - Number(moves(a)));
  return groupBy(shots, (shot) => {
    const { automatic, unsaid } = leftOf(shot, film);
    const keys = automatic.map(([setting, val]) => keyOf([setting], val));
    return unsaid.length > 0 ? [...keys, keyOf(unsaid, outermostCamera(shot))] : keys;
  });
});

function keyOf(left: readonly Setting[], { start, end }: Range): string {
  return `${left.join()} ${start} ${end}`;
}

/** The camera block that all blocks build on: what is said nowhere is best said there. */
function outermostCamera({ camera }: Shot): Range {
  const layers = camera.fields.parent?.fields.layers ?? [];
  for (const layer of [...layers].reverse()) {
    const pair = pairOf(layer, 'camera');
    if (pair) return { start: pair.key.start, end: pair.key.end };
  }
  return { start: camera.start, end: camera.end };
}

/** What changes in front of the camera, and what the camera makes of it. */
function consequence(shots: readonly Shot[], film: Film, left: readonly Setting[]): { why: string; effect: string } {
  const [shot] = shots;
  const whys = new Set(shots.map((one) => whatChanges(one, film, left)));
  const why = whys.size > 1 && moves(shot!) ? ' while things move in some of them' : whatChanges(shot!, film, left);
  return { why, effect: listText(effects(left, moves(shot!))) };
}

function whatChanges(shot: Shot, film: Film, left: readonly Setting[]): string {
  const { turn, camera, people, action } = shot;
  if (turn?.by || turn?.speed) return ' while the product turns';
  if (camera.distance && camera.distance.value.from !== camera.distance.value.to) return ' while the camera moves';
  if (people.length > 0 || action) return ' while things move in front of it';
  if (moves(shot)) return ' while the picture changes';
  const onlyFocus = left.every((setting) => setting === 'focus');
  return cutTogether(shot, film) && !onlyFocus ? ', and the shot is cut together with others' : '';
}

function effects(left: readonly Setting[], moving: boolean): string[] {
  const exposure = left.some((setting) => setting === 'shutter' || setting === 'aperture' || setting === 'iso');
  const shifts = [exposure && 'brightness', left.includes('white-balance') && 'colour'].filter((one) => one !== false);
  return [
    shifts.length > 0
      ? `${shifts.join(' and ')} can ${moving ? 'shift within the take' : 'differ from take to take'}`
      : '',
    left.includes('focus') ? 'focus can hunt' : '',
  ].filter(Boolean);
}

function way(locks: ReadonlyMap<Setting, string>): string {
  return locks.size > 0 ? `${lockText(locks)}.` : 'Say a value.';
}

/** `Lock ISO at 500 and focus on the subject`, `Let focus follow the subject`. */
function lockText(locks: ReadonlyMap<Setting, string>): string {
  const locked = [...locks].filter(([, text]) => text !== 'follow');
  const parts = locked.map(([setting, text]) =>
    setting === 'focus' ? 'focus on the subject' : `${words[setting]} at ${text}`,
  );
  const lock = parts.length > 0 ? [`Lock ${listText(parts)}`] : [];
  const follow = locks.get('focus') === 'follow' ? ['let focus follow the subject'] : [];
  const text = [...lock, ...follow].join(', and ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function lockFix(shot: Shot, locks: ReadonlyMap<Setting, string>): FixIdea[] {
  if (locks.size === 0) return [];
  return [set(lockText(locks), ...[...locks].map(([setting, text]) => [shot.camera, setting, text] as const))];
}
