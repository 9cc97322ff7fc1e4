import { markedFNumbers } from '../../calc/exposure.ts';
import { airyDiscMm, effectiveFNumber, fNumberForAiryMm, focusHoldingMm, magnification } from '../../calc/optics.ts';
import { lensAt } from '../../core/derived/optics.ts';
import type { Showing } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { apertureText, brighterText, listText, num } from '../../core/say.ts';
import { exposureTrade } from '../exposure/exposure-fixes.ts';
import { deliverablesText } from '../framing/framing-text.ts';
import {
  holds,
  mustBeSharp,
  pixelsOnSensor,
  type Sharpness,
  sharpnessAt,
  strictest,
} from '../../core/derived/sharp.ts';

export default defineRule({
  id: 'diffraction-soft',
  family: 'optics',
  summary: 'The aperture is so small that diffraction softens the delivered picture.',
  severity: 'sheet',
  sources: ['Airy disc: diameter 2.44 × wavelength × f-number'],
  limits: {
    spread: {
      quantity: 'number',
      default: '3',
      meaning: 'How many pixels of a picture of 1920 the disc of a point may cover; of a larger one, so many more.',
    },
    gain: {
      quantity: 'share',
      default: '25 %',
      meaning: 'How much smaller the offered stop must make the disc: a fraction of a stop nobody sees.',
    },
  },
  messages: {
    soft: '{shot}: {aperture}{effective} spreads a point over {pixels} {recorded}pixels of {deliverables}. {wider} would spread it over {better} and still hold the subject sharp.',
  },
  shot(shot, { film, limits, report }) {
    const lens = lensAt(shot, 0);
    const { aperture } = shot.camera;
    const finest = finestOf(shot, film);
    if (!lens || lens.fNumber === undefined || !aperture || !finest) return;
    // A picture that is enlarged has no finer detail than what was recorded, and `zoom-outruns-raster` tells of that.
    const perMm = pixelsOnSensor(shot, lens, Math.max(1, finest.scale));
    const m = magnification(lens.focalMm, lens.focusMm);
    // Near enough, every stop is a trade of this against depth, and who asks for a front has made it.
    if (shot.sharp === 'front' && m >= near && (shot.subject.box?.depthMm ?? 0) > 0) return;
    const spread = (n: number) => airyDiscMm(effectiveFNumber(n, m)) * perMm;
    const allowed = limits.spread * finer(finest.showing);
    if (spread(lens.fNumber) <= allowed * (1 + 1e-6)) return;
    const most = fNumberForAiryMm(allowed / perMm) / (1 + m);
    const n = wider(shot, film, { now: lens.fNumber, most });
    // Where the depth needs every stop there is nothing better to offer, and less of it nobody sees.
    if (n === undefined || n > lens.fNumber * (1 - limits.gain) * (1 + 1e-6)) return;
    report({
      message: 'soft',
      data: {
        shot: shot.name,
        aperture: apertureText(lens.fNumber),
        effective: effectiveText(lens.fNumber, m),
        pixels: num(spread(lens.fNumber), 1),
        recorded: finest.scale < 1 - 1e-6 ? 'recorded ' : '',
        deliverables: deliverablesText(finest.showing),
        wider: apertureText(n),
        better: num(spread(n), 1),
      },
      at: aperture,
      cause: aperture,
      excess: spread(lens.fNumber) / allowed,
      explainedBy: ['deep-focus', 'soft-picture'],
      fixes: () => [widerStop(shot, film, lens.fNumber!, n)],
    });
  },
});

/** A thing as wide as four sensors fills the picture (common practice, no source). */
const near = 0.25;

/** A picture of more pixels is looked at in the same size: its long side over 1920, at least 1. */
function finer({ deliverables: [one] }: Showing): number {
  const { width, height } = one.raster!.value;
  return Math.max(1, Math.max(width, height) / 1920);
}

/** Near, a lens acts as if stopped down more: said where it makes a difference. */
function effectiveText(fNumber: number, m: number): string {
  const text = apertureText(effectiveFNumber(fNumber, m));
  return text === apertureText(fNumber) ? '' : ` (in effect ${text} so near)`;
}

function widerStop(shot: Shot, film: Film, now: number, to: number): FixIdea {
  const gain = 2 * Math.log2(now / to);
  const pay = exposureTrade(shot, film, gain);
  const what = listText([`aperture to ${apertureText(to)}`, ...(pay?.what ?? [])]);
  const title = `Set ${what} (${brighterText(gain + (pay?.gain ?? 0))})`;
  return set(title, [shot.camera, 'aperture', apertureText(to)], ...(pay?.changes ?? []));
}

/** The showing with the fewest recorded pixels for each delivered one has the finest detail. */
function finestOf(shot: Shot, film: Film) {
  return strictest(shot, film, (view) => 1 / view.scale);
}

/** A front is no plane: the nearer half of what is seen of the subject comes out sharp with it. */
function holdsFront(shot: Shot, film: Film, seen: Sharpness, n: number): boolean {
  const all = shot.sharp === 'front' ? mustBeSharp(shot, film, 0, 'all') : undefined;
  if (!all) return true;
  const wanted = { nearMm: all.nearMm, farMm: (all.nearMm + all.farMm) / 2 };
  return holds({ ...seen, wanted }, focusHoldingMm(wanted.nearMm, wanted.farMm), n);
}

/** The largest marked f-number that does not soften; else the widest that still holds the depth. */
function wider(shot: Shot, film: Film, { now, most }: { now: number; most: number }): number | undefined {
  const range = shot.camera.lens?.aperture?.value;
  const inLens = markedFNumbers.filter(
    (n) => n < now * (1 - 1e-6) && (!range || (n >= range.from - 0.01 && n <= range.to + 0.01)),
  );
  const zoom = strictest(shot, film)?.zoom ?? 1;
  const seen = sharpnessAt(shot, film, 0, zoom);
  const holding = inLens.filter((n) => !seen || (holds(seen, seen.lens.focusMm, n) && holdsFront(shot, film, seen, n)));
  return holding.filter((n) => n <= most).at(-1) ?? holding[0];
}
