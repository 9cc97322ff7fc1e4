import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';

export default defineRule({
  id: 'piece-not-in-cut',
  family: 'takes',
  summary: 'A take is kept for a piece that the cut does not make of its shot.',
  severity: 'error',
  sources: ['the cut in the spec'],
  messages: {
    beyond: 'The cut uses {shot} {times}, so there is no piece {piece}.{else}',
  },
  take({ shot, piece }, { report }) {
    if (!shot || !piece || piece.value <= shot.pieces.length) return;
    const count = shot.pieces.length;
    report({
      message: 'beyond',
      data: {
        shot: quoted(shot.name),
        times: count === 0 ? 'nowhere' : count === 1 ? 'once' : `${count} times`,
        piece: piece.value,
        else: count === 1 ? ' A take that says none serves it.' : '',
      },
      at: piece,
      related: shot.pieces.flatMap(({ shotName }) => (shotName ? [related(shotName)] : [])),
    });
  },
});

function related({ start, end, file }: { start: number; end: number; file?: string }) {
  return { start, end, message: 'a piece of it', ...(file !== undefined && { file }) };
}
