/** The check of the format as findings, and the slips of keys that are sure. */
import type { Comment, Node, ScalarNode } from '../document/node.ts';
import type { Finding } from '../finding.ts';
import { checkSchema } from './check.ts';
import type { FileKind } from './fields.ts';

export interface FormatFindings {
  readonly findings: Finding[];
  /** Keys that can only be slips, and what they mean. */
  readonly slips: ReadonlyMap<ScalarNode, string>;
}

/** The arguments are those of `checkSchema`. */
export function schemaFindings(
  root: Node,
  kind: FileKind,
  comments: readonly Comment[],
  inPart = false,
): FormatFindings {
  const problems = checkSchema(root, kind, comments, inPart);
  const findings = problems.map(({ rule, message, start, end, fixes }): Finding => ({
    rule,
    severity: 'error',
    message,
    start,
    end,
    related: [],
    fixes,
  }));
  return { findings, slips: new Map(problems.flatMap(({ slip }) => (slip ? [[slip.key, slip.means]] : []))) };
}
