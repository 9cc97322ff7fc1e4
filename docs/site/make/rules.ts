/** The page of each rule, and one that leads to all of them. */
import { rules } from '../../../server/rules/index.ts';
import { escaped, pageHtml } from './shell.ts';
import { toHtml } from './markdown.ts';

/** @param texts the pages of the rules, by name */
export function rulePages(texts: ReadonlyMap<string, { readonly text: string }>): [string, string][] {
  const pages = rules.map((rule): [string, string] => {
    const { id, family, severity } = rule;
    const kind = `<p class="about"><a href="index.html#${family}">${family}</a> · ${severity}</p>`;
    const html = toHtml(texts.get(id)!.text.replace(/\]\((?:\.\.\/[a-z]+\/)?([a-z0-9-]+)\.md\)/g, ']($1.html)'), '').replace('</h1>', `</h1>${kind}`);
    const body = `<main class="text">${html}</main>`;
    return [`rules/${id}.html`, pageHtml({ title: `${id} · Shoot Spec`, body, top: '..' })];
  });
  return [['rules/index.html', allRules()], ...pages];
}

function allRules(): string {
  const families = [...new Set(rules.map(({ family }) => family))];
  const sections = families.map((family) => {
    const items = rules
      .filter((rule) => rule.family === family)
      .map(
        ({ id, severity, summary }) =>
          `<li><a href="${id}.html"><code>${id}</code></a> <span class="about">${severity}</span><p>${escaped(summary)}</p></li>`,
      );
    return `<section id="${family}"><h2>${family}</h2><ul class="rules">${items.join('')}</ul></section>`;
  });
  const to = families.map((family) => `<a href="#${family}">${family}</a>`).join('');
  const lead = `<h1>What is checked</h1><p>${rules.length} rules. Each page says why, with its formula and source, and shows a wrong plan, a right one and the fix.</p>`;
  return pageHtml({
    title: 'What is checked · Shoot Spec',
    description: 'Every rule that plans of product films are checked by.',
    body: `<main class="text">${lead}<nav class="to" aria-label="Families">${to}</nav>${sections.join('')}</main>`,
    top: '..',
    here: 'rules/index.html',
  });
}
