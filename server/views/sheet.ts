/** A checked spec on paper, for whoever makes the film or for whom it is made. */
import type { CheckResult } from '../core/checker.ts';
import type { Film } from '../core/film.ts';
import { clientPlanOf } from './client-plan/content.ts';
import type { Sheet } from './sheet/blocks.ts';
import { sheetOf } from './sheet/content.ts';
import { sheetHtml } from './sheet/html.ts';

/** The sheet to take on set where nobody else is said to read it. */
export function paperFor(result: CheckResult, film: Film, reader?: 'client'): Sheet {
  return reader === 'client' ? clientPlanOf(result, film) : sheetOf(result, film, true);
}

/** The same as one HTML file; undefined for a spec that could not be read. */
export function sheetText(result: CheckResult, reader?: 'client'): string | undefined {
  return result.film && sheetHtml(paperFor(result, result.film, reader));
}
