/** Where a place stands in braces and brackets: told by the characters before it, so half-typed ones will do. */

export interface FlowPlace {
  /** Steps from the value that opens the first bracket. */
  readonly path: readonly (string | number)[];
  readonly kind: 'key' | 'value';
  /** The word that the cursor touches. */
  readonly start: number;
  readonly end: number;
  /** Keys in the same braces, with what is behind their colons. */
  readonly siblings: ReadonlyMap<string, string>;
  /** True where the key has its colon already. */
  readonly hasColon: boolean;
}

interface Frame {
  readonly open: '{' | '[';
  index: number;
  key: string | undefined;
  /** Where the current key or value may start. */
  token: number;
  readonly pairs: Map<string, string>;
}

/** Undefined where the cursor is outside all brackets again, or in a comment. */
export function flowPlace(text: string, from: number, offset: number): FlowPlace | undefined {
  const frames: Frame[] = [];
  const at = read(text, from, offset, frames);
  const top = frames.at(-1);
  if (at === undefined || !top) return undefined;
  const isKey = top.open === '{' && top.key === undefined;
  const start = skipBlanks(text, top.token, offset);
  const end = endOfToken(text, offset, start, isKey);
  const path = frames.flatMap((frame): (string | number)[] =>
    frame.open === '[' ? [frame.index] : frame.key === undefined ? [] : [frame.key],
  );
  const siblings = new Map(top.pairs);
  if (top.open === '{') readOn(text, end, top, siblings);
  return {
    path,
    kind: isKey ? 'key' : 'value',
    start,
    end,
    siblings,
    hasColon: isKey && /^\s*:/.test(text.slice(end, end + 40)),
  };
}

/** Reads up to an offset; undefined when that is in a comment or when the first bracket was closed before. */
function read(text: string, from: number, offset: number, frames: Frame[]): number | undefined {
  let at = from;
  while (at < offset) {
    const next = step(text, at, offset, frames);
    if (next === undefined || (frames.length === 0 && next > from)) return undefined;
    at = next;
  }
  return at;
}

/** Reads one character, quoted text or comment; answers where the next one starts, undefined inside a comment. */
function step(text: string, at: number, offset: number, frames: Frame[]): number | undefined {
  const one = text[at]!;
  const top = frames.at(-1);
  const isStart = top === undefined || text.slice(top.token, at).trim() === '';
  if ((one === '"' || one === "'") && isStart) return Math.min(endOfQuote(text, at), offset);
  if (one === '#' && /\s/.test(text[at - 1] ?? ' ')) {
    const end = text.slice(at).search(/[\r\n]/);
    return end < 0 || at + end >= offset ? undefined : at + end;
  }
  if ((one === '{' || one === '[') && isStart) {
    frames.push({ open: one, index: 0, key: undefined, token: at + 1, pairs: new Map() });
  } else if (top) inside(text, at, frames, top);
  return at + 1;
}

/** A character that closes or parts what the innermost bracket holds. */
function inside(text: string, at: number, frames: Frame[], top: Frame): void {
  const one = text[at];
  if (one === '}' || one === ']') {
    finish(text, top, at);
    frames.pop();
    const outer = frames.at(-1);
    if (outer?.key !== undefined) outer.pairs.set(outer.key, '{}');
  } else if (one === ',') {
    finish(text, top, at);
    Object.assign(top, { index: top.index + 1, key: undefined, token: at + 1 });
  } else if (
    one === ':' &&
    top.open === '{' &&
    top.key === undefined &&
    /^(?:[\s,}\]]|$)/.test(text.slice(at + 1, at + 2))
  ) {
    top.key = unquoted(text.slice(top.token, at));
    top.token = at + 1;
  }
}

function finish(text: string, frame: Frame, at: number): void {
  if (frame.key !== undefined && !frame.pairs.has(frame.key))
    frame.pairs.set(frame.key, text.slice(frame.token, at).trim());
  else if (frame.key === undefined && frame.open === '{') {
    const key = unquoted(text.slice(frame.token, at));
    if (key !== '') frame.pairs.set(key, '');
  }
}

const mostReadOn = 2000;

/** The pairs behind the cursor in the same braces; what is not closed ends with its line. */
function readOn(text: string, from: number, top: Frame, siblings: Map<string, string>): void {
  const rest = text.slice(from, from + mostReadOn);
  const lineEnd = rest.search(/[\r\n]/);
  const open: Frame = { open: '{', index: 0, key: top.key ?? '', token: from, pairs: new Map() };
  const frames = [open];
  let at = from;
  const isClosed = (end: number) => {
    while (at < end && frames.length > 0) at = step(text, at, end, frames) ?? end;
    return frames.length === 0;
  };
  if (!isClosed(lineEnd < 0 ? from + rest.length : from + lineEnd)) finish(text, open, at);
  for (const [key, value] of open.pairs) if (key !== '' && key !== top.key) siblings.set(key, value);
}

function skipBlanks(text: string, from: number, offset: number): number {
  let at = from;
  while (at < offset && /\s/.test(text[at]!)) at++;
  return at;
}

function endOfToken(text: string, offset: number, start: number, isKey: boolean): number {
  const quote = text[start];
  if (start < offset && (quote === '"' || quote === "'")) {
    const end = endOfQuote(text, start);
    const line = text.slice(offset).search(/[\r\n]/);
    return Math.max(offset, line >= 0 && end > offset + line ? offset : end);
  }
  const rest = /^[^,[\]{}\r\n#:]*(?::(?![\s,}\]]|$)[^,[\]{}\r\n#:]*)*/.exec(text.slice(offset, offset + 400))![0];
  // Where nothing is typed yet, what stands behind the cursor belongs to something else.
  if (start === offset && isKey && /^\s/.test(rest)) return offset;
  // A key behind the cursor that no comma parts from its value is no part of it.
  const isOther = !isKey && /^\s*:(?:\s|$)/.test(text.slice(offset + rest.length, offset + rest.length + 400));
  return offset + (isOther ? rest.trimEnd().replace(/\S+$/, '') : rest).trimEnd().length;
}

function endOfQuote(text: string, start: number): number {
  const quote = text[start];
  for (let at = start + 1; at < text.length; at++) {
    if (quote === '"' && text[at] === '\\') at++;
    else if (text[at] === quote) return at + 1;
  }
  return text.length;
}

function unquoted(text: string): string {
  const trimmed = text.trim();
  return /^(["']).*\1$/s.test(trimmed) ? trimmed.slice(1, -1) : trimmed;
}
