/** Findings and fixes are plain data: every output (editor, text, json, pictures) is made from them alone. */
import type { Range } from './document/node.ts';

/** error: cannot be made or delivered as written · warning: likely a costly mistake · info: worth knowing · hint: a better way. */
export type Severity = 'error' | 'warning' | 'info' | 'hint';

export const severities: readonly Severity[] = ['error', 'warning', 'info', 'hint'];

/** What an eye at the camera judges better than a sum, or what is a usual caution, is told on the sheet for the set alone. */
export type Level = Severity | 'sheet';

export const levels: readonly Level[] = [...severities, 'sheet'];

const weights: Readonly<Record<Severity, number>> = { error: 1e9, warning: 1e6, info: 1e3, hint: 1 };

/** How grave all of them are together, to compare: any number of lesser ones weighs less than one that is graver. */
export function weightOf(findings: readonly { readonly severity: Severity }[]): number {
  return findings.reduce((sum, { severity }) => sum + weights[severity], 0);
}

/** One replacement in the spec that the finding is about; `start` equals `end` for an insertion. */
export interface Edit extends Range {
  readonly text: string;
}

export interface Fix {
  /** Names the result and its price: "Set shutter to 1/50 s (180°), 2 stops brighter". */
  readonly title: string;
  readonly edits: readonly Edit[];
  /** Safe fixes keep meaning and every comment, and join fix-all; the others are offered and never automatic. */
  readonly safe: boolean;
  /** Does its title say for which of the shots it is? */
  readonly isNamed?: boolean;
}

export interface Related extends Range {
  readonly message: string;
  /** Set when the place is in another file (a kit): its path from the repo's root. */
  readonly file?: string;
}

export interface Finding extends Range {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly related: readonly Related[];
  readonly fixes: readonly Fix[];
  /** Is it about what the picture takes in, where the camera stands, and what it is sharp of? */
  readonly isOfPicture?: boolean | undefined;
  /** Which of its rule's messages it is. */
  readonly says?: string | undefined;
  /** The rules that speak in its place, as long as they have something to say. */
  readonly yieldsTo?: readonly string[] | undefined;
  /** How far off it is where its rule says so, in a unit of the rule's own: more is worse. */
  readonly excess?: number | undefined;
  /** Names of the shots that it is about, where it is about shots. */
  readonly shots?: readonly string[] | undefined;
  /** Is it told on the sheet for the set alone, and in no list of findings? */
  readonly isForSet?: boolean | undefined;
  /** What it marks is of no use to anything: editors fade it. */
  readonly isUnused?: boolean | undefined;
}

/** Each once: two are the same where a program that reads them could not tell them apart. */
export function distinct<T>(all: readonly T[]): T[] {
  if (all.length < 2) return [...all];
  const said = new Set<string>();
  return all.filter((one) => {
    const key = JSON.stringify(one);
    return said.has(key) ? false : said.add(key);
  });
}

/** Its rule, with each of its shots where it is about shots. */
export function aboutWhat({ rule, shots }: Finding): string[] {
  return shots && shots.length > 0 ? shots.map((shot) => aboutShot(rule, shot)) : [rule];
}

export function aboutShot(rule: string, shot?: string): string {
  return shot === undefined ? rule : `${rule} ${shot}`;
}
