/** Pages that are written in Markdown, with a heading to lead to everywhere. */
import MarkdownIt from 'markdown-it';
import { rules } from '../../../server/rules/index.ts';

const markdown = new MarkdownIt({ html: true });
const names = new Set(rules.map(({ id }) => id));

/** @param leads where the names of rules lead: a folder from the page, with a slash at its end */
export function toHtml(text: string, leads: string): string {
  const html = markdown.render(text.replace(/<!--[\s\S]*?-->\n?/g, ''));
  return html
    .replace(/<code>([a-z0-9-]+)<\/code>/g, (code: string, name: string) =>
      names.has(name) ? `<a href="${leads}${name}.html"><code>${name}</code></a>` : code,
    )
    .replace(/<(h[23])>(.*?)<\/\1>/g, (_: string, tag: string, words: string) => `<${tag} id="${idOf(words)}">${words}</${tag}>`)
    .replaceAll('<table>', '<div class="wide" tabindex="0" role="group" aria-label="Table"><table>')
    .replaceAll('</table>', '</table></div>')
    .replaceAll('<pre>', '<pre tabindex="0">')
    // HTML closes these by itself.
    .replace(/<\/(?:td|th|tr|li)>\n?/g, '');
}

export interface Heading {
  readonly id: string;
  readonly words: string;
}

/** Of one level. */
export function headingsOf(html: string, level: 2 | 3): Heading[] {
  const all = html.matchAll(new RegExp(`<h${level} id="([^"]*)">(.*?)</h${level}>`, 'g'));
  return [...all].map(([, id, words]) => ({ id: id!, words: words!.replace(/<[^>]*>/g, '') }));
}

export function idOf(words: string): string {
  const plain = words.replace(/<[^>]*>/g, '').replace(/&[^;]*;/g, '');
  return plain.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
}
