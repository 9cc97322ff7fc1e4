import { gapForBlurMm, moirePeriodPx, pixelsPerPitch } from '../../calc/optics.ts';
import { backdropSeen, pictureRaster } from '../../core/derived/optics.ts';
import type { Backdrop, Screen } from '../../core/film.ts';
import { defineRule, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'screen-moire',
  family: 'optics',
  summary: 'The pixels of a screen in the picture beat with those of the sensor.',
  severity: 'warning',
  sources: ['sampling theorem', 'first zero of a disc’s transfer function, 2·J₁(x) ÷ x: a disc 1.22 times the pitch'],
  messages: {
    beats:
      '{shot}: one pixel of {screen} covers {ratio} recorded pixels, and the blur there is {blur}, less than the {wanted} that hides it: waves of colour{period}. Put the screen farther behind.',
  },
  shot(shot, { report }) {
    const { backdrop, camera } = shot;
    const screen = backdrop && lit(backdrop);
    const pitch = screen && pitchMm(screen);
    const recorded = pictureRaster(camera);
    const seen = backdropSeen(shot);
    if (!backdrop?.behind || !screen || !pitch || !recorded || !seen) return;
    const { opening, atMm, blurMm: blur, pose } = seen;
    const ratio = pixelsPerPitch(pitch, seen.widthMm, recorded.width);
    if (ratio <= 0.5 || ratio >= 4 || blur >= 1.22 * pitch * (1 - 1e-6)) return;
    const more = (gapForBlurMm(opening, 1.22 * pitch) - (atMm - opening.distanceMm)) / pose.forward.z;
    const behind = `${Math.ceil((backdrop.behind.value + more) / 10 - 1e-6)} cm`;
    const period = moirePeriodPx(ratio);
    report({
      message: 'beats',
      data: {
        shot: shot.name,
        screen: quoted(screen.name),
        ratio: num(ratio, 2),
        blur: lengthText(blur),
        wanted: lengthText(1.22 * pitch),
        period: period < recorded.width ? ` about ${num(period, period < 10 ? 1 : 0)} recorded pixels apart` : '',
      },
      at: backdrop.behind,
      // One screen is hung once.
      cause: backdrop.behind,
      excess: (1.22 * pitch) / blur,
      explainedBy: ['sharp-backdrop'],
      fixes: [set(`Put the screen ${behind} behind (its pixels blur away)`, [backdrop, 'behind', behind])],
    });
  },
});

/** The screen, if it shows a grid of pixels: it is on and no projection. */
function lit({ screen, brightness }: Backdrop): Screen | undefined {
  return screen?.panel?.value === 'projector' || brightness?.value === 0 ? undefined : screen;
}

/** From one pixel to the next. */
function pitchMm({ size, raster }: Screen): number | undefined {
  return size && raster && size.value.widthMm / raster.value.width;
}
