/** The check of the format as findings, and what is meant by what is not written as the format wants it. */
import type { Node, ScalarNode } from '../document/node.ts';
import type { Problem } from '../document/problem.ts';
import type { Finding } from '../finding.ts';
import { checkSchema, type SchemaCheckResult } from './check.ts';
import type { FileKind } from './fields.ts';

export interface FormatFindings extends Omit<SchemaCheckResult, 'problems'> {
  readonly findings: Finding[];
  /** Keys and values that are not written as the format wants them, but of which it is plain what they mean. */
  readonly slips: ReadonlyMap<ScalarNode, string>;
  /** Values that can't be read, and texts as they usually are. */
  readonly doubts: ReadonlyMap<ScalarNode, string>;
}

/** The arguments are those of `checkSchema`. */
export function schemaFindings(
  root: Node,
  kind: FileKind,
  textProblems: readonly Problem[],
  inPart = false,
): FormatFindings {
  const { problems, values, complaints } = checkSchema(root, kind, textProblems, inPart);
  const findings = problems.map(({ rule, message, start, end, fixes }): Finding => ({
    rule,
    severity: 'error',
    message,
    start,
    end,
    related: [],
    fixes,
  }));
  const slips = new Map(problems.flatMap(({ slip }) => (slip ? [[slip.node, slip.means]] : [])));
  const doubts = new Map(problems.flatMap(({ doubt }) => (doubt ? [[doubt.node, doubt.usual]] : [])));
  return { findings, slips, doubts, values, complaints };
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
