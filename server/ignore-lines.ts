/**
 * The lines of an ignore file as git reads them (gitignore(5)). Patterns are matched in time linear in their length times
 * that of the path: a repo may bring any, and what regular expressions make of `**\/a/**\/a/**\/a` takes for ever.
 */

interface Line {
  readonly takesBack: boolean;
  readonly foldersOnly: boolean;
  readonly steps: readonly Step[];
}

/** What one name on the way must be like; `folders` stands for any number of them. */
type Step = readonly Part[] | 'folders';
/** A character that fits, or any number of any. */
type Part = ((character: string) => boolean) | 'any';

/**
 * What the last line that fits says: true to ignore, false to take back; undefined where none fits.
 * @param names on the way to a file or folder, from the folder of the ignore file
 */
export type IgnoreLines = (names: readonly string[], isFolder: boolean) => boolean | undefined;

export function ignoreLines(text: string): IgnoreLines {
  const lines = text.split('\n').flatMap((one) => lineOf(one.replace(/\r$/, '')) ?? []);
  lines.reverse();
  return (names, isFolder) => {
    const found = lines.find(({ foldersOnly, steps }) => (isFolder || !foldersOnly) && fits(steps, names));
    return found && !found.takesBack;
  };
}

function lineOf(text: string): Line | undefined {
  if (text.startsWith('#')) return undefined;
  const takesBack = text.startsWith('!');
  const said = text.slice(takesBack ? 1 : 0).replace(/(?<!\\) +$/, '');
  const foldersOnly = said.endsWith('/');
  const pattern = said.replace(/\/$/, '');
  if (pattern === '') return undefined;
  // A name alone may be anywhere below.
  const isAnywhere = !pattern.includes('/');
  const names = pattern.replace(/^\//, '').split('/');
  const steps = names.map((name) => (/^\*{2,}$/.test(name) ? 'folders' : partsOf(name)));
  if (steps.some((step) => step === undefined)) return undefined;
  return { takesBack, foldersOnly, steps: [...(isAnywhere ? (['folders'] as const) : []), ...(steps as Step[])] };
}

/** Undefined for what fits nothing: a set that is not closed, a backslash at the end. */
function partsOf(name: string): Part[] | undefined {
  const parts: Part[] = [];
  for (let at = 0; at < name.length; at++) {
    const sign = name[at]!;
    if (sign === '*') {
      if (parts.at(-1) !== 'any') parts.push('any');
    } else if (sign === '?') parts.push(() => true);
    else if (sign === '[') {
      const set = /^\[([!^]?)(\]?(?:\\.|\[:[a-z]+:\]|[^\]\\])*)\]/.exec(name.slice(at));
      if (!set) return undefined;
      parts.push(setOf(set[2]!, set[1] !== ''));
      at += set[0].length - 1;
    } else {
      const meant = sign === '\\' ? name[++at] : sign;
      if (meant === undefined) return undefined;
      parts.push((character) => character === meant);
    }
  }
  return parts;
}

const classes: Readonly<Record<string, RegExp>> = {
  alnum: /[a-z0-9]/i,
  alpha: /[a-z]/i,
  blank: /[ \t]/,
  digit: /\d/,
  lower: /[a-z]/,
  punct: /[!-/:-@[-`{-~]/,
  space: /\s/,
  upper: /[A-Z]/,
  xdigit: /[0-9a-f]/i,
};

function setOf(said: string, isOthers: boolean): Exclude<Part, 'any'> {
  const tests: ((character: string) => boolean)[] = [];
  for (const [, kind, first, last] of said.matchAll(/\[:([a-z]+):\]|(\\.|[^\\])(?:-(\\.|[^\\]))?/g)) {
    if (kind !== undefined) {
      tests.push((character) => classes[kind]?.test(character) ?? false);
      continue;
    }
    const [from, to] = [first!.at(-1)!, (last ?? first)!.at(-1)!];
    tests.push((character) => character >= from && character <= to);
  }
  return (character) => tests.some((test) => test(character)) !== isOthers;
}

function fits(steps: readonly Step[], names: readonly string[]): boolean {
  // At the end they stand for what is inside, not for the folder itself.
  const least = steps.at(-1) === 'folders' ? 1 : 0;
  return matches(steps, names, (step, name) => step !== 'folders' && fitsName(step, name), 'folders', least);
}

function fitsName(parts: readonly Part[], name: string): boolean {
  return matches(parts, [...name], (part, character) => part !== 'any' && part(character), 'any');
}

/**
 * Do signs fit things one by one, where one of the signs, `many`, stands for any number of things? It takes the fewest at
 * first and more where what follows does not fit; only the last one met need ever be tried again.
 * @param least how many things one at the end stands for
 */
function matches<S, T>(
  signs: readonly S[],
  things: readonly T[],
  fit: (sign: S, thing: T) => boolean,
  many: S,
  least = 0,
): boolean {
  let [sign, thing] = [0, 0];
  let retry: { sign: number; thing: number } | undefined;
  while (thing < things.length) {
    if (sign < signs.length && signs[sign] === many) {
      retry = { sign: ++sign, thing };
      if (sign === signs.length) return things.length - thing >= least;
    } else if (sign < signs.length && fit(signs[sign]!, things[thing]!)) {
      sign++;
      thing++;
    } else if (retry) {
      retry = { sign: retry.sign, thing: retry.thing + 1 };
      ({ sign, thing } = retry);
    } else return false;
  }
  while (signs[sign] === many && (sign < signs.length - 1 || least === 0)) sign++;
  return sign === signs.length;
}
