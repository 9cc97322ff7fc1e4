/** What each command takes, as `shootspec help` and `shootspec COMMAND --help` print it. */
import { print, UsageError } from './usage.ts';
import { didYouMean } from './suggest.ts';
import { closing, type CommandName, commandNames, type CommandSpec, type OptionSpec, table } from './table.ts';

/** Where texts begin: behind a command, and behind an option. */
const [textColumn, optionColumn] = [18, 28];
const lineWidth = 118;

function section({ usage, text, options }: CommandSpec): string {
  const [first = '', ...others] = [...usage].reverse();
  const head = others.reverse().map((one) => `  ${one}\n`);
  return [
    ...head,
    entry(`  ${first}`, text, textColumn),
    ...Object.entries(options).map(([name, one]) => entry(`      ${optionText(name, one)}`, one.text, optionColumn)),
  ].join('');
}

/** `--output FILE, -o`. */
function optionText(name: string, { value, short }: OptionSpec): string {
  return `--${name}${value ? ` ${value}` : ''}${short ? `, -${short}` : ''}`;
}

/** What has no room before its column stands on a line of its own. */
function entry(head: string, text: string, column: number): string {
  const lines = wrapped(text, lineWidth - column).map((line) => ' '.repeat(column) + line);
  if (head.length >= column) return `${[head, ...lines].join('\n')}\n`;
  return `${[head.padEnd(column) + lines[0]!.slice(column), ...lines.slice(1)].join('\n')}\n`;
}

function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= width) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Of one command, or of all, with what is there to decode clips. */
export async function help(name?: string): Promise<number> {
  if (name === undefined || name === 'help' || name === 'version') return print(`${usage()}${await decoderText()}`);
  const spec = Object.hasOwn(table, name) ? table[name as CommandName] : undefined;
  if (spec === undefined) throw noCommand(name);
  return print(`Usage:\n${section(spec).replace(/^ {2}(?=[a-z])/gm, '  shootspec ')}`);
}

function usage(): string {
  const sections = Object.values<CommandSpec>(table).map(section).join('');
  return `Usage: shootspec COMMAND\n\n${sections}\n${closing.files}\nExit codes: ${closing.codes}\n`;
}

async function decoderText(): Promise<string> {
  const { ffmpeg, howToGetFfmpeg } = await import('../footage/decode/ffmpeg.ts');
  const found = await ffmpeg();
  return found
    ? `Sound and picture of clips are decoded by \`${found.path}\`, version ${found.version}.\n`
    : `Sound and picture of clips need \`ffmpeg\` on the path, which is not there. ${howToGetFfmpeg}\n`;
}

export function noCommand(name: string): UsageError {
  return new UsageError(
    `There is no command \`${name}\`.${didYouMean(name, commandNames)} \`shootspec help\` lists them.`,
  );
}

/** Is help asked for among the options? */
export function asksHelp(args: readonly string[]): boolean {
  const end = args.indexOf('--');
  return (end < 0 ? args : args.slice(0, end)).some(isHelp);
}

export function isHelp(arg: string): boolean {
  return arg === '--help' || arg === '-h';
}
