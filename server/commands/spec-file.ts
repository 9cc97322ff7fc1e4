/** One spec named on the command line, checked, for commands that show it in another form. */
import { resolve } from 'node:path';
import { Checker, type CheckResult } from '../core/checker.ts';
import type { Film } from '../core/film.ts';
import { kindOf } from '../core/paths.ts';
import { History } from '../history.ts';
import { placeOf, readText } from './check-file.ts';
import { expand } from './files.ts';
import { sayWhy, UsageError } from './usage.ts';

export interface CheckedSpec {
  /** Its full path, and that of the repo's root. */
  readonly file: string;
  readonly root: string;
  readonly result: CheckResult;
  readonly film: Film;
}

/** The only spec that the arguments name. */
export async function checkedSpec(paths: readonly string[], example: string): Promise<CheckedSpec> {
  const [path, ...more] = paths;
  if (path === undefined || more.length > 0) throw new UsageError(`Say which spec: \`${example}\`.`);
  const [file = resolve(path), ...others] = await expand([path], sayWhy);
  const { checker, root, path: inRepo } = placeOf(file);
  if (others.length > 0 || kindOf(inRepo) !== 'shoot')
    throw new UsageError(`\`${path}\` is no spec: their names end in \`.shoot.yaml\`.`);
  const result = await withHistory(checker, root, inRepo, readText(file));
  const { film } = result;
  if (!film)
    throw new UsageError(`\`${path}\` can't be read: ${result.findings[0]?.message ?? 'there is nothing in it.'}`);
  return { file, root, result, film };
}

/** With the plan that was agreed to, where it names one. */
async function withHistory(checker: Checker, root: string, path: string, text: string): Promise<CheckResult> {
  const result = checker.check(path, text)!;
  if (!result.film?.agreed) return result;
  const history = new History();
  const earlier = (spec: string, revision: string) => history.of(root, spec, revision);
  const asking = new Checker(checker.host, checker.rules, { ...checker.outside, earlier });
  asking.check(path, text);
  await history.settled();
  return asking.check(path, text)!;
}
