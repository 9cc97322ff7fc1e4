import type { Val } from '../../core/film.ts';
import type { Footage } from '../../core/footage.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import type { TakeSheet } from '../../core/takes.ts';

export default defineRule({
  id: 'not-decoded',
  family: 'takes',
  summary: 'Sound and picture of clips were to be looked at and could not be.',
  severity: 'info',
  sources: ['the checks themselves: what was not looked at is said'],
  messages: {
    missing:
      'There is no `ffmpeg` on the path, so sound and picture were not looked at: loudness, clipped sound, flashes, light that pulses, clipped and repeated frames, cuts. Debian and Ubuntu: `sudo apt install ffmpeg`. Fedora: `sudo dnf install ffmpeg-free`. macOS: `brew install ffmpeg`. Windows: `winget install ffmpeg`.',
    failed: '{file}: sound and picture could not be looked at, or not all of them: {why}.',
  },
  sheet(sheet, { footage, report }) {
    if (!footage) return;
    const files = filesOf(sheet);
    if (footage.decoder === 'missing') {
      // What was measured before it went is known.
      const first = files.find(({ at, of }) => !footage.decoded(of, at.value));
      if (first) report({ message: 'missing', data: {}, at: first.at });
    }
    for (const { at, of } of files) {
      const why = whyNot(at, of, footage);
      if (why) report({ message: 'failed', data: { file: quoted(at.text), why }, at });
    }
  },
});

interface NamedFile {
  readonly of: 'clip' | 'master';
  readonly at: Val<string>;
}

/** Each once, where it is named first. */
function filesOf({ takes, masters }: TakeSheet): NamedFile[] {
  const named = [
    ...takes
      .flatMap(({ clips, sound }) => [...clips, ...(sound?.path ? [sound.path] : [])])
      .map((at) => ({ of: 'clip' as const, at })),
    ...masters.map(({ path }) => ({ of: 'master' as const, at: path })),
  ];
  const first = new Map<string, NamedFile>();
  for (const one of named) {
    const key = `${one.of} ${one.at.value}`;
    if (!first.has(key)) first.set(key, one);
  }
  return [...first.values()];
}

/** What is wrong with the container is said by itself. */
function whyNot({ value }: Val<string>, of: 'clip' | 'master', footage: Footage): string | undefined {
  const state = of === 'clip' ? footage.clip(value) : footage.master(value);
  return state.kind === 'facts' ? footage.decoded(of, value)?.failed : undefined;
}
