import { capitalHeightPx, capitalMinutes, type ViewedOn, viewings } from '../../calc/reading.ts';
import { deliverablesOf } from '../../core/derived/edit.ts';
import { capitalPx } from '../../core/derived/titles.ts';
import type { Deliverable, Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, percentText, quoted, rasterText } from '../../core/say.ts';

export default defineRule({
  id: 'title-too-small',
  family: 'cut',
  summary: 'The letters of a title are too small for where the film is watched.',
  severity: 'warning',
  sources: [
    'ISO 9241-3 as quoted (16 minutes of arc at least, 20 to 22 preferred)',
    'NUREG-0700 1.3.1-4 (height from angle and distance)',
    'common practice, no source (how far away a phone and a desk screen are)',
  ],
  limits: {
    least: { quantity: 'number', default: '16', meaning: 'Least height of capitals in minutes of arc.' },
    comfortable: { quantity: 'number', default: '22', meaning: 'Height of capitals that is read with ease.' },
  },
  messages: {
    small:
      '{text}: in {deliverable} ({raster}) capitals of {found} pixels are {minutes}′ of arc {seen}; {least} pixels are the least, {comfortable} comfortable.',
  },
  title(title, { film, limits, report }) {
    const worst = deliverablesOf(title, film)
      .flatMap((one) => seenIn(title, one) ?? [])
      .sort((a, b) => a.minutes - b.minutes)[0];
    // What can be read is small because somebody wants it so.
    if (!worst || worst.minutes >= limits.least - 1e-6) return;
    const { deliverable, viewing } = worst;
    const raster = deliverable.raster!.value;
    const px = (minutes: number) => capitalHeightPx(raster.width, raster.height, viewing, minutes);
    report({
      message: 'small',
      data: {
        text: quoted(title.text?.value.trim() ?? ''),
        deliverable: deliverable.name,
        raster: rasterText(raster),
        found: num(capitalPx(title, raster), 0),
        minutes: num(worst.minutes, 0),
        seen: seenOn[deliverable.viewedOn as ViewedOn],
        least: Math.ceil(px(limits.least) - 0.05),
        comfortable: Math.ceil(px(limits.comfortable) - 0.05),
      },
      at: title.lettersAt ?? title.text ?? title,
      fixes: () => larger(title, deliverable, px(limits.least), px(limits.comfortable)),
    });
  },
});

const seenOn: Readonly<Record<ViewedOn, string>> = {
  'phone-upright': 'on an upright phone (68 mm wide, 35 cm away)',
  'phone-sideways': 'on a phone held sideways (35 cm away)',
  desk: 'on a desk screen (53 cm wide, 60 cm away)',
  television: 'from three picture heights',
  cinema: 'from three picture heights',
};

/** Letters are judged by the eye of someone who watches on the smallest screen; the rows of a cinema are not one distance. */
function seenIn(title: Title, deliverable: Deliverable) {
  const viewing = viewings[deliverable.viewedOn as ViewedOn];
  const raster = deliverable.raster?.value;
  if (!viewing || !raster || deliverable.viewedOn === 'cinema') return undefined;
  const minutes = capitalMinutes(capitalPx(title, raster), raster.width, raster.height, viewing);
  return { deliverable, viewing, minutes };
}

/** Letters in tenths of a percent: comfortable ones first, then the least. */
function larger(title: Title, { raster }: Deliverable, leastPx: number, comfortablePx: number): FixIdea[] {
  const shorter = Math.min(raster!.value.width, raster!.value.height);
  const share = (px: number) => Math.ceil((px / shorter) * 1000 - 1e-6) / 1000;
  const [comfortable, least] = [share(comfortablePx), share(leastPx)];
  const idea = (letters: number, word: string) => {
    const text = percentText(letters, 1);
    return set(`Set letters to ${text} (${num(letters * shorter, 0)} pixels, ${word})`, [title, 'letters', text]);
  };
  return [idea(comfortable, 'comfortable'), ...(least > title.letters ? [idea(least, 'the least')] : [])];
}
