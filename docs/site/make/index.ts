/** All pages of the site, as text: its scripts and styles are bundled beside. */
import { pageHtml as panelHtml } from '../../../client/panel/page.ts';
import { panelTextOf } from '../../../client/panel/panel-text.ts';
import { pagesIn } from '../../../server/rule-pages.ts';
import { rules } from '../../../server/rules/index.ts';
import { computePage } from './compute.ts';
import { formatPage } from './format.ts';
import { rulePages } from './rules.ts';
import { tryPage } from './try.ts';

export interface Sources {
  readonly pages: string;
  readonly format: string;
  readonly fields: string;
  /** Of the script that comes packed, SHA-256 in base64. */
  readonly scriptHash: string;
}

/** By the path of each. */
export function sitePages({ pages, format, fields, scriptHash }: Sources): [string, string][] {
  return [
    ['index.html', tryPage(scriptHash)],
    ['pictures.html', picturesPage()],
    ['compute.html', computePage()],
    ['format.html', formatPage(format, fields)],
    ...rulePages(pagesIn(pages)),
  ];
}

export { encoded } from '../try/seven-bits.ts';

export const ruleNames = rules.map(({ id }) => id);

function picturesPage(): string {
  return panelHtml({
    nonce: 'pictures',
    script: 'pictures.js',
    style: 'pictures.css',
    source: "'self'",
    words: panelTextOf({ t: (words) => words }),
    language: 'en',
  });
}
