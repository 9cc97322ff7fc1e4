/** The format in one reading, and every field after it. */
import { headingsOf, toHtml } from './markdown.ts';
import { escaped, pageHtml } from './shell.ts';

/**
 * @param format docs/format.md
 * @param fields docs/fields.md
 */
export function formatPage(format: string, fields: string): string {
  const plain = (text: string) =>
    text
      .replaceAll('[fields.md](fields.md)', '[Every field](#every-field)')
      .replaceAll('[rules.md](rules.md)', '[What is checked](rules/index.html)')
      .replaceAll('](fields.md)', '](#every-field)')
      .replaceAll('](format.md)', '](#the-files-in-one-reading)')
      .replaceAll('](rules.md)', '](rules/index.html)')
      .replaceAll(/\]\((?:\.\.\/)?server\/rules\/[a-z]+\/([a-z0-9-]+)\.md\)/g, '](rules/$1.html)')
      // What lies beside the sources only is named, and leads nowhere here.
      .replaceAll(/\[([^\]]*)\]\((?!#|rules\/)[^)]*\)/g, '$1');
  const html = toHtml(plain(format), 'rules/') + toHtml(plain(fields), 'rules/');
  const whole = html.replaceAll(/<h1>(.*?)<\/h1>/g, (_, words: string) => `<h1 id="${words === 'Every field' ? 'every-field' : 'the-files-in-one-reading'}">${words}</h1>`);
  const to = headingsOf(whole, 2).map(({ id, words }) => `<a href="#${id}">${escaped(words)}</a>`);
  return pageHtml({
    title: 'The format · Shoot Spec',
    description: 'How plans of product films, take sheets, kits and settings are written, in one reading.',
    body: `<div class="beside-text"><nav class="aside" aria-label="On this page">${to.join('')}</nav><main class="text">${whole}</main></div>`,
    here: 'format.html',
  });
}
