/** What nothing in a plan can prove, to tick off on set: common practice, no source. */
import { isPhone } from '../../core/derived/built-in.ts';
import { isWall } from '../../core/derived/past-backdrop.ts';
import type { Film } from '../../core/film.ts';

export interface Checklist {
  readonly title: string;
  readonly items: readonly string[];
}

export function checklists(film: Film): Checklist[] {
  return [
    { title: 'Before the first take', items: before(film) },
    { title: 'Camera', items: camera(film) },
    { title: 'Set', items: set(film) },
    { title: 'After each set-up', items: after },
    ...(hasSound(film) ? [{ title: 'Sound', items: ['30 s of the room with nobody moving'] }] : []),
  ];
}

function before({ product, cut }: Film): string[] {
  const wet = product.hazards.some((one) => ['liquid', 'melts', 'steam'].includes(one.value));
  return [
    'Gloves and air blower at hand',
    'Lint, fingerprints and stickers off, looked for under the shooting light, at 100 % on a large screen',
    'Product turned so that its seam is away from the camera',
    ...(wet ? ['A spare of everything that gets wet'] : []),
    `Table and camera level${cut.some((piece) => piece.straightenDeg !== 0) ? '' : ' (a straightened picture costs pixels)'}`,
  ];
}

function camera(film: Film): string[] {
  const settings = [
    'Lens and screen cleaned',
    'Nothing ends a take by itself: no call, no message, no sleep, enough room and charge',
    'Stabiliser, sharpening and noise filter as planned',
    `White balance and exposure locked${hasLamps(film) ? ' after the lamps are warm (10 min)' : ''}`,
    isOnlyPhone(film) ? 'Clock set' : 'Card formatted, clock set',
    'One reference frame with a grey or colour chart at each set-up',
    'Slate or spoken shot name before each take',
  ];
  return film.shots.size > 0 ? settings : settings.slice(0, 1);
}

function set({ shots }: Film): string[] {
  const backdrops = [...shots.values()].flatMap((shot) => shot.backdrop ?? []);
  return [
    'Places of product, camera and lamps marked with tape',
    'Reflections looked for from the place of the lens, not from beside it',
    ...(backdrops.some((one) => !one.screenName && !isWall(one)) ? ['Backdrop steamed or brushed'] : []),
    ...(backdrops.some((one) => one.screenName) ? ['Screen: brightness fixed, sleep and messages off'] : []),
  ];
}

function hasLamps({ shots }: Film): boolean {
  return [...shots.values()].some(({ lit }) => lit.some(({ runsOn }) => runsOn === 'mains' || runsOn === 'battery'));
}

/** Its memory is emptied by nobody before a shoot. */
function isOnlyPhone({ shots }: Film): boolean {
  const all = [...shots.values()];
  return all.every(({ camera: { body } }) => body !== undefined && isPhone(body, all));
}

const after = [
  'One take watched at 100 %: focus, dust, and flicker while it plays',
  'Two copies on two carriers before the product leaves',
  'A photo of the set, to match it later',
];

function hasSound({ shots, cut }: Film): boolean {
  return [...shots.values()].some((shot) => shot.microphoneName) || cut.some((piece) => piece.sound === 'keep');
}

/** What the plan says is arranged, in words. */
export const precautionWords: Readonly<Record<string, string>> = {
  'overhead-bond': 'A second, independent hold on everything that hangs',
  'stands-weighted': 'Stands weighted',
  'cables-taped': 'Cables taped down',
  'exit-lit': 'Way out lit and free',
  'drip-tray': 'Drip tray under everything that is wet',
  'mains-kept-dry': 'Mains kept away from anything wet',
  'non-slip-mat': 'Non-slip mat under the product',
  'load-centred': 'Product in the middle of its turntable',
  'flame-kept-away': 'No flame near what burns',
  'flame-watched': 'Somebody at the flame and at nothing else, lid and extinguisher in reach',
  'air-moving': 'Air moving',
  'charging-watched': 'Batteries charged in sight',
  'flash-warned': 'Everybody warned of flashing light',
  gloves: 'Gloves worn',
};
