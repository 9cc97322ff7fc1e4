import { type LampReading, lampReadings } from '../../core/derived/measured-lamps.ts';
import { defineRule } from '../../core/rule.ts';
import { luxText, num, quoted, stopsText } from '../../core/say.ts';

export default defineRule({
  id: 'lamp-gives-otherwise',
  family: 'takes',
  summary: 'A lamp gave more or less light on the set than its kit says.',
  severity: 'info',
  sources: [
    'ISO 2720:1974 (a meter and the light that it measures)',
    'inverse square law; the rest is common practice, no source',
  ],
  messages: {
    other:
      '{lamp}: {measured} on the product in {shot}, the meter pointed at it, where {output} in the kit makes {reckoned}: it gives {share} of what the kit says, {stops} {way}. If it stood and was set as planned, correct the kit, so that the next plan is right.',
  },
  limits: {
    allow: {
      quantity: 'stops',
      default: '0.4 stops',
      meaning: 'How far a reading may be from what the kit says before it is a finding.',
    },
  },
  sheet(sheet, { film, limits, report }) {
    const off = lampReadings(sheet, film).filter(({ share }) => Math.abs(Math.log2(share)) > limits.allow);
    for (const same of byLamp(off)) {
      const [{ place, shot, output, measured, reckoned, share }, ...others] = same;
      const { start, end, file } = output;
      const stops = Math.log2(share);
      report({
        message: 'other',
        data: {
          lamp: quoted(place.kitName.value),
          measured: luxText(measured.value),
          shot: quoted(shot.name),
          output: quoted(output.text),
          reckoned: luxText(reckoned),
          share: num(share, 2),
          stops: stopsText(stops),
          way: stops < 0 ? 'less' : 'more',
        },
        at: measured,
        excess: Math.abs(stops),
        shot,
        related: [
          { start, end, ...(file && { file }), message: 'what the kit says' },
          ...others.map((one) => ({ start: one.measured.start, end: one.measured.end, message: 'here too' })),
        ],
      });
    }
  },
});

/** What one lamp of the kit gives is one finding. */
function byLamp(readings: readonly LampReading[]): [LampReading, ...LampReading[]][] {
  const lamps = new Map<string, [LampReading, ...LampReading[]]>();
  for (const one of readings) {
    const same = lamps.get(one.lamp.name);
    if (same) same.push(one);
    else lamps.set(one.lamp.name, [one]);
  }
  return [...lamps.values()];
}
