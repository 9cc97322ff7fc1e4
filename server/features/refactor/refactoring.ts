/** What a refactoring is asked about, and what it answers: text edits only, so that every comment stays. */
import type { CheckResult } from '../../core/checker.ts';
import type { Doc } from '../../core/document/parse.ts';
import type { FileEdits } from '../rename.ts';

export interface RefactoringRequest {
  readonly result: CheckResult;
  readonly offset: number;
  /** Another file of the repo, by its path, where it can be read as it should be. */
  file(path: string): Doc | undefined;
}

export interface Refactoring {
  readonly title: string;
  /** Of one that a command asks for: it is a proposal, which is looked at before it is made. */
  readonly kind?: string;
  readonly files: readonly FileEdits[];
}
