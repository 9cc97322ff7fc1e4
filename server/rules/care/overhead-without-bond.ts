import { defineRule } from '../../core/rule.ts';
import { listText } from '../../core/say.ts';
import type { Grams } from '../../core/units.ts';
import { type Hanging, hangingIn, overheadDeg } from './hanging.ts';
import { allSaid, careful } from './caution-text.ts';

export default defineRule({
  id: 'overhead-without-bond',
  family: 'care',
  summary: 'A lamp or a camera hangs over people or the product with nothing said of a second hold.',
  severity: 'warning',
  sources: ['common practice, no source; local rigging rules'],
  limits: {
    tilt: {
      quantity: 'angle',
      default: `${overheadDeg}°`,
      meaning: 'How far a camera looks down before it counts as overhead.',
    },
  },
  messages: {
    hangs:
      "{things}. One clamp creeps: a second, independent hold for each and for what is clipped to it, arms locked, and nobody's head below while they are moved. {closing}",
  },
  // One hold is missing from one rig: it is said once, wherever the film uses it.
  film(film, { limits, report }) {
    if (allSaid(film, ['overhead-bond'])) return;
    const hanging = hangingIn(film, limits.tilt).filter((one) => !isLowAndLight(one));
    const [first] = hanging;
    if (!first) return;
    const { at } = hanging.reduce((top, one) => (one.at.start < top.at.start ? one : top), first);
    const { closing } = careful(film, 'rigging').data;
    report({ message: 'hangs', data: { things: listText(hanging.map(({ text }) => text)), closing }, at });
  },
});

/** A camera or a lamp that comes down by a forearm's length, where no head is, and is light or beside the product; or a phone: the sheet says it. */
function isLowAndLight({ grams, low, beside }: Hanging): boolean {
  return (grams ?? Infinity) < compactG || (low && (beside || (grams ?? 0) < handHeldG));
}

/** As a compact camera. */
const compactG: Grams = 500;

/** As a camera that is held in one hand, with its lens. */
const handHeldG: Grams = 1500;
