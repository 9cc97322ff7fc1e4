import { masterDecoded, masterRead, plannedAt } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'master-sound-off',
  family: 'takes',
  summary: 'An exported film has no sound, or other channels or another sampling rate than its deliverable.',
  severity: 'error',
  sources: ['the container’s index against the plan'],
  messages: {
    none: '{master} has no sound, and {deliverable} is {planned}. Export it with its sound.',
    silent:
      '{master} has a sound track in which there is nothing, and {deliverable} is {planned}. See whether the mix was left out.',
    added:
      '{master} has a sound track, and {deliverable} has no sound. Export it without, so that no player shows a loudspeaker.',
    channels: '{master} has {found}, where {deliverable} is {planned}. Export it so.',
    rate: '{master} has sound at {found} Hz, where {planned} is planned. Export it so.',
  },
  master(master, { footage, report }) {
    const found = masterRead(master, footage);
    if (!found?.facts.video) return;
    const { deliverable, facts, at } = found;
    const [audio] = facts.audio;
    const measured = masterDecoded(master, footage)?.decoded.sound;
    const isSilent = measured !== undefined && measured.truePeakDbtp === undefined;
    const data = { master: found.name, deliverable: deliverable.name, planned: deliverable.sound };
    const related = plannedAt(deliverable.soundAt);
    if (deliverable.sound === 'none') {
      // A silent track harms nobody: some players ask for one.
      if (audio && measured && !isSilent) report({ message: 'added', severity: 'warning', data, at, related });
      return;
    }
    if (!audio || isSilent) {
      report({ message: audio ? 'silent' : 'none', data, at, related });
      return;
    }
    const channels = deliverable.sound === 'mono' ? 1 : 2;
    if (audio.channels !== channels) {
      const heard = audio.channels === 1 ? 'one channel' : `${audio.channels} channels`;
      report({ message: 'channels', severity: 'warning', data: { ...data, found: heard }, at, related });
    }
    const { sampleRate } = deliverable;
    if (sampleRate && audio.sampleRateHz !== sampleRate.value) {
      const texts = { found: num(audio.sampleRateHz, 0), planned: sampleRate.text };
      report({ message: 'rate', severity: 'warning', data: { ...data, ...texts }, at, related: plannedAt(sampleRate) });
    }
  },
});
