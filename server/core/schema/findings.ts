/** The check of the format as findings, and the slips of keys that are sure. */
import type { Node, ScalarNode } from '../document/node.ts';
import type { Problem } from '../document/problem.ts';
import type { Finding } from '../finding.ts';
import { checkSchema, type SchemaCheckResult } from './check.ts';
import type { FileKind } from './fields.ts';

export interface FormatFindings extends Omit<SchemaCheckResult, 'problems'> {
  readonly findings: Finding[];
  /** Keys that can only be slips, and what they mean. */
  readonly slips: ReadonlyMap<ScalarNode, string>;
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
  const slips = new Map(problems.flatMap(({ slip }) => (slip ? [[slip.key, slip.means]] : [])));
  return { findings, slips, values, complaints };
}
