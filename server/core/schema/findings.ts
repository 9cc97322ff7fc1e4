/** The check of the format as findings, and what is meant by what is not written as the format wants it. */
import type { Node } from '../document/node.ts';
import type { Problem } from '../document/problem.ts';
import { insertPair } from '../document/edits.ts';
import type { Finding, Fix } from '../finding.ts';
import { listText } from '../say.ts';
import { checkSchema, type SchemaProblem } from './check.ts';
import type { FileKind } from './fields.ts';

export interface FormatFindings {
  readonly findings: Finding[];
  /** Keys and values that are not written as the format wants them, but of which it is plain what they mean. */
  readonly slips: ReadonlyMap<Node, string>;
  /** Values that can't be read, and texts as they usually are. */
  readonly doubts: ReadonlyMap<Node, string>;
  /** Values from which nothing may be computed. */
  readonly refused: ReadonlySet<Node>;
}

/** The arguments are those of `checkSchema`, and the text that the document was read from. */
export function schemaFindings(
  root: Node,
  kind: FileKind,
  textProblems: readonly Problem[],
  text: string,
): FormatFindings {
  const { problems, refused } = checkSchema(root, kind, textProblems);
  const findings = problems.map(({ rule, message, start, end, fixes, lacks }): Finding => ({
    rule,
    severity: 'error',
    message,
    start,
    end,
    related: [],
    // Of a text that is read as it is meant, nobody knows where another line of a block would stand.
    fixes: lacks && textProblems.length === 0 ? [addExamples(lacks, text)] : fixes,
  }));
  const slips = new Map(problems.flatMap(({ slip }) => (slip ? [[slip.node, slip.means]] : [])));
  const doubts = new Map(problems.flatMap(({ doubt }) => (doubt ? [[doubt.node, doubt.usual]] : [])));
  return { findings, slips, doubts, refused };
}

/** The keys that a block lacks, with examples of what they may say, to be written over. */
function addExamples({ block, keys }: NonNullable<SchemaProblem['lacks']>, text: string): Fix {
  const names = keys.map(({ key, example }) => `\`${key}: ${example}\``);
  const title = `Add ${listText(names)}, to be written over`;
  const [first, ...more] = keys;
  const rest = more.map(({ key, example }) => `, ${key}: ${example}`).join('');
  const edits = block.flow
    ? insertPair(text, block, first!.key, first!.example + rest)
    : keys.flatMap(({ key, example }) => insertPair(text, block, key, example));
  return { title, edits, safe: false };
}

/** A name that can't be one may stand in several places: it is offered to write it alike in all of them. */
export function withNamesTogether(findings: readonly Finding[], text: string): Finding[] {
  const places = new Map<string, Finding[]>();
  const keyOf = ({ start, end, fixes }: Finding) => `${text.slice(start, end)} ${fixes[0]?.title}`;
  for (const one of findings) {
    if (one.rule !== 'bad-name' || one.fixes.length === 0) continue;
    const alike = places.get(keyOf(one));
    if (alike) alike.push(one);
    else places.set(keyOf(one), [one]);
  }
  return findings.map((one) => {
    const alike = one.rule === 'bad-name' ? places.get(keyOf(one)) : undefined;
    if (!alike || alike.length < 2 || alike.length > mostPlaces) return one;
    const [own] = one.fixes;
    const title = `${own!.title} in ${alike.length} places`;
    const edits = alike.flatMap(({ fixes }) => fixes[0]!.edits);
    return { ...one, fixes: [{ title, edits, safe: false }, ...one.fixes] };
  });
}

/** A name in more places than this is no slip of the finger. */
const mostPlaces = 100;
