import type { Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { angleText } from '../../core/say.ts';
import type { Ends } from '../../core/units.ts';

export default defineRule({
  id: 'goes-the-long-way',
  family: 'names',
  summary: 'A change of angle runs more than half round, where the short way may be meant.',
  severity: 'info',
  sources: ['arithmetic: a change runs through the numbers between its ends'],
  messages: {
    camera: '{shot}: the camera goes {way} round, from {from} to {to}. The short way is written {short}.',
    lamp: '`{lamp}` goes {way} round, from {from} to {to}. The short way is written {short}.',
  },
  shot(shot, { report }) {
    const { angle } = shot.camera;
    const found = angle && longWay(angle);
    if (found) report({ message: 'camera', data: { shot: shot.name, ...found.data }, at: angle, fixes: [found.fix] });
  },
  lamp(lamp, { report }) {
    const { angle } = lamp;
    const found = angle && longWay(angle);
    if (found) report({ message: 'lamp', data: { lamp: lamp.name, ...found.data }, at: angle, fixes: [found.fix] });
  },
});

function longWay({ value: { from, to }, start, end }: Val<Ends>) {
  const change = to - from;
  if (Math.abs(change) <= 180 || Math.abs(change) >= 360) return undefined;
  const rest = change - 360 * Math.sign(change);
  // No place is written with a minus: the way down counts from a full turn on.
  const base = from + rest < 0 ? from + 360 : from;
  const short = `${angleText(base)} to ${angleText(base + rest)}`;
  const way = `${angleText(Math.abs(change))} ${change > 0 ? 'clockwise' : 'anticlockwise'}`;
  const turns = `${angleText(Math.abs(rest))} ${rest > 0 ? 'clockwise' : 'anticlockwise'}`;
  return {
    data: { way, from: angleText(from), to: angleText(to), short: `\`${short}\` (${turns})` },
    fix: { title: `Write ${short} (${turns})`, edits: [{ start, end, text: short }] },
  };
}
