import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import { cardSharings, longestStretch } from '../../core/derived/supplies.ts';
import type { Card } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { bytesText, listText, num, percentText, quoted } from '../../core/say.ts';
import type { Bytes, Share } from '../../core/units.ts';

const messages = {
  full: '{day}: {takes} on {camera} fill about {needed}, and {cards} {hold} room for {usable} ({share} of {size}).{more}',
} as const;

type CardSharing = ReturnType<typeof cardSharings>[number];
type Ctx = Context<typeof messages, { usable: Limit }>;

export default defineRule({
  id: 'cards-too-small',
  family: 'logistics',
  summary: 'The takes of a day do not fit onto the cards.',
  severity: 'warning',
  sources: [
    'SI and IEC 80000-13 prefixes: 1 GB is 10⁹ bytes',
    '95 % usable and 2 % container: common practice, no source',
  ],
  limits: {
    usable: {
      quantity: 'share',
      default: '95 %',
      meaning: 'Share of a card that takes fill before it counts as full.',
    },
  },
  messages,
  film(film, context) {
    if (film.kit.cards.size === 0) return;
    for (const plan of dayPlans(film)) {
      for (const sharing of cardSharings(plan, film)) check(plan, sharing, context);
    }
  },
});

function check(plan: DayPlan, { users, supplies: cards }: CardSharing, { limits, report }: Ctx): void {
  if (cards.length === 0 || cards.some((card) => !card.holds)) return;
  const size = cards.reduce((sum, card) => sum + card.holds!.value * card.count, 0);
  const usable = size * limits.usable;
  const stretch = longestStretch(plan);
  const bytes = users.reduce((sum, one) => sum + one.bytes, 0);
  const needed = bytes * stretch;
  if (needed <= usable * (1 + 1e-6)) return;
  const cameras = users.map(({ name }) => name);
  const shots = plan.shots.filter((shot) => cameras.includes(shot.camera.body?.name ?? ''));
  const takes = shots.reduce((sum, shot) => sum + shot.takes, 0);
  const count = cards.reduce((sum, card) => sum + card.count, 0);
  report({
    message: 'full',
    data: {
      day: plan.day ? `Day ${plan.called}` : 'All shots',
      takes: takes === 1 ? '1 take' : `${takes} takes`,
      camera: listText(cameras.map(quoted)),
      needed: `${bytesText(needed)}${stretch < 1 ? ' between two copies' : ''}`,
      cards: listText(
        cards.map((card) => (card.count > 1 ? `${card.count} × ${quoted(card.name)}` : quoted(card.name))),
      ),
      hold: count === 1 ? 'has' : 'have',
      usable: bytesText(usable),
      share: percentText(limits.usable),
      size: bytesText(size),
      more: moreText(needed, usable, cards, limits.usable),
    },
    at: plan.day?.cards?.[0] ?? plan.day ?? shots[0]!.takesAt ?? shots[0]!.record ?? shots[0]!,
    fixes: offloads(plan, bytes, usable),
  });
}

function moreText(needed: Bytes, usable: Bytes, cards: readonly Card[], share: Share): string {
  const largest = Math.max(...cards.map((card) => card.holds!.value));
  const more = Math.ceil((needed - usable) / (largest * share) - 1e-9);
  return ` ${more === 1 ? 'One more card' : `${num(more, 0)} more cards`} of ${bytesText(largest)}, or empty them during the day, in two copies.`;
}

/** Emptying the cards half way through the day, where that is enough. */
function offloads({ day }: DayPlan, bytes: Bytes, usable: Bytes): FixIdea[] {
  if (!day?.hours || day.offload || bytes / 2 > usable) return [];
  const { from, to } = day.hours.value;
  if (to === from) return [];
  const middle = Math.round((from + to) / 2) % (24 * 60);
  const text = `${String(Math.floor(middle / 60)).padStart(2, '0')}:${String(middle % 60).padStart(2, '0')}`;
  return [set(`Copy and empty the cards at ${text}`, [day, 'offload', text])];
}
