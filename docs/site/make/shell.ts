/** What all pages of the site have: their head, with a policy that lets nothing in but our own files, and where they lead. */

export interface Page {
  readonly title: string;
  readonly description?: string;
  readonly body: string;
  /** `..` for a page in a folder. */
  readonly top?: string;
  readonly scripts?: readonly string[];
  /** Of a script that is put into the page by another: SHA-256 in base64. */
  readonly scriptHash?: string;
  readonly here?: string;
  readonly className?: string;
}

const places = [
  ['index.html', 'Try it'],
  ['rules/index.html', 'Rules'],
  ['compute.html', 'Compute'],
  ['format.html', 'Format'],
] as const;

/** What pages that are read may load: files beside them. */
const policy = "default-src 'none'; style-src 'self'; img-src 'self'";
/** Pages with scripts too: pictures that are made in them, and the worker that is made from text. */
const policyOfScripts = (hash: string) =>
  `default-src 'none'; script-src 'self'${hash}; style-src 'self'; img-src 'self' data:; worker-src blob:; frame-src 'self'; base-uri 'none'; form-action 'none'`;

export function pageHtml({ title, description, body, top = '.', scripts = [], here, className, scriptHash }: Page): string {
  // Pages one step further in are many, and lead back to where they are listed.
  const shown = here === undefined ? places.filter(([place]) => place === 'rules/index.html') : places;
  const links = shown.map(([place, words]) => {
    const current = place === here ? ' aria-current="page"' : '';
    return `<a href="${top}/${place}"${current}>${words}</a>`;
  });
  const hash = scriptHash === undefined ? '' : ` 'sha256-${scriptHash}'`;
  const about = description === undefined ? '' : `<meta name="description" content="${escaped(description)}">\n`;
  return `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${scripts.length > 0 ? policyOfScripts(hash) : policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
${about}<title>${escaped(title)}</title>
<link rel="stylesheet" href="${top}/site.css">
${scripts.map((script) => `<script defer src="${top}/${script}"></script>\n`).join('')}</head>
<body${className === undefined ? '' : ` class="${className}"`}>
<header class="top"><a class="name" href="${top}/index.html"><img src="${top}/icon.png" alt="" width="28" height="28">Shoot Spec</a>
<nav aria-label="Pages">${links.join('')}</nav></header>
${body}
</body>
</html>
`;
}

export function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
