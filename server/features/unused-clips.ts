/** The clips of a sheet's folder that no sheet of its spec names yet: what is still to be entered. */
import type { SheetChecked } from '../core/runner.ts';
import type { ClipState } from '../core/footage.ts';
import type { Sheets } from '../core/takes.ts';

export interface UnusedClip {
  /** Below the sheet's folder. */
  readonly name: string;
  readonly state: ClipState;
}

/** In the order of their recording as far as that is known, then by name; sound alone is among them. */
export function unusedClips({ sheet, sheets, footage }: SheetChecked): UnusedClip[] {
  if (!footage) return [];
  const used = usedPaths(sheets);
  const below = sheet.folder ? `${sheet.folder.value.replace(/\/+$/, '')}/` : '';
  const clips = footage
    .entries()
    .filter(({ path }) => !used.has(path) && path.startsWith(below))
    .map(({ path }) => ({ name: path.slice(below.length), state: footage.clip(path) }));
  return clips.sort((a, b) => recordedAtMs(a) - recordedAtMs(b) || (a.name < b.name ? -1 : 1));
}

function recordedAtMs({ state }: UnusedClip): number {
  return (state.kind === 'facts' ? state.facts.recordedAtMs : undefined) ?? Number.MAX_SAFE_INTEGER;
}

function usedPaths(sheets: Sheets): ReadonlySet<string> {
  const takes = sheets.flatMap((sheet) => sheet.takes);
  return new Set(
    takes.flatMap(({ clips, sound }) => [...clips, ...(sound?.path ? [sound.path] : [])].map((one) => one.value)),
  );
}
