import { parseHex } from '../../calc/colour.ts';
import { brightestLight, isBlackAndWhite } from '../../core/derived/white-points.ts';
import type { Film, KitLamp, Shot, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import { swapFixes } from './other-lamp-fixes.ts';
import { aboutShare, subjectText } from './white-text.ts';

export default defineRule({
  id: 'colour-rendering-poor',
  family: 'colour',
  summary: 'A lamp that lights the product gives colours back badly, and no grade brings them back.',
  severity: 'warning',
  sources: [
    'EBU R 137 / Tech 3355 (television lighting consistency index; bands from memory)',
    'CIE 13.3 (Ra and R9)',
    'common practice, no source (Ra 90 and 80; R9 50; a fifth of the light)',
  ],
  limits: {
    share: { quantity: 'share', default: '20 %', meaning: 'Lamps that give less of the light than this do not count.' },
    tlci: { quantity: 'number', default: '85', meaning: 'Television lighting consistency index that is good enough.' },
    cri: { quantity: 'number', default: '90', meaning: 'Colour rendering index (Ra) that is good enough.' },
    r9: { quantity: 'number', default: '50', meaning: 'R9 that is good enough for what is red, wood or skin.' },
  },
  messages: {
    poor: '{shot}: {lamp} has {index} and gives {share} of the light on {subject}: colours will be off, and a grade takes long over it. Give its place to a better lamp.',
    fair: '{shot}: {lamp} has {index} and gives {share} of the light on {subject}: some colours will be a little off. {enough} or more is good.',
    red: '{shot}: {lamp} has {index} and gives {share} of the light on {subject}: {what} comes out dull and brownish, and no grade brings it back. Give its place to a lamp with a higher R9.',
  },
  shot(shot, { film, limits, report }) {
    if (isBlackAndWhite(film)) return;
    for (const { lamp: place, share } of brightestLight(shot).lamps) {
      const { lamp } = place;
      // What is seen lit, the product's own light too, is filmed as it is.
      if (!lamp || place.colour || place.role?.value === 'practical' || share < limits.share - 1e-6) continue;
      const found = fault(lamp, limits, redThing(film, shot));
      if (!found) continue;
      const { value, message } = found;
      const data = { shot: shot.name, lamp: quoted(place.name), share: aboutShare(share), subject: subjectText(shot) };
      const { start, end, file } = value;
      report({
        message,
        severity: message === 'poor' ? undefined : 'info',
        data: { ...data, index: found.index, what: found.what ?? '', enough: found.enough },
        at: place,
        related: [{ start, end, file, message: 'as the kit says' }],
        // One lamp is changed once, whatever part of the light it gives.
        cause: { start: place.start, end: place.end },
        excess: share,
        fixes: () => swapFixes(place, film, (one) => isGood(one, limits, redThing(film, shot))),
      });
    }
  },
});

type Limits = Readonly<Record<'tlci' | 'cri' | 'r9', number>>;

interface Fault {
  readonly message: 'poor' | 'fair' | 'red';
  readonly value: Val<number>;
  readonly index: string;
  readonly enough: string;
  readonly what?: string;
}

/** Ten points under what is good enough takes real time in a grade (75 of 85, 80 of 90). */
const poorBelow = 10;

/** The index made for cameras where it is known, else Ra; R9 where red matters and they did not tell already. */
function fault({ tlci, cri, r9 }: KitLamp, limits: Limits, red: string | undefined): Fault | undefined {
  const [value, enough, name] = tlci ? [tlci, limits.tlci, 'a TLCI of'] : [cri, limits.cri, 'an Ra of'];
  if (value && value.value < enough - 1e-6) {
    const message = value.value < enough - poorBelow ? 'poor' : 'fair';
    return { message, value, index: `${name} ${num(value.value, 0)}`, enough: num(enough, 0) };
  }
  if (!r9 || !red || r9.value >= limits.r9 - 1e-6) return undefined;
  return { message: 'red', value: r9, index: `an R9 of ${num(r9.value, 0)}`, enough: num(limits.r9, 0), what: red };
}

function isGood(lamp: KitLamp, limits: Limits, red: string | undefined): boolean {
  return (lamp.tlci ?? lamp.cri) !== undefined && fault(lamp, limits, red) === undefined;
}

/** What has deep red in it: skin, or a product between crimson and wood. */
function redThing({ product }: Film, { people }: Shot): string | undefined {
  if (people.length > 0) return 'skin';
  const rgb = product.colour && parseHex(product.colour.value);
  if (!rgb) return undefined;
  const [most, least] = [Math.max(rgb.r, rgb.g, rgb.b), Math.min(rgb.r, rgb.g, rgb.b)];
  const isRed = rgb.r === most && (most - least) / most >= 0.25 && hueDeg(rgb) <= 45 && hueDeg(rgb) >= -25;
  return isRed ? 'its red' : undefined;
}

/** Hue around red, -60° to 60°, of a colour whose strongest channel is red. */
function hueDeg({ r, g, b }: { r: number; g: number; b: number }): number {
  return (60 * (g - b)) / (r - Math.min(g, b));
}
