import { blurPx } from '../../calc/motion.ts';
import { largest, longSide } from '../../core/derived/motion.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import { shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num, percentText, quoted } from '../../core/say.ts';
import type { Box, Mm, MmPerSecond, Seconds } from '../../core/units.ts';
import { speedText } from './movement-fixes.ts';

export default defineRule({
  id: 'action-too-fast',
  family: 'movement',
  summary: 'What happens in the shot crosses the picture before it is seen, or is drawn out into a smear.',
  severity: 'sheet',
  sources: [
    'width of the picture ÷ speed; speed × exposure time × pixels for each mm',
    'common practice, no source (a sixth of a second to be seen; what is drawn out by a third of itself loses its shape)',
  ],
  limits: {
    crosses: {
      quantity: 'real-time',
      default: '0.16 s',
      meaning: 'Least time in the film that it takes to cross the picture.',
    },
    part: {
      quantity: 'share',
      default: '33 %',
      meaning: 'Least share of the shorter side of the subject that its smear must be to be told.',
    },
    smear: {
      quantity: 'number',
      default: '12',
      meaning: 'Most pixels by which it is drawn out, at a picture 1920 long.',
    },
  },
  messages: {
    crosses:
      '{shot}: at {speed} what happens crosses the picture of {deliverable} in {time}, {frames} frames: where it does not stay in the picture, it is hardly seen. Slower than {slow}, or recorded at a higher rate and played more slowly, it is.',
    smears:
      '{shot}: at {speed} and {scale} pixels for each mm in {deliverable}, {shutter} draws it out by {px} pixels, {share} of {subject}: while it moves, its shape is not seen. Slower than {slow}, or with {wanted}, it is.',
  },
  shot(shot, { film, limits, meant, report }) {
    const speed = shot.action?.fastest;
    if (!speed || speed.value === 0 || meant('frozen-motion', shot) || meant('flowing-motion', shot)) return;
    const common = { at: speed, explainedBy: ['smeared-motion', 'staccato-motion'] as const };
    const crossing = quickest(shot, film, speed.value);
    const rate = film.timeline.rate?.value;
    if (crossing && rate && crossing.timeS < limits.crosses - 1e-6) {
      const share = crossing.timeS / limits.crosses;
      const data = {
        shot: shot.name,
        speed: speedText(speed.value) + crossing.played,
        deliverable: quoted(crossing.showing.deliverables[0].name),
        time: `${num(crossing.timeS, 2)} s`,
        frames: num((crossing.timeS * rate.num) / rate.den, 0),
        slow: speedText(speed.value * share),
      };
      // Whether it stays in the picture, as a wheel does and a die that lies, is not said.
      report({ message: 'crosses', data, excess: 1 / share, ...common });
      return;
    }
    const smear = smearOf(shot, film, speed.value, limits.smear);
    const { shutter } = shot.camera;
    if (!smear || !shutter || smear.px <= smear.limitPx * (1 + 1e-6)) return;
    // Before the whole product it is a hand or a cloth that moves; what is large beside its smear is drawn out at its edges alone.
    const { box, name } = shot.subject;
    if (!box || name === 'product' || shot.sharp === 'none') return;
    const sidePx = sideMm(box) * smear.pxPerMm;
    if (smear.px < limits.part * sidePx) return;
    const share = Math.max(smear.limitPx, limits.part * sidePx) / smear.px;
    const data = {
      shot: shot.name,
      speed: speedText(speed.value),
      scale: num(smear.pxPerMm, 1),
      deliverable: quoted(smear.deliverable.name),
      shutter: shutter.text,
      px: num(smear.px, 0),
      share: percentText(smear.px / sidePx),
      subject: quoted(name),
      slow: speedText(speed.value * share),
      wanted: `1/${Math.ceil(1 / (smear.timeS * share))} s`,
    };
    report({ message: 'smears', data, excess: 1 / share, ...common });
  },
});

/** What lies flat, or stands on its edge, shows its larger face; a stream or a thread goes along its own length. */
function sideMm({ widthMm, heightMm, depthMm = 0 }: Box): Mm {
  const [longest, next] = [widthMm, heightMm, depthMm].sort((a, b) => b - a) as [Mm, Mm];
  return longest >= next * 5 ? longest : next;
}

interface Crossing {
  readonly showing: Showing;
  /** In the film. */
  readonly timeS: Seconds;
  readonly played: string;
}

/** The showing in which it crosses the picture soonest, straight from side to side. */
function quickest(shot: Shot, film: Film, speed: MmPerSecond): Crossing | undefined {
  const all = showingsOf(shot, film).flatMap((showing): Crossing[] => {
    const played = Math.abs(showing.piece?.speed ?? 1);
    const widthMm = Math.min(...showing.views.map((view) => view.cropWidthMm ?? Infinity));
    if (!Number.isFinite(widthMm) || played === 0) return [];
    return [
      { showing, timeS: widthMm / speed / played, played: played === 1 ? '' : ` played at ${percentText(played)}` },
    ];
  });
  return all.sort((a, b) => a.timeS - b.timeS)[0];
}

function smearOf(shot: Shot, film: Film, speed: MmPerSecond, most: number) {
  const timeS = shutterSeconds(shot);
  if (timeS === undefined) return undefined;
  const all = showingsOf(shot, film).flatMap((showing) => {
    const found = largest(showing);
    if (!found) return [];
    const { deliverable, pxPerMm } = found;
    const limitPx = most * longSide(deliverable.raster!.value);
    return [{ deliverable, pxPerMm, limitPx, timeS, px: blurPx(speed, timeS, pxPerMm) }];
  });
  return all.sort((a, b) => b.px / b.limitPx - a.px / a.limitPx)[0];
}
