import type { Range } from './document/node.ts';

/** A value and where it is written: in the spec, or in the kit that `file` names. */
export interface Val<T> extends Range {
  readonly value: T;
  /** As the user wrote it. */
  readonly text: string;
  /** The kit's path from the repo's root; absent for the spec itself. */
  readonly file?: string;
}
