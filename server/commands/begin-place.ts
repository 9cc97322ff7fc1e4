/** Where a new spec goes, and what it is called. */
import { lstatSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileName } from '../features/file-name.ts';
import { placeOf } from './check-file.ts';
import type { Question } from './questions.ts';
import { UsageError } from './usage.ts';

/** Where the spec goes, and the root of its repo, from which paths of kits count. */
export interface Place {
  readonly folder: string;
  readonly root: string;
}

export function placeFor([folder = '.', ...more]: readonly string[]): Place {
  if (more.length > 0) throw new UsageError('Say one folder: `shootspec begin films`.');
  const full = resolve(folder);
  if (!statSync(full, { throwIfNoEntry: false })?.isDirectory())
    throw new UsageError(`There is no folder \`${folder}\`.`);
  return { folder: full, root: placeOf(join(full, 'new.shoot.yaml')).root };
}

export function specFile(folder: string, title: string): string {
  return join(folder, `${fileName(title)}.shoot.yaml`);
}

export function titleQuestion({ folder }: Place): Question<string> {
  return {
    option: 'title',
    text: 'What is the film called?',
    read(typed) {
      const title = typed.trim();
      if (title === '') return { why: 'A film needs a name.' };
      const file = specFile(folder, title);
      return isThere(file) ? { why: `There is \`${file}\` already, and it stays. Choose another name.` } : title;
    },
  };
}

/** A link that leads nowhere is there: it would be written through. */
export function isThere(file: string): boolean {
  return lstatSync(file, { throwIfNoEntry: false }) !== undefined;
}
