/** What to tick off. */
import { shownIn } from '../../core/derived/shown.ts';
import type { Film } from '../../core/film.ts';
import type { Finding } from '../../core/finding.ts';
import * as say from '../../core/say.ts';
import { askedPrecautions } from '../../rules/care/asked.ts';
import { darkRoom } from '../../rules/care/dark-room.ts';
import { rules } from '../../rules/index.ts';
import type { SheetBlock } from './blocks.ts';
import { checklists, precautionWords } from './checklist.ts';
import { care } from './findings.ts';
import { noteOf } from './notes.ts';

export function tickBlocks(film: Film, findings: readonly Finding[], forSet: readonly Finding[] = []): SheetBlock[] {
  const said = film.care?.precautions.map((one) => one.value) ?? [];
  const written = film.care ? noteOf(film.care) : '';
  const arrange = [...said, ...askedPrecautions(film)].map((word) => precautionWords[word] ?? word);
  const dark = darkRoom(film) ? ['Dark room: work light within reach, and a call before the lamps go out'] : [];
  const cautions = [...new Set(findings.filter((one) => care.has(one.rule)).map((one) => one.rule))].map(
    (rule) => `Gone through: ${rules.find((one) => one.id === rule)?.summary ?? rule}`,
  );
  const items = [...(written ? [written] : []), ...arrange, ...dark, ...cautions];
  const arranged: SheetBlock[] = items.length > 0 ? [{ kind: 'ticks', title: 'Precautions', items }] : [];
  const looks = forSet.map((one) => say.inPrint(one.message));
  return [
    ...arranged,
    ...(looks.length > 0 ? [{ kind: 'ticks', title: 'To look at on the set', items: looks } as const] : []),
    ...checklists(film).map((list): SheetBlock => ({ kind: 'ticks', ...list })),
    ...goingBack(film),
    {
      kind: 'text',
      words:
        'Cautions are the usual ones and promise nothing: local codes, the makers of the gear and licensed practice decide.',
    },
  ];
}

/** After it there is no second chance: what must be on a take, and what is easily left behind. Common practice, no source. */
function goingBack(film: Film): SheetBlock[] {
  const { product, brief, shots } = film;
  if (!product.returns || shots.size === 0) return [];
  const seen = (name: string) =>
    [...shots.values()].filter((shot) => shownIn(shot).some(({ value }) => value === name));
  const watched = (brief?.mustShow ?? []).flatMap(({ value }) => {
    const names = seen(value).map((shot) => shot.name);
    return names.length > 0 ? [`Seen sharp on a take that was watched: ${value} (${say.listFirst(names, 4)})`] : [];
  });
  const count = product.units && product.units.value > 1 ? `${say.num(product.units.value, 0)} of it` : 'Product';
  const items = [
    ...watched,
    `All ${shots.size === 1 ? 'takes of the shot' : `${shots.size} shots`} in the cut tried one after the other, before anything is taken down`,
    'A still of each side and of each mark, in the light of the film, for titles and repairs',
    'A plain picture of the set without the product, for repairs',
    `${count} counted, with box and loose parts, and photographed as it goes back`,
  ];
  return [{ kind: 'ticks', title: `Before the product goes back on ${say.dateText(product.returns.value)}`, items }];
}
