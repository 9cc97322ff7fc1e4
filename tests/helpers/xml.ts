/** Reads the XML that we write, and refuses what is not well-formed XML 1.0 without a document type. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Element[];
}

const entities: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

export function readXml(text: string): Element {
  // Char of XML 1.0, 5th edition, production 2.
  // eslint-disable-next-line no-control-regex -- these are what may not be there
  if (/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Cs}/u.test(text))
    throw new Error('a character that is none');
  const body = text.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, '');
  if (body === text) throw new Error('no declaration');
  const root: Element & { children: Element[] } = { name: '', attributes: {}, children: [] };
  const open = [root];
  for (const [whole, close, name, attributes = '', empty, chars] of body.matchAll(
    /<(\/?)([\w-]+)((?:\s+[\w-]+="[^"<]*")*)\s*(\/?)>|([^<]+)|</g,
  )) {
    if (chars !== undefined) unescape(chars);
    else if (name === undefined) throw new Error(`a tag that is none near ${body.slice(0, 80)}: ${whole}`);
    else if (close) {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes nothing`);
    } else {
      const element = { name, attributes: readAttributes(attributes), children: [] };
      (open.at(-1)!.children as Element[]).push(element);
      if (!empty) open.push(element);
    }
  }
  if (open.length !== 1 || root.children.length !== 1) throw new Error('not closed');
  return root.children[0]!;
}

function readAttributes(text: string): Record<string, string> {
  const pairs = [...text.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, name, value]) => [name!, unescape(value!)]);
  if (new Set(pairs.map(([name]) => name)).size !== pairs.length) throw new Error('an attribute twice');
  return Object.fromEntries(pairs) as Record<string, string>;
}

function unescape(text: string): string {
  return text.replace(/&(#\d+|\w+);|&/g, (whole, name?: string) => {
    if (name?.startsWith('#')) return String.fromCodePoint(Number(name.slice(1)));
    const character = name === undefined ? undefined : entities[name];
    if (character === undefined) throw new Error(`${whole} is no entity`);
    return character;
  });
}
