/** Where completion is asked for, and what is known there. */
import type { LineMap } from '../../core/document/lines.ts';
import type { SheetChecked } from '../../core/runner.ts';
import type { Rule } from '../../core/rule.ts';
import type { FileKind } from '../../core/schema/fields.ts';
import type { FileContext } from '../navigation.ts';
import type { TrialContext } from './trial.ts';

export interface Ask {
  readonly kind: FileKind;
  readonly text: string;
  readonly lines: LineMap;
  readonly offset: number;
  /** Names and files, from the last text that could be read. */
  readonly here: FileContext;
  readonly rules: readonly Rule[];
  /** For trying values; absent where nothing could be read yet. */
  readonly base?: TrialContext;
  /** A take sheet with what was shot so far, from the last text that could be read. */
  readonly sheet?: SheetChecked | undefined;
}
