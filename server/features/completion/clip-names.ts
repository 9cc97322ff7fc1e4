/** What is still to be entered in a take sheet: clips that no sheet names. */
import type { ClipState } from '../../core/footage.ts';
import { type Field, fieldAt, type FieldPath, rawAt } from '../../core/schema/fields.ts';
import { num, secondsText } from '../../core/say.ts';
import { unusedClips } from '../unused-clips.ts';
import type { Ask } from './ask.ts';
import type { InsertionPoint } from './insertion-point.ts';
import { type Item, nameText } from './item.ts';
import { type Frame, placeOf } from './keys.ts';
import type { KnownName } from './known-names.ts';

const mostClips = 200;

/** Clips, files of sound, or folders below the footage folder, each with what is known of it. */
export function clipNames(field: Field, { sheet }: Ask): KnownName[] {
  if (field.quantity !== 'clip' || !sheet?.footage) return [];
  if (field.key === 'folder') return folders(sheet.footage.entries());
  const isSound = field.key !== 'clip';
  const all = unusedClips(sheet).filter(({ state }) => state.kind !== 'facts' || isSound === !state.facts.video);
  return all.slice(0, mostClips).map(({ name, state }) => ({ name, what: whatIs(state) }));
}

/** `13 s · 3840x2160 · 25 fps · 10:05`. */
function whatIs(state: ClipState): string {
  if (state.kind !== 'facts') return stateWords[state.kind] ?? 'clip';
  const { durationS, video, recordedAtMs } = state.facts;
  const facts = [secondsText(durationS, 1)];
  if (video) facts.push(`${video.raster.width}x${video.raster.height}`, `${num(video.rate, 2)} fps`);
  if (recordedAtMs !== undefined) facts.push(new Date(recordedAtMs).toISOString().slice(11, 16));
  return facts.join(' · ');
}

const stateWords: Partial<Record<ClipState['kind'], string>> = {
  pending: 'clip, being read',
  growing: 'clip, still being written',
  empty: 'empty file',
  unreadable: 'clip that can’t be read',
};

function folders(entries: readonly { readonly path: string }[]): KnownName[] {
  const counts = new Map<string, number>();
  for (const { path } of entries) {
    const folder = path.slice(0, Math.max(0, path.lastIndexOf('/')));
    if (folder !== '') counts.set(folder, (counts.get(folder) ?? 0) + 1);
  }
  return [...counts].map(([name, count]) => ({ name, what: count === 1 ? '1 clip' : `${count} clips` }));
}

/** Is it a file below the footage folder? */
export function isClip({ sheet }: Ask, name: string): boolean {
  const folder = sheet?.sheet.folder?.value.replace(/\/+$/, '');
  const path = folder === undefined ? name : `${folder}/${name}`;
  return sheet?.footage?.entries().some((entry) => entry.path === path) ?? false;
}

/** Clips that may stand for the whole block at a path: a take written as its clip alone. */
export function aloneNames(path: FieldPath, ask: Ask): KnownName[] {
  const isList = rawAt(ask.kind, path)?.['x-alone'] === true;
  const block = isList ? [...path, 0] : path;
  const key = rawAt(ask.kind, block)?.['x-short'];
  const field = key === undefined ? undefined : fieldAt(ask.kind, [...block, key]);
  return field ? clipNames(field, ask) : [];
}

/** The same where a key may stand too: before the first key of a block. */
export function aloneItems(ask: Ask, spot: InsertionPoint, frame: Frame): Item[] {
  if (spot.siblings.size > 0 || frame.hasColon) return [];
  return aloneNames(spot.path, ask).map(({ name, what }) => ({
    label: name,
    kind: 'path' as const,
    detail: what,
    text: frame.before + nameText(name),
    isSnippet: false,
    more: false,
    ...placeOf(frame),
  }));
}
