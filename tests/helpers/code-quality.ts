/**
 * What GitLab takes as a code quality report. Required fields and the words of `severity`: GitLab Docs, "Code Quality", "Code
 * Quality report format"; the types: `app/validators/json_schemas/codeclimate.json` of gitlabhq/gitlabhq, against which GitLab
 * itself holds each entry. `path` is relative to the repo, and begins with no `./`.
 */
import Ajv from 'ajv';

const text = { type: 'string', minLength: 1 };
const valid = new Ajv({ allErrors: true }).compile({
  type: 'array',
  items: {
    type: 'object',
    required: ['description', 'check_name', 'fingerprint', 'severity', 'location'],
    properties: {
      description: text,
      check_name: text,
      fingerprint: text,
      severity: { enum: ['info', 'minor', 'major', 'critical', 'blocker'] },
      location: {
        type: 'object',
        required: ['path', 'lines'],
        properties: {
          path: { type: 'string', pattern: '^(?!\\./|/|\\.\\./).+' },
          lines: { type: 'object', required: ['begin'], properties: { begin: { type: 'integer', minimum: 1 } } },
        },
      },
    },
  },
});

export function codeQualityFaults(report: string): object[] {
  const entries = JSON.parse(report) as { fingerprint: string }[];
  if (!valid(entries)) return valid.errors ?? [];
  const seen = new Set(entries.map(({ fingerprint }) => fingerprint));
  return seen.size === entries.length ? [] : [{ message: 'two entries have one fingerprint' }];
}
