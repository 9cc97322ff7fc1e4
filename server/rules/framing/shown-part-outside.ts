import { heightsOf, type PartSeen, partSeenAtBest } from '../../core/derived/part-seen.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Part, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, listText, percentText, quoted } from '../../core/say.ts';
import type { Share } from '../../core/units.ts';
import { distanceChange, fartherCm } from '../optics/distance-change.ts';

export default defineRule({
  id: 'shown-part-outside',
  family: 'framing',
  summary: 'A good part of something that a shot shows beside its subject lies above or below the picture.',
  severity: 'info',
  sources: ['perspective', 'common practice, no source (a quarter of a thing is missed)'],
  limits: {
    part: { quantity: 'share', default: '25 %', meaning: 'How much of its height may lie outside.' },
    hand: {
      quantity: 'share',
      default: '10 %',
      meaning: 'Of the picture’s height: what is less is put right by whoever looks through the camera.',
    },
  },
  messages: {
    outside:
      '{shot}: in {deliverables}, {share} of {part} lies outside the picture, which looks at {subject}: it reaches from {low} to {high}, and the picture shows {from} to {to} there. Go farther back, or aim between the two.',
  },
  shot(shot, { film, limits, report }) {
    for (const name of shot.shows) {
      const part = film.product.parts.get(name.value);
      const heights = part && heightsOf(part, film.product);
      if (!heights || name.value === shot.subject.name || isLeftOut(name.value, shot, film)) continue;
      const found = outsideIn(shot, film, part).filter(({ seen }) => isMissed(seen, limits));
      const [worst] = found.sort((a, b) => a.seen.share - b.seen.share);
      if (!worst) continue;
      const { share, picture } = worst.seen;
      report({
        message: 'outside',
        data: {
          shot: shot.name,
          deliverables: listText(found.map(({ deliverable }) => quoted(deliverable.name))),
          share: percentText(1 - share),
          part: quoted(part.name),
          subject: shot.subject.name === 'product' ? 'the product' : quoted(shot.subject.name),
          low: lengthText(heights.from),
          high: lengthText(heights.to),
          from: lengthText(Math.round(picture.from)),
          to: lengthText(Math.round(picture.to)),
        },
        at: name,
        // A part that two shots show as little of is one thought.
        cause: { start: part.start, end: part.end, isWide: true },
        excess: 1 - share,
        explainedBy: ['tight-framing'],
        fixes: () => farther(shot, film, part),
      });
    }
  },
});

/** Hands and people come in from outside; of what must be shown, all shots that show it are looked at together. */
function isLeftOut(item: string, { people }: Shot, { brief }: Film): boolean {
  return [...people, ...(brief?.mustShow ?? [])].some(({ value }) => value === item);
}

function isMissed({ share, outside }: PartSeen, { part, hand }: { part: Share; hand: Share }): boolean {
  return 1 - share > part + 1e-6 && outside > hand;
}

/** The most that each deliverable ever shows of it in this shot; none of a shot that the cut leaves out. */
function outsideIn(shot: Shot, film: Film, part: Part): { deliverable: Deliverable; seen: PartSeen }[] {
  const showings = showingsOf(shot, film).filter(({ piece }) => shot.pieces.includes(piece!));
  return [...film.deliverables.values()].flatMap((deliverable) => {
    const own = showings.filter(({ deliverables }) => deliverables.includes(deliverable));
    const seen = partSeenAtBest(part, own, film);
    return seen ? [{ deliverable, seen }] : [];
  });
}

/** Twice as far away the subject is a quarter as large: another shot would show it better. */
const farthest = 1.5;

/** The nearest whole centimetre farther back from which all of it is in the picture. */
function farther(shot: Shot, film: Film, part: Part): FixIdea[] {
  const isWhole = (tried: Shot) => outsideIn(tried, film, part).every(({ seen }) => seen.share >= 1 - 1e-6);
  const cm = fartherCm(shot, (nowCm) => nowCm * farthest, isWhole);
  if (cm === undefined) return [];
  const title = `Set distance to ${cm} cm (all of ${quoted(part.name)} is in the picture)`;
  return [set(title, ...distanceChange(shot, cm * 10, `${cm} cm`))];
}
