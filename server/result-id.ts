/** A name for just these findings, so that a client that has them is not sent them again. */
import type { Diagnostic } from 'vscode-languageserver-types';
import { fingerprint } from './formats/fingerprint.ts';

export function resultId(items: readonly Diagnostic[]): string {
  return fingerprint(JSON.stringify(items));
}
