/** Many files, checked one after the other. The films of one maker are often alike: what they share is read once. */
import type { Checker, CheckResult } from '../checker.ts';
import { LineMap } from '../document/lines.ts';
import type { FileKind } from '../paths.ts';
import type { Settings } from '../settings.ts';
import { cut } from './cut.ts';
import type { Stretch } from './stretch.ts';
import { Stretches } from './stretches.ts';

/** So many characters of specs are kept, some 70 specs: memory must not grow with the number of files. */
const mostKept = 500_000;

/** Checks each file as `Checker.checkAs` does. */
export function inTurn(checker: Checker): (kind: FileKind, text: string, settings: Settings) => CheckResult {
  const met = new MetBefore();
  return (kind, text, settings) => {
    const read = kind === 'shoot' ? met.read(text) : undefined;
    if (!read) return checker.checkAs(kind, text, settings);
    const { written, meant } = read.trees();
    const [comments, problems] = [read.comments(), read.problems()];
    const doc = { text, root: written, comments, problems, lines: new LineMap(text, read.lineStarts()), broken: false };
    return checker.checkSpec(doc, meant, [...problems, ...read.faults()], settings);
  };
}

/** The stretches of the specs before, by their texts. */
class MetBefore {
  /** Undefined: met, and not yet read by itself. */
  readonly #stretches = new Map<string, Stretch | undefined>();
  #kept = 0;

  /** Reads a spec of which most was met before. Any other is read faster as a whole than in stretches: undefined. */
  read(text: string): Stretches | undefined {
    const texts = (cut(text) ?? []).map((one) => one.text);
    const known = texts.filter((one) => this.#stretches.has(one));
    const isAlike = lengthOf(known) > text.length / 2;
    const read = isAlike
      ? Stretches.of(
          text,
          known.flatMap((one) => this.#stretches.get(one) ?? []),
        )
      : undefined;
    if (known.length < texts.length) this.#kept += text.length;
    if (this.#kept > mostKept) {
      this.#stretches.clear();
      this.#kept = 0;
    }
    for (const one of texts) if (!this.#stretches.has(one)) this.#stretches.set(one, undefined);
    for (const one of read?.all ?? []) this.#stretches.set(one.text, one);
    return read;
  }
}

function lengthOf(texts: readonly string[]): number {
  return texts.reduce((sum, one) => sum + one.length, 0);
}
