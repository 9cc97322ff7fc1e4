/**
 * The baseline of an old repo: the findings that were there when checking began, so that only new ones count. An entry
 * knows the file, the rule and the words of a finding, and no line, so that it stays true when lines are added above.
 */
import { fingerprint } from './fingerprint.ts';
import { json } from './escape.ts';
import type { FileReport, Reported, ReportedSilenced } from './report.ts';

export interface Entry {
  /** From the folder of the baseline, with forward slashes. */
  readonly file: string;
  readonly rule: string;
  /** Of the message. */
  readonly fingerprint: string;
  readonly count: number;
}

/** Reads a baseline; undefined for a text that is none. */
export function readBaseline(text: string): Entry[] | undefined {
  try {
    const { entries } = JSON.parse(text) as { entries: unknown };
    return Array.isArray(entries) && entries.every(isEntry) ? entries : undefined;
  } catch {
    return undefined;
  }
}

function isEntry(value: unknown): value is Entry {
  const { file, rule, fingerprint: print, count } = (value ?? {}) as Partial<Record<keyof Entry, unknown>>;
  return (
    typeof file === 'string' &&
    typeof rule === 'string' &&
    typeof print === 'string' &&
    typeof count === 'number' &&
    Number.isInteger(count) &&
    count > 0
  );
}

/** A baseline of all that is found now, sorted so that the same findings give the same bytes. */
export function writeBaseline(reports: readonly FileReport[], fileOf: (file: string) => string): string {
  const counts = new Map<string, Entry>();
  for (const { file, findings } of reports) {
    for (const finding of findings) {
      const entry = entryOf(fileOf(file), finding);
      const known = counts.get(keyOf(entry));
      counts.set(keyOf(entry), known ? { ...known, count: known.count + 1 } : entry);
    }
  }
  const entries = [...counts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, entry]) => entry);
  return json({ entries });
}

export interface Compared {
  readonly reports: FileReport[];
  /** Entries of files that were looked at (or are gone) and that fewer findings have than they count. */
  readonly unused: Entry[];
}

/** Takes what the baseline knows out of the findings, each as often as it counts. */
export function withoutKnown(
  reports: readonly FileReport[],
  entries: readonly Entry[],
  fileOf: (file: string) => string,
  isGone: (file: string) => boolean,
): Compared {
  const left = new Map(entries.map((entry) => [keyOf(entry), entry.count]));
  const take = (file: string, finding: Reported): boolean => {
    const key = keyOf(entryOf(file, finding));
    const count = left.get(key) ?? 0;
    if (count > 0) left.set(key, count - 1);
    return count > 0;
  };
  const compared = reports.map((report): FileReport => {
    const file = fileOf(report.file);
    const known = new Set(report.findings.filter((finding) => take(file, finding)));
    const silenced = [...known].map((one): ReportedSilenced => ({ ...one, why: { kind: 'baseline', text: '' } }));
    return {
      ...report,
      findings: report.findings.filter((finding) => !known.has(finding)),
      silenced: [...report.silenced, ...silenced],
    };
  });
  const looked = new Set(reports.map((report) => fileOf(report.file)));
  const unused = entries
    .map((entry) => ({ ...entry, count: left.get(keyOf(entry)) ?? 0 }))
    .filter(({ file, count }) => count > 0 && (looked.has(file) || isGone(file)));
  return { reports: compared, unused };
}

function entryOf(file: string, { rule, message }: Reported): Entry {
  return { file, rule, fingerprint: fingerprint(message), count: 1 };
}

function keyOf({ file, rule, fingerprint: print }: Entry): string {
  return `${file}\n${rule}\n${print}`;
}
