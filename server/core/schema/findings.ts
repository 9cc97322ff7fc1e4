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
