import type { LampPlace, Val } from '../../core/film.ts';
import { defineRule, set } from '../../core/rule.ts';

export default defineRule({
  id: 'lamp-moves-on-stand',
  family: 'names',
  summary: 'A lamp moves during the take, but what holds it stands still.',
  severity: 'error',
  sources: ['the format itself: what moves is held by hand, or on a rolling stand, a slider or a boom'],
  messages: {
    moves: '{lamp}: its {what} goes from {from} to {to} during the take, but {holder} does not move.',
    rolls:
      '{lamp}: its {what} goes from {from} to {to} during the take, and {holder} does that on wheels alone. Say `held: rolling-stand` where it has some; mark its way on the floor.',
  },
  lamp(lamp, { report }) {
    const moving = (['distance', 'angle', 'height'] as const).find((key) => changes(lamp[key]));
    const holder = still[lamp.held];
    if (!moving || !holder || !saysIt(lamp, moving)) return;
    const at = lamp[moving]!;
    const [from = '', to = ''] = at.text.split(' to ');
    const said = lamp.heldAt ? holder : `${holder}, which holds it where nothing else is said,`;
    // Whether a stand has wheels is not said: it may travel, and does not rise by itself.
    const mayRoll = lamp.held === 'stand' && moving !== 'height';
    const movers = [...(mayRoll ? ['rolling-stand'] : []), ...movedBy[moving]];
    report({
      message: mayRoll ? 'rolls' : 'moves',
      data: { lamp: lamp.name, what: moving, from, to, holder: said },
      at,
      // Who said what holds it contradicts that; a stand that is only taken so may be wound up.
      severity: mayRoll ? 'hint' : lamp.heldAt ? 'error' : 'warning',
      fixes: movers.map((word) => set(titles[word]!, [lamp, 'held', word])),
    });
  },
});

const still: Readonly<Record<string, string>> = {
  stand: 'a stand',
  surface: 'the surface',
  overhead: 'an overhead mount',
  clamp: 'a clamp',
};

/** A slider is straight, and does not go round. */
const movedBy = { distance: ['slider', 'hand'], angle: ['hand'], height: ['hand', 'slider'] } as const;

const titles: Readonly<Record<string, string>> = {
  'rolling-stand': 'Put it on a rolling stand',
  hand: 'Have it held by hand (needs a helper)',
  slider: 'Put it on a slider',
};

function changes(val: Val<{ from: number; to: number }> | undefined): boolean {
  return val !== undefined && val.value.from !== val.value.to;
}

/** What a place takes over from another is that one's finding, unless it is held by something else here. */
function saysIt({ fields }: LampPlace, key: string): boolean {
  const own = fields.alone();
  return own.said(key) || own.said('held');
}
