import { defineRule, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';
import { broadcastTarget } from './loudness.ts';
import { isForPlayers } from '../../core/derived/stream.ts';

export default defineRule({
  id: 'true-peak-too-high',
  family: 'delivery',
  summary: 'The highest peak leaves no room for the codec, or no room for the loudness.',
  severity: 'warning',
  sources: ['EBU R 128 (2023)', 'ATSC A/85', 'common practice, no source (8 dB between loudness and peak)'],
  limits: {
    room: { quantity: 'number', default: '8', meaning: 'Least dB between the loudness and the highest peak.' },
  },
  messages: {
    high: '{deliverable}: peaks up to {found}; lossy coding adds about 1 dB and clips. {standard} {wanted}.',
    impossible:
      '{deliverable}: peaks up to {found} are planned, above full scale (0 dBTP), where they clip. {standard} {wanted}: the minus is missing.',
    crest:
      '{deliverable}: {loudness} with peaks up to {found} leaves {room} dB between them: only by crushing every accent. {least} dB is a natural least.',
  },
  deliverable(deliverable, { film, limits, report }) {
    const { truePeak, loudness, sound, name } = deliverable;
    if (!truePeak) return;
    const broadcast = deliverable.shownOn.includes('broadcast');
    const impossible = truePeak.value > 0;
    if (!impossible && (sound === 'none' || (!broadcast && !isForPlayers(deliverable)))) return;
    const target = broadcastTarget(deliverable, film);
    const most = broadcast ? target.truePeakDbtp : -1;
    const data = { deliverable: name, found: truePeak.text };
    if (truePeak.value > most + 1e-6) {
      const wanted = dbtpText(most);
      const standard = broadcast ? `${target.standard} allows` : 'Leave room up to';
      // What was written with its minus, where that is allowed.
      const values = impossible && -truePeak.value <= most ? [dbtpText(-truePeak.value), wanted] : [wanted];
      const fixes = [...new Set(values)].map((value) =>
        set(`Set true peak to ${value}`, [deliverable, 'true-peak', value]),
      );
      const how = impossible ? ({ message: 'impossible', severity: 'error' } as const) : ({ message: 'high' } as const);
      report({ ...how, data: { ...data, wanted, standard }, at: truePeak, fixes });
      return;
    }
    const room = loudness && loudness.value <= 0 ? truePeak.value - loudness.value : Infinity;
    if (loudness && room < limits.room - 1e-6) {
      const texts = { loudness: loudness.text, room: num(room), least: num(limits.room) };
      report({ message: 'crest', data: { ...data, ...texts }, at: loudness, severity: 'info' });
    }
  },
});

function dbtpText(dbtp: number): string {
  return `${num(dbtp)} dBTP`;
}
