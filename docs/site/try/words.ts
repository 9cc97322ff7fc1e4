/** Markdown of the server as elements. Nothing in it is taken for HTML, and names of rules lead to their pages. */
import MarkdownIt from 'markdown-it';

const markdown = new MarkdownIt({ html: false, linkify: false });

/** @param rules the names that have a page */
export function wordsOf(text: string, rules: ReadonlySet<string>): HTMLElement {
  const all = document.createElement('div');
  all.className = 'words';
  all.innerHTML = markdown.render(text);
  for (const code of all.querySelectorAll('code')) if (rules.has(code.textContent)) code.replaceWith(ruleLink(code.textContent));
  for (const link of all.querySelectorAll('a')) link.target = '_blank';
  return all;
}

export function ruleLink(rule: string): HTMLAnchorElement {
  const link = document.createElement('a');
  link.href = `rules/${rule}.html`;
  link.target = '_blank';
  link.textContent = rule;
  return link;
}
