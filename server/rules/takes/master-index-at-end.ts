import { masterRead } from '../../core/derived/decoded-takes.ts';
import { isForPlayers } from '../../core/derived/stream.ts';
import { defineRule } from '../../core/rule.ts';

export default defineRule({
  id: 'master-index-at-end',
  family: 'takes',
  summary: 'The index of a film for the web stands at the end of its file, so that it starts late.',
  severity: 'warning',
  sources: ['ISO/IEC 14496-12: `moov` may stand before or after the media data'],
  messages: {
    end: '{master} has its index at the end: a browser must fetch all of it before it plays. Export it for the web (“fast start”), or move the index: `ffmpeg -i IN.mp4 -c copy -movflags +faststart OUT.mp4`.',
  },
  master(master, { footage, report }) {
    const found = masterRead(master, footage);
    if (!found || found.facts.indexAt !== 'end' || !isForPlayers(found.deliverable)) return;
    report({ message: 'end', data: { master: found.name }, at: found.at });
  },
});
