import { capitalHeightPx, leastLetterMinutes, type ViewedOn, viewings } from '../../calc/reading.ts';
import { angleBetweenDeg, directionOf, subtract } from '../../calc/geometry.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { cameraPose, subjectPlace } from '../../core/derived/optics.ts';
import { type Showing, showingsOf, still, tryShot } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Part, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';

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
      if (!part.letters) continue;
      for (const deliverable of film.deliverables.values()) {
        const best = bestOf(film, part, deliverable);
        const wanted = wantedPx(deliverable, limits.minutes);
        if (!best || wanted === undefined || best.pixels >= wanted * (1 - 1e-6)) continue;
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
          shot: best.shot,
          explainedBy: ['small-in-frame', 'soft-picture'],
          fixes: () => nearer(film, part, deliverable, best, wanted),
        });
      }
    }
  },
});

const viewingText: Readonly<Record<ViewedOn, string>> = {
  'phone-upright': 'a phone held upright',
  'phone-sideways': 'a phone held sideways',
  desk: 'a screen on a desk',
  television: 'a television at three picture heights',
  cinema: 'a cinema screen at three picture heights',
};

function wantedPx({ raster, viewedOn }: Deliverable, minutes: number): number | undefined {
  const viewing = viewings[viewedOn as ViewedOn];
  const least = minutes > 0 ? minutes : leastLetterMinutes;
  return raster && viewing && capitalHeightPx(raster.value.width, raster.value.height, viewing, least);
}

interface Best {
  readonly shot: Shot;
  readonly pixels: number;
}

/** The shot that shows the part's letters largest in a deliverable; undefined where none shows it, or one can't be computed. */
function bestOf(film: Film, part: Part, deliverable: Deliverable): Best | undefined {
  let best: Best | undefined;
  for (const shot of film.shots.values()) {
    if (!shot.shows.some((shown) => shown.value === part.name)) continue;
    const pixels = pixelsIn(film, shot, part, deliverable);
    if (pixels === 'unknown') return undefined;
    if (pixels !== undefined && pixels > (best?.pixels ?? -1)) best = { shot, pixels };
  }
  return best;
}

function pixelsIn(film: Film, shot: Shot, part: Part, deliverable: Deliverable): number | 'unknown' | undefined {
  let most: number | undefined;
  for (const showing of showingsOf(shot, film)) {
    // A shot that the cut leaves out shows nothing to anybody.
    if (!showing.deliverables.includes(deliverable) || (film.cut.length > 0 && !showing.piece)) continue;
    const pixels = lettersPx(showing, part, deliverable);
    if (pixels === undefined) return 'unknown';
    if (pixels > (most ?? -1)) most = pixels;
  }
  return most;
}

/** Letters on a front that is turned or seen from above are foreshortened; the best moment counts. */
function lettersPx({ shot, views, turns }: Showing, part: Part, deliverable: Deliverable): number | undefined {
  let most: number | undefined;
  for (const view of views) {
    const pose = cameraPose(shot, view.actionMoment);
    const pxPerMm = pxPerMmAt(view, deliverable);
    if (!pose || pxPerMm === undefined) continue;
    const toCamera = subtract(pose.at, subjectPlace(shot));
    for (const turn of turns) {
      const off = angleBetweenDeg(toCamera, directionOf(turn));
      // A part that has a shot of its own is shown as it reads best, lying flat or not.
      const facing = shot.subject.name === part.name ? 1 : Math.cos((off * Math.PI) / 180);
      most = Math.max(most ?? 0, part.letters!.value * pxPerMm * facing);
    }
  }
  return most;
}

/** From where the letters are large enough, if the lens focuses there. */
function nearer(film: Film, part: Part, deliverable: Deliverable, best: Best, wanted: number): FixIdea[] {
  const { distance, lens } = best.shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const nearest = Math.max(50, (lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0));
  // Nobody films a label from farther off than 10 m, so nothing beyond is tried.
  for (let cm = Math.ceil(Math.min(distance.value.from, 10_000) / 10) - 1; cm * 10 >= nearest; cm--) {
    const tried = tryShot(best.shot, { camera: { distance: still(cm * 10) } });
    const pixels = pixelsIn(film, tried, part, deliverable);
    if (typeof pixels !== 'number' || pixels < wanted) continue;
    const title = `Set distance of ${quoted(best.shot.name)} to ${cm} cm (its letters can be read in ${quoted(deliverable.name)})`;
    return [set(title, [best.shot.camera, 'distance', `${cm} cm`])];
  }
  return [];
}
