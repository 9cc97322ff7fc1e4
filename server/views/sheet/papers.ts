/** Rights and finished files. */
import type { Deliverable, Film, Right } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { SheetBlock } from './blocks.ts';

export function rightsBlocks({ rights, exists }: Film): SheetBlock[] {
  if (rights.size === 0) return [{ kind: 'text', words: 'No rights are written down.' }];
  const rows = [...rights.values()].map((right) => [
    right.name,
    right.kind?.value ?? '',
    right.proof ? `${right.proof.value}${exists(right.proof.value) ? '' : ' (not there)'}` : 'none named',
    right.shownOn.join(', '),
    right.territory.join(', '),
    [right.from && `from ${say.dateText(right.from.value)}`, right.until && `until ${say.dateText(right.until.value)}`]
      .filter(Boolean)
      .join(' '),
    right.credit?.value ?? owner(right),
  ]);
  return [
    { kind: 'table', caption: 'Rights', head: ['For', 'Kind', 'Paper', 'Shown on', 'Where', 'When', 'Credit'], rows },
  ];
}

function owner({ owner: whose }: Right): string {
  return whose === 'own' ? 'our own' : whose === 'public-domain' ? 'public domain' : '';
}

export function deliverableBlocks({ deliverables }: Film): SheetBlock[] {
  if (deliverables.size === 0) return [];
  const rows = [...deliverables.values()].map((one) => [
    one.name,
    [one.raster?.text, one.rate && `${one.rate.text} frames/s`, one.length?.text].filter(Boolean).join(', '),
    [
      one.container,
      one.codec,
      one.profile?.value,
      one.codecLevel && `level ${one.codecLevel.value}`,
      `${one.bits} bits`,
      one.chroma,
      one.colourSpace,
    ]
      .filter(Boolean)
      .join(', '),
    [one.bitrate?.text, one.largestFile && `at most ${one.largestFile.text}`].filter(Boolean).join(', '),
    soundWords(one),
    [one.shownOn.join(', '), one.territory.join(', '), one.published?.text].filter(Boolean).join('; '),
  ]);
  return [
    { kind: 'table', caption: 'Deliverables', head: ['File', 'Picture', 'Coding', 'Size', 'Sound', 'Shown'], rows },
  ];
}

function soundWords({ sound, loudness, truePeak }: Deliverable): string {
  return sound === 'none'
    ? 'none'
    : [sound, loudness?.text, truePeak && `peak ${truePeak.text}`].filter(Boolean).join(', ');
}
