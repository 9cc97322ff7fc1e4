/**
 * What a rule is: a value that says what it checks, what it rests on and what it can say, and visits the film.
 * Rules are pure: they read the resolved film and report; severity, on-purpose words, accepted findings and the
 * places of fixes are the checker's business.
 */
import type { MeasureName } from './quantities/table.ts';
import type { Range } from './document/node.ts';
import type { Block, Deliverable, Film, LampPlace, Piece, Shot, Title } from './film.ts';
import type { Edit, Level, Related } from './finding.ts';
import type { Footage } from './footage.ts';
import { shownEach } from './say.ts';
import type { MasterFile, Sheets, Take, TakeSheet } from './takes.ts';

export const families = [
  'time',
  'exposure',
  'colour',
  'optics',
  'framing',
  'movement',
  'cut',
  'delivery',
  'logistics',
  'rights',
  'care',
  'names',
  'takes',
] as const;
export type Family = (typeof families)[number];

/** Words of `on-purpose`; each explains one direction of one fault. */
export type PurposeWord =
  | 'staccato-motion'
  | 'smeared-motion'
  | 'shallow-focus'
  | 'deep-focus'
  | 'mixed-light'
  | 'warm-cast'
  | 'cool-cast'
  | 'low-key'
  | 'high-key'
  | 'silhouette'
  | 'tight-framing'
  | 'small-in-frame'
  | 'off-beat'
  | 'grain'
  | 'fast-push-in'
  | 'wide-near'
  | 'frozen-motion'
  | 'flowing-motion'
  | 'jump-cuts'
  | 'soft-picture'
  | 'flat-grade'
  | 'sharp-backdrop'
  | 'uneven-light'
  | 'stuttering-speed';

/** A threshold that the settings file can change: written as a quantity there, a bare number in the unit of `quantity` here. */
export interface Limit {
  readonly quantity: MeasureName;
  /** As it would be written: `40°`, `5 %`. */
  readonly default: string;
  readonly meaning: string;
}

type Placeholders<S extends string> = S extends `${string}{${infer P}}${infer Rest}` ? P | Placeholders<Rest> : never;
/** The numbers and words that a message needs, by the names between its braces. */
export type MessageData<S extends string> = { readonly [P in Placeholders<S>]: string | number };

/** A change to one field. Written where the value stands when that serves everyone who inherits it, else in the block itself. */
export interface FieldChange {
  readonly block: Block;
  readonly key: string;
  readonly text: string;
}

export interface FixIdea {
  readonly title: string;
  /** Its title says what it is for, and in which shots. */
  readonly isNamed?: boolean;
  readonly safe?: boolean;
  readonly set?: readonly FieldChange[];
  /** Items that are added to the list of a field, which is written where there is none. */
  readonly add?: readonly FieldChange[];
  /** Fields that are taken out of the block that says them. */
  readonly remove?: readonly { readonly block: Block; readonly key: string }[];
  readonly edits?: readonly Edit[];
}

/**
 * What brings a fault about: a value or a block, in the spec or in a kit. `as` tells apart what one place can cause in
 * different ways.
 */
export interface Cause extends Range {
  readonly file?: string;
  readonly as?: string;
  /** Set of a block too large to point at: the finding then stands where the worst of the reports does. */
  readonly isWide?: boolean;
}

export interface Report<M extends Record<string, string>, K extends keyof M & string> {
  readonly message: K;
  readonly data: MessageData<M[K]>;
  /** Where to point: the value at fault. One in a kit is related, and the visited block is pointed at instead. */
  readonly at: Range & { readonly file?: string };
  /** When not the rule's own. */
  readonly severity?: Level;
  /** What is marked is of no use to anything. */
  readonly isUnused?: boolean;
  /** How far off it is, in a unit of the rule's own: a fix must make it less, and one of something else not more. */
  readonly excess?: number;
  /**
   * Reports of the rule that have one cause become one finding. It says what the most serious of them says, of those the
   * one with the greatest excess, names all shots (or deliverables), and stands at the cause where they stand apart.
   */
  readonly cause?: Cause;
  readonly related?: readonly Related[];
  /** Best first. A function where they take work to find: it runs when somebody asks for them. */
  readonly fixes?: readonly FixIdea[] | (() => readonly FixIdea[]);
  /** Mends the cause: offered before `fixes` where several reports have it. Is given their shots, that of the worst first. */
  readonly mendCause?: (shots: readonly Shot[]) => readonly FixIdea[];
  /** The on-purpose words that explain this finding away. */
  readonly explainedBy?: readonly PurposeWord[];
  /** Rules besides the rule's own to which this one finding yields. */
  readonly yieldsTo?: readonly string[];
  /** The shot whose on-purpose words count and whose findings yield, when the visited thing is not it or its piece. */
  readonly shot?: Shot;
}

export interface Context<M extends Record<string, string>, L extends Record<string, Limit>> {
  readonly film: Film;
  readonly limits: { readonly [K in keyof L]: number };
  /** Is this said to be on purpose? For rules that check whether what is meant comes out. */
  meant(word: PurposeWord, shot: Shot): boolean;
  report<K extends keyof M & string>(report: Report<M, K>): void;
}

/** What a rule about a take sheet is told: the film is that of its spec. */
export interface SheetContext<M extends Record<string, string>, L extends Record<string, Limit>> extends Context<M, L> {
  readonly sheet: TakeSheet;
  /** All sheets of the spec, this one among them: that of the newest day last. */
  readonly sheets: Sheets;
  /** Undefined where nobody looks at clips: then nothing is said about any. */
  readonly footage?: Footage | undefined;
  /** Days since 1970-01-01; undefined where it is not known. */
  readonly today?: number | undefined;
}

export interface RuleSpec<M extends Record<string, string>, L extends Record<string, Limit>> {
  readonly id: string;
  readonly family: Family;
  /** One line: what goes wrong. */
  readonly summary: string;
  readonly severity: Level;
  /** Published sources, or "common practice, no source". */
  readonly sources: readonly string[];
  /** Each with the data it needs between braces: `{shot}: {shutter} is {angle}.` */
  readonly messages: M;
  readonly limits?: L;
  /** Rules whose finding on the same shot, piece or deliverable makes this one silent: one cause, one finding. */
  readonly yieldsTo?: readonly string[];
  film?(film: Film, context: Context<M, L>): void;
  shot?(shot: Shot, context: Context<M, L>): void;
  piece?(piece: Piece, context: Context<M, L>): void;
  deliverable?(deliverable: Deliverable, context: Context<M, L>): void;
  lamp?(lamp: LampPlace, context: Context<M, L>): void;
  title?(title: Title, context: Context<M, L>): void;
  /** The sheet that is checked. */
  sheet?(sheet: TakeSheet, context: SheetContext<M, L>): void;
  /** Each take of the sheet that is checked. */
  take?(take: Take, context: SheetContext<M, L>): void;
  /** The newest file of each deliverable. */
  master?(master: MasterFile, context: SheetContext<M, L>): void;
}

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- the one place where rules of all shapes meet
export type Rule = RuleSpec<any, any>;

const none: readonly string[] = [];

/** The rules that a report yields to: those that its rule always does, and its own. */
export function causesOf({
  rule,
  report,
}: {
  rule: Rule;
  report: { yieldsTo?: readonly string[] };
}): readonly string[] {
  const [always, here] = [(rule.yieldsTo as readonly string[] | undefined) ?? none, report.yieldsTo ?? none];
  return here.length === 0 ? always : [...always, ...here];
}

/** Gives a rule its types: a message key or a placeholder that does not exist fails to compile. */
export function defineRule<const M extends Record<string, string>, const L extends Record<string, Limit>>(
  rule: RuleSpec<M, L>,
): RuleSpec<M, L> {
  const { id, family, summary, severity, sources, messages, limits, yieldsTo, ...visits } = rule;
  const { film, shot, piece, deliverable, lamp, title, sheet, take, master } = visits;
  const about = { id, family, summary, severity, sources, messages, limits, yieldsTo };
  // All are of one shape, whatever they leave out: every rule is asked for all of this at each key.
  return { ...about, film, shot, piece, deliverable, lamp, title, sheet, take, master } as RuleSpec<M, L>;
}

/** Fills the braces of a message. */
export function fill(template: string, data: Readonly<Record<string, string | number>>): string {
  return template.replace(/\{([A-Za-z0-9]+)\}/g, (whole, name: string) => shownEach(String(data[name] ?? whole)));
}

/** A fix that changes fields: `set('Set shutter to 1/50 s (180°)', [shot.camera, 'shutter', '1/50 s'])`. */
export function set(title: string, ...changes: readonly (readonly [Block, string, string])[]): FixIdea {
  return { title, set: changes.map(([block, key, text]) => ({ block, key, text })) };
}
