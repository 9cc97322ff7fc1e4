import { defineRule } from '../../core/rule.ts';
import { percentText } from '../../core/say.ts';

export default defineRule({
  id: 'keep-clear-leaves-nothing',
  family: 'delivery',
  summary: 'The edges that the player covers leave nothing of the picture.',
  severity: 'error',
  sources: ['arithmetic'],
  messages: {
    nothing:
      '{deliverable}: the player covers {first} at the {side} and {second} at the {other}, which leaves nothing of the picture. Each counts from its own edge, so the two must make less than 100 %.',
  },
  deliverable({ name, keepClear, fields, start, end }, { report }) {
    for (const [side, other] of opposite) {
      const [first, second] = [keepClear[side], keepClear[other]];
      if (first + second < 1 - 1e-9) continue;
      const data = { deliverable: name, side, other, first: percentText(first, 1), second: percentText(second, 1) };
      report({ message: 'nothing', data, at: fields.keyRange('keep-clear') ?? { start, end } });
    }
  },
});

const opposite = [
  ['top', 'bottom'],
  ['left', 'right'],
] as const;
