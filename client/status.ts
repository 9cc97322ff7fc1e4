/** Shows, beside the language's name, how many findings the file in front has and whether the checker runs. */
import * as vscode from 'vscode';
import { State } from 'vscode-languageclient';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';

const source = 'shoot spec';

/** @param documents those that are checked */
export function showStatus(client: LanguageClient, documents: vscode.DocumentSelector): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('shootSpec.findings', documents);
  item.name = 'Shoot Spec';
  const show = (): void => update(item, client.state);
  show();
  return vscode.Disposable.from(
    item,
    client.onDidChangeState(show),
    vscode.languages.onDidChangeDiagnostics(show),
    vscode.window.onDidChangeActiveTextEditor(show),
  );
}

function update(item: vscode.LanguageStatusItem, state: State): void {
  item.busy = state === State.Starting;
  if (state === State.Stopped) {
    item.text = vscode.l10n.t('Checker stopped');
    item.severity = vscode.LanguageStatusSeverity.Error;
    item.command = { command: 'shootSpec.restart', title: vscode.l10n.t('Restart') };
    return;
  }
  const uri = vscode.window.activeTextEditor?.document.uri;
  const findings = uri ? vscode.languages.getDiagnostics(uri).filter((finding) => finding.source === source) : [];
  const counts = count(findings);
  item.text = describe(counts);
  item.severity = severityOf(counts);
  item.command = { command: 'workbench.actions.view.problems', title: vscode.l10n.t('Show findings') };
}

interface Counts {
  readonly errors: number;
  readonly warnings: number;
  readonly others: number;
}

function count(findings: readonly vscode.Diagnostic[]): Counts {
  const errors = findings.filter((finding) => finding.severity === vscode.DiagnosticSeverity.Error).length;
  const warnings = findings.filter((finding) => finding.severity === vscode.DiagnosticSeverity.Warning).length;
  return { errors, warnings, others: findings.length - errors - warnings };
}

function describe({ errors, warnings, others }: Counts): string {
  const parts = [
    errors === 1 ? vscode.l10n.t('1 error') : errors > 1 ? vscode.l10n.t('{0} errors', errors) : '',
    warnings === 1 ? vscode.l10n.t('1 warning') : warnings > 1 ? vscode.l10n.t('{0} warnings', warnings) : '',
    others === 1 ? vscode.l10n.t('1 note') : others > 1 ? vscode.l10n.t('{0} notes', others) : '',
  ].filter((part) => part !== '');
  return parts.length > 0 ? parts.join(', ') : vscode.l10n.t('Nothing found');
}

function severityOf({ errors, warnings }: Counts): vscode.LanguageStatusSeverity {
  if (errors > 0) return vscode.LanguageStatusSeverity.Error;
  return warnings > 0 ? vscode.LanguageStatusSeverity.Warning : vscode.LanguageStatusSeverity.Information;
}
