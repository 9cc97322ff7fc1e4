/** Paper by country. */
import type { Paper } from './index.ts';

/** Letter is the usual paper of North America and a few more (common practice, no source). */
export function usualPaper(country: string | undefined): Paper {
  return country !== undefined && ['US', 'CA', 'MX', 'PH'].includes(country) ? 'letter' : 'a4';
}
