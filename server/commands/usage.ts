/** What all commands share: reading their arguments, saying what is wrong with them, printing. */
import { readFileSync, realpathSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { nearest } from '../core/nearest.ts';
import { readBytes as read } from '../bytes.ts';
import { harmless, logLines } from '../formats/escape.ts';
import { pagesIn } from '../rule-pages.ts';
import { type CommandName, type CommandSpec, type OptionSpec, table } from './table.ts';

/** Something that the user can put right; said in one line, exit code 2. */
export class UsageError extends Error {}

/** A file that the system lets nobody read, or write. */
export class Refused extends UsageError {
  readonly code: string;

  constructor(path: string, what: 'read' | 'written', error: unknown) {
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown reason';
    super(`\`${path}\` can't be ${what}: ${code}.`);
    this.code = code;
  }
}

/** A file, or as much of it as is asked for. */
export function readBytes(file: string, most: number): Buffer {
  try {
    return read(file, most);
  } catch (error) {
    throw new Refused(file, 'read', error);
  }
}

/** For what goes on with other files. */
export function orRefusal<T>(work: () => T): T | Refused {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refused) return error;
    throw error;
  }
}

/** Says on standard error why something was not done. */
export function sayWhy(error: unknown): void {
  process.stderr.write(logLines(harmless(`shootspec: ${whyText(error)}\n`)));
}

function whyText(error: unknown): string {
  if (error instanceof UsageError) return error.message;
  const { syscall, message, stack } = error as NodeJS.ErrnoException;
  if (syscall !== undefined) return `The system could not do it: ${message}.`;
  return `This is a fault in shootspec itself: ${stack ?? String(error)}`;
}

type Value<O extends OptionSpec> = O['type'] extends 'boolean'
  ? boolean
  : O extends { readonly multiple: true }
    ? string[]
    : string;

type Options<N extends CommandName> = (typeof table)[N]['options'];

type Values<N extends CommandName> = {
  readonly [K in keyof Options<N>]?: Options<N>[K] extends OptionSpec ? Value<Options<N>[K]> : never;
};

/** Options of a command, and the rest. One that is unknown, or lacks its value, is wrong usage. */
export function parse<N extends CommandName>(args: string[], command: N): { values: Values<N>; positionals: string[] } {
  const specs: CommandSpec['options'] = table[command].options;
  const options = Object.fromEntries(
    Object.entries(specs).map(([name, { type, short, multiple }]) => [
      name,
      { type, ...(short && { short }), ...(multiple && { multiple }) },
    ]),
  );
  try {
    const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
    return { values: values as Values<N>, positionals };
  } catch (error) {
    throw new UsageError(wrongOption(error as NodeJS.ErrnoException, Object.keys(options)));
  }
}

function wrongOption({ code, message }: NodeJS.ErrnoException, known: readonly string[]): string {
  const unknown = code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION' ? /'-*([^']*)'/.exec(message)?.[1] : undefined;
  const near = unknown === undefined ? undefined : nearest(unknown, known);
  return `${message.split('. ')[0] ?? 'Wrong usage'}.${near ? ` Did you mean \`--${near.word}\`?` : ''}`;
}

export function oneOf<T extends string>(option: string, value: string, allowed: readonly T[]): T {
  const found = allowed.find((one) => one === value);
  if (found === undefined) throw new UsageError(`${option} takes ${allowed.join(', ')}, not \`${value}\`.`);
  return found;
}

export function wholeNumber(option: string, value: string): number {
  if (!/^\d{1,9}$/.test(value)) throw new UsageError(`${option} takes a whole number, not \`${value}\`.`);
  return Number(value);
}

/** A folder that is named must be there: a drive that is not connected would pass for one without clips. */
export function folderNamed(option: string, named: string | undefined): string | undefined {
  if (named === undefined) return undefined;
  const full = resolve(named);
  if (!statSync(full, { throwIfNoEntry: false })?.isDirectory())
    throw new UsageError(`${option}: there is no folder \`${named}\`.`);
  return full;
}

export function print(text: string): number {
  process.stdout.write(text);
  return 0;
}

/** A file of the package, next to the bundle. */
export function beside(name: string): string {
  return join(dirname(bundle()), name);
}

/** Another bundle of the package, loaded when it is needed. */
export function load(name: string): unknown {
  return createRequire(bundle())(beside(name));
}

/** The program that was started. */
export function bundle(): string {
  return realpathSync(process.argv[1]!);
}

export function version(): string {
  return (JSON.parse(readFileSync(beside('../package.json'), 'utf8')) as { version: string }).version;
}

/** The page of each rule, in Markdown. */
export function pages(): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...pagesIn(readFileSync(beside('pages.md'), 'utf8'))].map(([rule, { text }]) => [rule, text]),
  );
}
