/** The manual page, from the table of commands: in the macros of man(7), which every system reads. */
import { closing, type CommandSpec, type OptionSpec, table } from '../../server/commands/table.ts';

const lineWidth = 78;

/** @param day of that version */
export function manualPage(version: string, day: string): string {
  const commands = Object.values<CommandSpec>(table).flatMap((spec) => [
    ...spec.usage.map((one, index) => `${index === 0 ? '.TP' : '.TQ'}\n.B ${plain(one)}`),
    plain(spec.text),
    ...(Object.keys(spec.options).length > 0 ? ['.RS', ...Object.entries(spec.options).flatMap(option), '.RE'] : []),
  ]);
  return [
    `.TH SHOOTSPEC 1 ${day} "shootspec ${version}" "User Commands"`,
    '.SH NAME',
    'shootspec \\- check the plan of a short product film',
    '.SH SYNOPSIS',
    '.B shootspec',
    '.I COMMAND',
    '.SH DESCRIPTION',
    plain(
      'Reads plans of product films that are written as YAML, says in numbers whether they work, and offers fixes.',
    ),
    plain(closing.files),
    '.SH COMMANDS',
    ...commands,
    '.SH EXIT STATUS',
    plain(closing.codes),
    '',
  ].join('\n');
}

function option([name, { value, short, text }]: [string, OptionSpec]): string[] {
  const flags = [`\\-\\-${plain(name)}`, ...(short === undefined ? [] : [`\\-${short}`])].join(', ');
  return ['.TP', `.B ${flags}${value === undefined ? '' : ` ${value}`}`, plain(text)];
}

/** What would be a sign of roff stands for itself; words in backticks are bold; no line is longer than most. */
function plain(text: string): string {
  const escaped = text
    .replace(/\\/g, '\\e')
    .replace(/-/g, '\\-')
    .replace(/`([^`]*)`/g, '\\fB$1\\fP')
    .replace(/…/g, '...')
    .replace(/'/g, '\\(aq');
  const lines: string[] = [];
  for (const word of escaped.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= lineWidth) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines.map((line) => line.replace(/^\./, '\\&.')).join('\n');
}
