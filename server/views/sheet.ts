/** The printable sheet of a checked spec. */
import type { CheckResult } from '../core/checker.ts';
import { sheetOf } from './sheet/content.ts';
import { sheetHtml } from './sheet/html.ts';

/** One HTML file; undefined for a spec that could not be read. */
export function sheetText(result: CheckResult): string | undefined {
  return result.film && sheetHtml(sheetOf(result, result.film, true));
}
