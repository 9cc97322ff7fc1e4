import { masterDecoded, masterRead, plannedAt } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { bitRateText, bytesText, percentText } from '../../core/say.ts';

export default defineRule({
  id: 'master-too-large',
  family: 'takes',
  summary: 'An exported film is larger than its deliverable allows, or takes more bits a second.',
  severity: 'warning',
  sources: ['the size of the file and of its coded pictures against the plan'],
  limits: {
    allow: {
      quantity: 'share',
      default: '15 %',
      meaning: 'How much more than planned the picture may take on average.',
    },
  },
  messages: {
    file: '{master} has {found}, and {deliverable} may have {planned} at most: where it goes it will be refused. Export it with {less} fewer bits.',
    bitrate:
      '{master} takes {found} on average{most}, where {planned} is planned. Export it at that rate, or plan for more where it is shown.',
  },
  master(master, { footage, limits, report }) {
    const found = masterRead(master, footage);
    if (!found) return;
    const { deliverable, facts, at } = found;
    const { largestFile, bitrate } = deliverable;
    const data = { master: found.name, deliverable: deliverable.name };
    if (largestFile && facts.bytes > largestFile.value) {
      const less = percentText(1 - largestFile.value / facts.bytes);
      const texts = { found: bytesText(facts.bytes), planned: largestFile.text, less };
      report({ message: 'file', severity: 'error', data: { ...data, ...texts }, at, related: plannedAt(largestFile) });
      return;
    }
    const picture = masterDecoded(master, footage)?.decoded.picture;
    const meanBps = picture?.bitrate.meanBps ?? facts.video?.bitrate;
    if (!bitrate || meanBps === undefined || meanBps <= bitrate.value * (1 + limits.allow)) return;
    const most = picture ? ` and ${bitRateText(picture.bitrate.mostBps)} in its busiest second` : '';
    const texts = { found: bitRateText(meanBps), planned: bitrate.text, most };
    report({
      message: 'bitrate',
      data: { ...data, ...texts },
      at,
      excess: meanBps / bitrate.value,
      related: plannedAt(bitrate),
    });
  },
});
