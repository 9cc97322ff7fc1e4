/** Places of the protocol (lines and characters) as offsets of the editor's text, and back. */
import type { Text } from '@codemirror/state';
import type { Position, Range } from 'vscode-languageserver-types';

export function offsetOf(doc: Text, { line, character }: Position): number {
  if (line >= doc.lines) return doc.length;
  const { from, to } = doc.line(line + 1);
  return Math.min(from + character, to);
}

export function spanOf(doc: Text, { start, end }: Range): { from: number; to: number } {
  return { from: offsetOf(doc, start), to: offsetOf(doc, end) };
}

export function positionOf(doc: Text, offset: number): Position {
  const { from, number } = doc.lineAt(offset);
  return { line: number - 1, character: offset - from };
}
