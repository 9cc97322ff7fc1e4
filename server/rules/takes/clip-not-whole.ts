import { again } from '../../core/derived/recorded-clips.ts';
import type { ClipState } from '../../core/footage.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import type { Recording, TakeSheet } from '../../core/takes.ts';

export default defineRule({
  id: 'clip-not-whole',
  family: 'takes',
  summary: 'A clip is empty, broken off or can’t be read, or is still being copied.',
  severity: 'error',
  sources: ['ISO/IEC 14496-12: boxes and their lengths'],
  messages: {
    empty:
      '{clip} is an empty file: nothing was recorded, or the copy failed. Copy it again from the card, else {again}.',
    broken: '{clip} can’t be read: {why}. Copy it again from the card and compare the sizes, else {again}.',
    growing: '{clip} is still being written or copied. It is looked at when it is whole.',
    many: 'From {clip} on the clips are not looked at: the sheets of this folder name more of them than are read.',
  },
  sheet(sheet, { footage, report }) {
    if (!footage) return;
    let tooMany = false;
    for (const clip of named(sheet)) {
      const state = footage.clip(clip.value);
      const data = { clip: quoted(clip.text), again };
      if (state.kind === 'empty') report({ message: 'empty', data, at: clip });
      if (state.kind === 'unreadable') report({ message: 'broken', data: { ...data, why: state.why }, at: clip });
      if (state.kind === 'growing') report({ message: 'growing', data, at: clip, severity: 'info' });
      if (isFirstTooMany(state, tooMany)) report({ message: 'many', data, at: clip, severity: 'info' });
      tooMany ||= state.kind === 'too-many';
    }
  },
});

function isFirstTooMany({ kind }: ClipState, before: boolean): boolean {
  return kind === 'too-many' && !before;
}

function named({ takes }: TakeSheet): Recording[] {
  const all = takes.flatMap(({ clips, sound }) => [...clips, ...(sound?.path ? [sound.path] : [])]);
  return [...new Map([...all].reverse().map((clip) => [clip.value, clip])).values()].sort((a, b) => a.start - b.start);
}
