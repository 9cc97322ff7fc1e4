/** The page for the set: finds what the plan wrote into it, and lets things be noted there. */
import type { SetPlan } from '../../server/views/set-page/plan.ts';
import { byId, say } from './elements.ts';
import { HandOut } from './hand-out.ts';
import { dateText, minutesLeft, minutesText, minutesToShoot, takesLeft } from './minutes.ts';
import { isTicked } from './noted.ts';
import { Notebook } from './notebook.ts';
import { Places } from './places.ts';
import { ShotPart } from './shot-part.ts';
import { openStore } from './store.ts';

const plan = JSON.parse(byId('plan').textContent ?? '') as SetPlan;

async function start(): Promise<void> {
  const store = await openStore(plan.path);
  const book = new Notebook(store, {
    changed: show,
    kept: (isAll) => (document.body.dataset['kept'] = isAll ? 'all' : 'some'),
    lost: () => warn('The last entry could not be kept: copy the take sheet now.'),
  });
  const places = new Places(show);
  const handOut = new HandOut(book, plan.spec);
  const shots = shotParts(book);
  const ticks = [...document.querySelectorAll<HTMLInputElement>('[data-tick]')];
  for (const box of ticks) box.addEventListener('change', () => book.tick(box.dataset['tick']!, box.checked));
  if (!store)
    warn(
      'This browser keeps nothing for this page: what you note is gone once it is closed. Copy the take sheet before.',
    );

  function show(): void {
    for (const one of shots) one.show();
    for (const box of ticks) box.checked = isTicked(book.entries, box.dataset['tick']!);
    handOut.show();
    plan.setUps.forEach((setUp, index) => {
      const left = setUp.shots.reduce((sum, shot) => sum + takesLeft(shot, book.entries), 0);
      say(
        document.querySelector<HTMLElement>(`[data-done="${index}"]`)!,
        left === 0 ? 'all takes made' : `${left} ${left === 1 ? 'take' : 'takes'} left`,
      );
    });
    say(byId('left'), leftWords(book, places.at));
  }

  await book.load();
  show();
  // Another window of this browser may have noted something meanwhile.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void book.load();
  });
  setInterval(show, 15_000);
  if (store) document.body.dataset['kept'] ??= 'all';
  document.body.dataset['ready'] = 'yes';
}

function shotParts(book: Notebook): ShotPart[] {
  const all = plan.setUps.flatMap((setUp) => setUp.shots);
  const elements = [...document.querySelectorAll<HTMLElement>('[data-shot]')];
  return all.flatMap((shot) => {
    const element = elements.find((one) => one.dataset['shot'] === shot.name);
    const sharing = new Set(all.filter((one) => one.camera === shot.camera).map((one) => one.name));
    return element ? [new ShotPart(element, shot, sharing, book)] : [];
  });
}

/** Of the day of the set-up in front, or of the day that it is. */
function leftWords({ entries }: Notebook, at: number): string {
  const now = new Date();
  const today = plan.days.findIndex(({ date }) => date !== undefined && date === dateText(now));
  const day = plan.setUps[at - 1]?.day ?? Math.max(0, today);
  const toShoot = `${minutesText(minutesToShoot(plan, day, entries))} to shoot`;
  const ofDay = plan.days[day];
  const left = ofDay && minutesLeft(ofDay, now);
  if (left === undefined) return toShoot;
  return left < 0 ? `${minutesText(-left)} over · ${toShoot}` : `${minutesText(left)} left · ${toShoot}`;
}

function warn(words: string): void {
  const bar = byId('not-kept');
  bar.hidden = false;
  say(bar, words);
}

void start();
