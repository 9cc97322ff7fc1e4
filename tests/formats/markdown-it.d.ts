/** What the tests use of it. */
declare module 'markdown-it' {
  interface Token {
    readonly type: string;
    readonly content: string;
    readonly children: readonly Token[] | null;
  }
  export default class MarkdownIt {
    constructor(options: { html: boolean; linkify: boolean });
    readonly linkify: { set(options: { fuzzyLink: boolean }): void };
    parse(text: string, env: object): Token[];
    render(text: string): string;
  }
}
