import { quote } from '../../core/document/edits.ts';
import { deliverablesOf } from '../../core/derived/edit.ts';
import { titleBox, titleRoom, type Room } from '../../core/derived/titles.ts';
import type { Deliverable, Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, percentText, quoted, rasterText } from '../../core/say.ts';
import { inTwoLines } from './title-lines.ts';

export default defineRule({
  id: 'title-outside-safe-area',
  family: 'cut',
  summary: 'A title is too large for the part of the picture that is safe for titles and free of the player.',
  severity: 'warning',
  sources: [
    'SMPTE ST 2046-1, EBU R 95, ITU-R BT.1848 (title-safe area)',
    'common practice, no source (letters on average 0.6 of the capitals wide; tall pictures by analogy)',
  ],
  messages: {
    wide: '{text}: about {found} pixels wide in {deliverable} ({raster}), where {room} pixels are {what}. Break it into lines, or make it smaller.',
    high: '{text}: {found} pixels high in {deliverable} ({raster}), where {room} pixels are {what}. Make it smaller.',
  },
  title(title, { film, report }) {
    const misfit = deliverablesOf(title, film)
      .flatMap((one) => misfitIn(title, one) ?? [])
      .sort((a, b) => Number(a.onlySafe) - Number(b.onlySafe) || b.over - a.over)[0];
    if (!misfit) return;
    const { deliverable, wide, found, room, onlySafe } = misfit;
    const raster = deliverable.raster!.value;
    const checked = isChecked(deliverable);
    report({
      message: wide ? 'wide' : 'high',
      data: {
        text: quoted(title.text?.value.trim() ?? ''),
        deliverable: deliverable.name,
        raster: rasterText(raster),
        found: num(found, 0),
        room: num(room, 0),
        what: onlySafe ? safeWords(deliverable) : 'free of what the player covers',
      },
      at: title.lettersAt ?? title.text ?? title,
      severity: onlySafe && !checked ? 'hint' : 'warning',
      fixes: () => fixes(title, deliverable, titleRoom(deliverable, raster, true)),
    });
  },
});

interface Misfit {
  readonly deliverable: Deliverable;
  readonly wide: boolean;
  readonly found: number;
  readonly room: number;
  /** It would fit without the safe margins. */
  readonly onlySafe: boolean;
  readonly over: number;
}

function misfitIn(title: Title, deliverable: Deliverable): Misfit | undefined {
  const raster = deliverable.raster?.value;
  if (!raster || !title.text) return undefined;
  const box = titleBox(title, raster);
  const bare = titleRoom(deliverable, raster, false);
  // A picture that is covered from edge to edge is said of the deliverable.
  if (bare.widthPx <= 0 || bare.heightPx <= 0) return undefined;
  // What lies so near to the edge may fit in the typeface that is taken.
  const least = { ...box, widthPx: box.widthPx * (1 - guessed) };
  const onlySafe = fits(least, bare);
  const room = onlySafe ? titleRoom(deliverable, raster, true) : bare;
  if (fits(least, room)) return undefined;
  const wide = box.widthPx > room.widthPx + tiny;
  const [found, has] = wide ? [box.widthPx, room.widthPx] : [box.heightPx, room.heightPx];
  return { deliverable, wide, found, room: has, onlySafe, over: found / has };
}

/** Typefaces differ by more than this from the usual one by which lines are measured (common practice, no source). */
const guessed = 0.03;
const tiny = 1e-6;

function fits(box: Room, room: Room): boolean {
  return box.widthPx <= room.widthPx + tiny && box.heightPx <= room.heightPx + tiny;
}

/** Broadcast and cinema measure it; elsewhere it is good manners. */
function isChecked({ shownOn }: Deliverable): boolean {
  return shownOn.includes('broadcast') || shownOn.includes('cinema');
}

function safeWords({ raster }: Deliverable): string {
  const tall = raster!.value.height > raster!.value.width;
  return tall ? 'title-safe by analogy (90 % of each side)' : 'title-safe (90 % of each side)';
}

/** Two lines where the words divide, else smaller letters. */
function fixes(title: Title, deliverable: Deliverable, room: Room): FixIdea[] {
  const raster = deliverable.raster!.value;
  const ideas: FixIdea[] = [];
  const broken = inTwoLines(title.text!.value).find((value) =>
    fits(titleBox({ ...title, text: { ...title.text!, value } }, raster), room),
  );
  if (broken) {
    const [first, second] = broken.split('\n');
    ideas.push(set(`Break it after ${quoted(first!)}, before ${quoted(second!)}`, [title, 'text', quote(broken)]));
  }
  const box = titleBox(title, raster);
  const shrink = Math.min(room.widthPx / box.widthPx, room.heightPx / box.heightPx);
  const letters = Math.floor(title.letters * shrink * 1000 + 1e-6) / 1000;
  if (letters > 0) {
    const text = percentText(letters, 1);
    ideas.push(set(`Set letters to ${text}`, [title, 'letters', text]));
  }
  return ideas;
}
