/** Translations of the rules' messages: files beside the bundle, one for each language that somebody has made. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * What findings.LOCALE.json holds, for `pt-BR` that of `pt-br` or of `pt`; undefined where there is none.
 * @param folder where the translations are
 * @param locale as a client says it, so it may be anything
 */
export function textsFor(folder: string, locale: string): unknown {
  if (!/^[a-z0-9]+(?:[-_][a-z0-9]+)*$/i.test(locale) || locale.length > 40) return undefined;
  const parts = locale.toLowerCase().split(/[-_]/);
  const names = parts.map((_, index) => parts.slice(0, parts.length - index).join('-'));
  for (const name of names) {
    try {
      return JSON.parse(readFileSync(join(folder, `findings.${name}.json`), 'utf8'));
    } catch {
      // Nobody has made it, or it can't be read.
    }
  }
  return undefined;
}
