/** Reports made by hand, for outputs. */
import type { FileReport, Reported } from '../../server/formats/report.ts';
import { fingerprint } from '../../server/formats/fingerprint.ts';

export function finding(over: Partial<Reported> = {}): Reported {
  const { rule = 'shutter-off-half-frame', message = 'spin: 1/200 s is 45°.' } = over;
  return {
    rule,
    severity: 'warning',
    message,
    line: 3,
    column: 5,
    endLine: 3,
    endColumn: 12,
    fingerprint: fingerprint('a.shoot.yaml', rule, message),
    source: { text: '    shutter: 1/200 s', column: 1 },
    related: [],
    fixes: [],
    ...over,
  };
}

export function report(findings: readonly Reported[], over: Partial<FileReport> = {}): FileReport {
  return { file: 'films/a.shoot.yaml', failAt: 'error', findings, silenced: [], dependsOn: [], ...over };
}

export const withFix = finding({
  fixes: [
    {
      title: 'Set shutter to 1/50 s (180°)',
      safe: false,
      edits: [{ line: 3, column: 14, endLine: 3, endColumn: 21, text: '1/50 s' }],
    },
  ],
  related: [
    { file: 'kits/a.kit.yaml', message: 'as the kit says' },
    { file: 'films/a.shoot.yaml', message: 'here too', place: { line: 9, column: 1, endLine: 9, endColumn: 2 } },
  ],
});
