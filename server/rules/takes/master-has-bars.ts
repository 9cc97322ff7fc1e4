import { masterDecoded, plannedAt } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, num } from '../../core/say.ts';

export default defineRule({
  id: 'master-has-bars',
  family: 'takes',
  summary: 'An exported film has black bars that nobody planned.',
  severity: 'warning',
  sources: ['the decoded picture: lines along two edges that stay black in all frames that are looked at'],
  messages: {
    bars: '{master} has black bars {where} ({widths} pixels) in all frames that were looked at, so the picture fills {share} % of {raster}. Export it from a timeline of the shape of {deliverable}, with its pieces cropped.',
  },
  master(master, { footage, report }) {
    const found = masterDecoded(master, footage);
    const picture = found?.decoded.picture;
    if (!found || !picture?.bars) return;
    const { deliverable } = found;
    const { at, first, second } = picture.bars;
    const { width, height } = picture.raster;
    const side = at === 'at the sides' ? width : height;
    if ((first + second) / side < leastShare) return;
    report({
      message: 'bars',
      data: {
        master: found.name,
        deliverable: deliverable.name,
        where: at,
        widths: listText([String(first), String(second)]),
        share: num(100 * (1 - (first + second) / side), 0),
        raster: `${width}x${height}`,
      },
      at: found.at,
      related: plannedAt(deliverable.raster),
    });
  },
});

/** A line or two of black come from rounding, and nobody sees them. */
const leastShare = 0.005;
