/** Reads the sheet for the set: plan in, blocks and their words out. */
import type { SheetBlock } from '../../server/views/sheet/blocks.ts';
import { sheetOf } from '../../server/views/sheet/content.ts';
import { checkerFor, kits, spec } from './workspace.ts';

/**
 * Every block of the sheet of a spec, those inside others too.
 * @param kit more lines at the end of the camera's kit
 */
export function blocksOf(blocks: string, kit = ''): SheetBlock[] {
  return blocksWith(kits['kits/camera.kit.yaml']! + kit, blocks);
}

/** The same with a kit of the test's own. */
export function blocksWith(kit: string, blocks: string): SheetBlock[] {
  const result = checkerFor({ 'kits/camera.kit.yaml': kit }).checkAs('shoot', spec(blocks));
  return flat(sheetOf(result, result.film!).blocks);
}

function flat(blocks: readonly SheetBlock[]): SheetBlock[] {
  return blocks.flatMap((one) => [
    one,
    ...(one.kind === 'together' ? flat(one.blocks) : one.kind === 'beside' ? flat(one.columns.flat()) : []),
  ]);
}

export function ticksOf(blocks: readonly SheetBlock[], title: string): readonly string[] {
  return blocks.flatMap((one) => (one.kind === 'ticks' && one.title.startsWith(title) ? one.items : []));
}

/** The values of all facts of a name. */
export function factsOf(blocks: readonly SheetBlock[], name: string): string[] {
  return blocks.flatMap((one) =>
    one.kind === 'facts' ? one.rows.flatMap(([key, value]) => (key === name ? value : [])) : [],
  );
}

/** The rows of the table with such a caption. */
export function rowsOf(blocks: readonly SheetBlock[], caption: string): (readonly string[])[] {
  return blocks.flatMap((one) => (one.kind === 'table' && one.caption.startsWith(caption) ? one.rows : []));
}

export function headingsOf(blocks: readonly SheetBlock[]): string[] {
  return blocks.flatMap((one) => (one.kind === 'heading' ? one.words : []));
}

export function textsOf(blocks: readonly SheetBlock[]): string[] {
  return blocks.flatMap((one) => (one.kind === 'text' ? one.words : []));
}

/** The rows of each list of names and sentences. */
export function listsOf(blocks: readonly SheetBlock[]): (readonly (readonly string[])[])[] {
  return blocks.flatMap((one) => (one.kind === 'list' ? [one.rows] : []));
}
