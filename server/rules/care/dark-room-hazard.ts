import { defineRule } from '../../core/rule.ts';
import { listFirst, listText } from '../../core/say.ts';
import { careful } from './caution-text.ts';
import { type DarkRoom, darkRoom } from './dark-room.ts';

export default defineRule({
  id: 'dark-room-hazard',
  family: 'care',
  summary: 'People work in the dark around cables, stands, glass or liquid.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    dark: '{shots}: a dark room with {things}{lit}. {arrange}, and keep a work light within reach. {closing}',
  },
  film(film, { report }) {
    const dark = darkRoom(film);
    // Whoever works alone under lit lamps knows the room, and who has written half of it has gone through it: it stands on the sheet.
    if (!dark || !isRisky(dark) || dark.asked.length === 1 || dark.lacking.length * 2 <= dark.asked.length) return;
    const { shots, things, lacking } = dark;
    const { closing } = careful(film, 'handling').data;
    const arrange = lacking.join(', ');
    report({
      message: 'dark',
      data: {
        shots: listFirst(
          shots.map((shot) => shot.name),
          4,
        ),
        things: listText(things),
        lit: shots.some((shot) => shot.lit.length > 0) ? ', once the lamps are out' : '',
        arrange: arrange.charAt(0).toUpperCase() + arrange.slice(1),
        closing,
      },
      at: shots[0]!.room!.light!,
    });
  },
});

function isRisky({ hasOthers, shots }: DarkRoom): boolean {
  return hasOthers || shots.some(({ lit }) => lit.length === 0);
}
