import { defineRule } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'letters-mirrored',
  family: 'framing',
  summary: 'A mirrored piece shows letters, which then read backwards.',
  severity: 'warning',
  sources: ['geometry'],
  yieldsTo: ['mounted-upside-down'],
  messages: {
    mirrored:
      '{shot}: this piece is mirrored, and it shows {parts}, whose letters then read backwards. Leave the picture as recorded, or mirror a shot that shows none.',
  },
  piece(piece, { film, report }) {
    const { shot, flip } = piece;
    if (!shot || flip?.value !== 'mirror') return;
    const parts = shot.shows.flatMap(({ value }) => (film.product.parts.get(value)?.letters ? [quoted(value)] : []));
    if (parts.length === 0) return;
    report({
      message: 'mirrored',
      data: { shot: shot.name, parts: listText([...new Set(parts)]) },
      at: flip,
      fixes: [{ title: 'Leave the picture as recorded', remove: [{ block: piece, key: 'flip' }] }],
    });
  },
});
