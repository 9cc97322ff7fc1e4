import { defineRule } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import type { Film, Reel } from '../../core/film.ts';
import { careful } from './caution-text.ts';
import { greatestLoads } from '../../core/derived/electrical-loads.ts';

export default defineRule({
  id: 'reel-left-wound',
  family: 'care',
  summary: 'A cable reel carries more than it may, wound up or unwound.',
  severity: 'warning',
  sources: ['a reel label: 500 W wound, 2300 W unwound', '500 W where no label is stated: common practice, no source'],
  limits: {
    wound: {
      quantity: 'watts',
      default: '500 W',
      meaning: 'What a wound reel may carry where its label is not known.',
    },
  },
  messages: {
    wound:
      'A wound reel carries {load} W here, and {reel} may carry {rating} W wound. Wound cable heats itself: unwind it fully, keep it uncovered and in sight. {closing}',
    unknown:
      'A wound reel carries {load} W here, and what it may carry wound is not said (labels of about {rating} W are common). Wound cable heats itself: unwind it fully, keep it uncovered and in sight. {closing}',
    unwound:
      'The reel carries {load} W here, and {reel} may carry {rating} W even unwound. Feed part of it from another socket. {closing}',
  },
  film(film, { limits, report }) {
    const at = film.care?.cableReel;
    if (!at || at.value === 'none') return;
    const { watts } = greatestLoads(film);
    if (watts <= 0) return;
    const reel = weakest(film, at.value === 'wound' ? 'wound' : 'unwound');
    const { closing } = careful(film, 'electric').data;
    const data = { load: num(watts, 0), closing };
    const rating = reel?.[at.value === 'wound' ? 'wound' : 'unwound']?.value;
    if (reel && rating !== undefined) {
      if (watts <= rating) return;
      const message = at.value === 'wound' ? 'wound' : 'unwound';
      report({ message, data: { ...data, reel: quoted(reel.name), rating: num(rating, 0) }, at });
    } else if (at.value === 'wound' && watts > limits.wound) {
      report({ message: 'unknown', data: { ...data, rating: num(limits.wound, 0) }, at });
    }
  },
});

/** Nothing says which reel is used, so that the one with the lowest rating counts. */
function weakest(film: Film, key: 'wound' | 'unwound'): Reel | undefined {
  const rated = [...film.kit.reels.values()].filter((reel) => reel[key]);
  return rated.sort((a, b) => a[key]!.value - b[key]!.value)[0];
}
