import { evenBelow, oddSides } from '../../calc/data.ts';
import type { Chroma } from '../../calc/codec.ts';
import { defineRule, set } from '../../core/rule.ts';
import { listText, rasterText } from '../../core/say.ts';

export default defineRule({
  id: 'odd-dimensions',
  family: 'delivery',
  summary: 'The picture has an odd number of pixels where colour is sampled in pairs.',
  severity: 'error',
  sources: ['ITU-R BT.709 and BT.2020 (definitions of 4:2:0 and 4:2:2)'],
  messages: {
    odd: '{deliverable}: {raster} has an odd {sides}, and {chroma} needs an even one: encoders refuse it or stretch the picture. {even} works.',
  },
  deliverable(deliverable, { report }) {
    const { raster, chroma, name } = deliverable;
    if (!raster) return;
    const { width, height } = raster.value;
    const odd = oddSides(width, height, chroma as Chroma);
    if (odd.length === 0) return;
    const even = rasterText({
      // Of a side of one pixel nothing would be left.
      width: odd.includes('width') ? Math.max(2, evenBelow(width)) : width,
      height: odd.includes('height') ? Math.max(2, evenBelow(height)) : height,
    });
    report({
      message: 'odd',
      data: { deliverable: name, raster: raster.text, sides: listText(odd), chroma, even },
      at: raster,
      fixes: [{ ...set(`Set raster to ${even}`, [deliverable, 'raster', even]), safe: true }],
    });
  },
});
