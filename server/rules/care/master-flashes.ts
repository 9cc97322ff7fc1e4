import { mostFlashes } from '../../calc/flash.ts';
import type { PictureFlashes } from '../../calc/flash-picture.ts';
import { atFrame, masterDecoded } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { percentText, secondsText } from '../../core/say.ts';
import { careful } from './caution-text.ts';

export default defineRule({
  id: 'master-flashes',
  family: 'care',
  summary: 'The picture of an exported film flashes more often than the published limits allow.',
  severity: 'error',
  sources: ['ITU-R BT.1702-3, Guideline 1', 'WCAG 2.2, success criterion 2.3.1'],
  messages: {
    general:
      '{master} flashes {count} times in the second from {at} on, over {area} of the picture, and for {lasts} in all. The published limit is 3, or less than a quarter of the picture. Leave more frames between them, keep them small, or make them change by less.{said} {closing}',
    red: '{master} flashes with saturated red {count} times in the second from {at} on, over {area} of the picture, and for {lasts} in all. The published limit is 3 for red too, however dim. Leave more frames between them, keep them small, or take the red out.{said} {closing}',
  },
  master(master, { film, footage, report }) {
    const found = masterDecoded(master, footage);
    const picture = found?.decoded.picture;
    if (!found || !picture) return;
    const { fps } = picture;
    const { data } = careful(film, 'flash');
    const words = ({ inOneSecond, fromFrame, areaShare, lastsFrames }: PictureFlashes) => ({
      master: found.name,
      count: inOneSecond,
      at: atFrame(fromFrame, found.deliverable, film, fps),
      area: areaShare > 0.99 ? 'all' : percentText(areaShare),
      lasts: secondsText(Math.max(1, lastsFrames) / fps, 1),
      ...data,
    });
    const { general, red } = picture.flashes;
    // One that is both says the one for which the limit is lower.
    if (red.inOneSecond > mostFlashes) report({ message: 'red', data: words(red), at: found.at });
    else if (general.inOneSecond > mostFlashes) report({ message: 'general', data: words(general), at: found.at });
  },
});
