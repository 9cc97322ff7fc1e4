import { type ViewedOn } from '../../calc/reading.ts';
import { areToBeRead, type LettersAtBest, lettersAtBest, lettersPxIn } from '../../core/derived/letters.ts';
import { hasTitle } from '../../core/derived/titles.ts';
import { still, tryShot } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Part, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import { spared, wantedPx } from './letters-wanted.ts';
import { distanceChange } from '../optics/distance-change.ts';

export default defineRule({
  id: 'label-too-small-to-read',
  family: 'framing',
  summary: 'Letters on the product that must be readable are too small in every shot of a deliverable.',
  severity: 'warning',
  sources: [
    'ISO 9241-3 as quoted, NUREG-0700 1.3.1-4 (16 minutes of arc)',
    'common practice, no source (how far a phone or screen is held)',
  ],
  limits: {
    minutes: {
      quantity: 'number',
      default: '16',
      meaning: 'The least height of letters as the viewer sees them, in minutes of arc.',
    },
  },
  messages: {
    small:
      'The letters of {part} ({letters}) are {pixels} pixels high at best in {deliverable}, in {shot}; on {viewing} reading takes {wanted}. Show it from nearer, or repeat the words as a title.',
    away: 'The letters of {part} cannot be read in {deliverable}: {shot} sees them edge on. Turn them to the camera, or repeat the words as a title.',
  },
  film(film, { limits, report }) {
    for (const part of film.product.parts.values()) {
      if (!part.letters || !areToBeRead(part, film)) continue;
      for (const deliverable of film.deliverables.values()) {
        if (deliverable.needNotShow.some(({ value }) => value === part.name)) continue;
        const best = lettersAtBest(film, part, deliverable);
        const wanted = wantedPx(deliverable, limits.minutes);
        if (!best || wanted === undefined || best.pixels >= wanted * spared) continue;
        if (isReadUpright(film, part, deliverable, limits.minutes)) continue;
        const underTitle = isUnderTitle(film, part, best.shot);
        if (underTitle && best.pixels >= wanted * nearlyRead) continue;
        report({
          message: best.pixels < 1 ? 'away' : 'small',
          data: {
            part: quoted(part.name),
            letters: part.letters.text,
            pixels: num(best.pixels, 0),
            deliverable: quoted(deliverable.name),
            shot: best.shot.name,
            viewing: viewingText[deliverable.viewedOn as ViewedOn] ?? deliverable.viewedOn,
            wanted: num(Math.ceil(wanted), 0),
          },
          at: part.letters,
          ...((underTitle || best.pixels >= wanted * farUnder) && { severity: 'info' as const }),
          excess: wanted / Math.max(best.pixels, 1e-3),
          cause: part.letters,
          shot: best.shot,
          explainedBy: ['small-in-frame', 'soft-picture'],
          fixes: () => nearer(film, part, deliverable, best, wanted),
        });
      }
    }
  },
});

/** Of the height that is wanted: from here on some read it, and it is a note (common practice, no source). */
const farUnder = 0.75;

/** Of the height that is wanted: enough where words stand on the screen anyway. */
const nearlyRead = 0.8;

/** Is it what nobody asks to see, in a shot over which a title stands? */
function isUnderTitle(film: Film, { name }: Part, shot: Shot): boolean {
  return !film.brief?.mustShow.some(({ value }) => value === name) && hasTitle(shot, film);
}

/** On an upright phone a wide film is small; who makes an upright one too makes it for those. */
function isReadUpright(film: Film, part: Part, wide: Deliverable, minutes: number): boolean {
  if (wide.viewedOn !== 'phone-upright' || !wide.raster || wide.raster.value.width <= wide.raster.value.height)
    return false;
  return [...film.deliverables.values()].some((other) => {
    const raster = other.raster?.value;
    const [best, wanted] = [lettersAtBest(film, part, other), wantedPx(other, minutes)];
    return raster && raster.height > raster.width && best && wanted !== undefined && best.pixels >= wanted * spared;
  });
}

const viewingText: Readonly<Record<ViewedOn, string>> = {
  'phone-upright': 'a phone held upright',
  'phone-sideways': 'a phone held sideways',
  desk: 'a screen on a desk',
  television: 'a television at three picture heights',
  cinema: 'a cinema screen at three picture heights',
};

/** From where the letters are large enough, if the lens focuses there. */
function nearer(film: Film, part: Part, deliverable: Deliverable, best: LettersAtBest, wanted: number): FixIdea[] {
  const { distance, lens } = best.shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const nearest = Math.max(50, (lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0));
  // Nobody films a label from farther off than 10 m, so nothing beyond is tried.
  for (let cm = Math.ceil(Math.min(distance.value.from, 10_000) / 10) - 1; cm * 10 >= nearest; cm--) {
    const tried = tryShot(best.shot, { camera: { distance: still(cm * 10) } });
    const pixels = lettersPxIn(film, tried, part, deliverable);
    if (typeof pixels !== 'number' || pixels < wanted) continue;
    const title = `Set distance of ${quoted(best.shot.name)} to ${cm} cm (its letters can be read in ${quoted(deliverable.name)})`;
    return [set(title, ...distanceChange(best.shot, cm * 10, `${cm} cm`))];
  }
  return [];
}
