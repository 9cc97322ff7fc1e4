/** What comes without types of its own. */

/** Style sheets are text, for what is put into a root of its own. */
declare module '*.css' {
  const text: string;
  export default text;
}

declare module 'markdown-it' {
  export default class MarkdownIt {
    constructor(options?: { readonly html?: boolean; readonly linkify?: boolean });
    render(markdown: string): string;
  }
}
