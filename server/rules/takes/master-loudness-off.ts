import { masterDecoded, plannedAt } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'master-loudness-off',
  family: 'takes',
  summary: 'The loudness or the true peak of an exported film is not as planned.',
  severity: 'error',
  sources: ['ITU-R BS.1770-5', 'EBU R 128 (2023)', 'EBU Tech 3341 (a true-peak meter reads up to 0.2 dB too high)'],
  limits: {
    allow: { quantity: 'number', default: '1', meaning: 'LU by which the loudness may be off.' },
    peak: { quantity: 'number', default: '0.2', meaning: 'dB by which the true peak may be over.' },
  },
  messages: {
    loudness:
      '{master} has a loudness of {found} LUFS (range {range} LU, true peak {peak} dBTP), where {planned} is planned: {off} LU too {way}. Change the gain of the whole mix by {gain} dB{held}.',
    peak: '{master} has a true peak of {found} dBTP, where {planned} is allowed: players and further coding clip it. Limit the peaks {off} dB lower.',
  },
  master(master, { footage, limits, report }) {
    const found = masterDecoded(master, footage);
    const sound = found?.decoded.sound;
    if (!found || !sound || found.deliverable.sound === 'none') return;
    const { loudness, truePeak } = found.deliverable;
    const { integratedLufs, truePeakDbtp } = sound;
    const over = truePeak && truePeakDbtp !== undefined ? truePeakDbtp - truePeak.value : 0;
    const off = loudness && integratedLufs !== undefined ? integratedLufs - loudness.value : 0;
    if (Math.abs(off) > limits.allow + 1e-6) {
      const data = {
        master: found.name,
        found: num(integratedLufs!),
        range: num(sound.rangeLu),
        peak: truePeakDbtp === undefined ? 'none' : num(truePeakDbtp),
        planned: loudness!.text,
        off: num(Math.abs(off)),
        way: off > 0 ? 'loud' : 'quiet',
        gain: off > 0 ? `−${num(off)}` : `+${num(-off)}`,
        // What makes it louder makes its peaks higher.
        held: truePeak && over - off > limits.peak ? ', and limit its peaks' : '',
      };
      report({ message: 'loudness', data, at: found.at, excess: Math.abs(off), related: plannedAt(loudness) });
    }
    // The gain that mends the loudness mends the peak.
    if (over <= limits.peak + 1e-6 || (off > limits.allow && over - off <= limits.peak)) return;
    const data = { master: found.name, found: num(truePeakDbtp!), planned: truePeak!.text, off: num(over) };
    report({ message: 'peak', data, at: found.at, severity: 'warning', excess: over, related: plannedAt(truePeak) });
  },
});
