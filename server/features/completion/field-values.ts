/** What completion knows of the values of one field. */
import type { Film, Shot } from '../../core/film.ts';
import type { FieldPath } from '../../core/schema/fields.ts';

export interface ValueContext {
  readonly film: Film;
  readonly path: FieldPath;
  /** The shots that the value bears on; one of the film where it is not known which. */
  readonly shots: readonly Shot[];
}

export interface FieldValues {
  texts(context: ValueContext): readonly string[];
  /** What a value means, told by the film as it would be with it; empty where nothing is known. */
  note(context: ValueContext, text: string): string;
}
