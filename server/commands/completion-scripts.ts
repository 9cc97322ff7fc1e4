/** Scripts that make shells complete the words of `shootspec`, made from the table of commands. */
import { commandNames, type CommandSpec, type OptionSpec, shells, table } from './table.ts';

/** Names that the table does not hold. */
export type Names = Readonly<Record<'rule' | 'family' | 'topic', readonly string[]>>;

export function scriptFor(shell: (typeof shells)[number], names: Names): string {
  return scripts[shell](commandsWith(names));
}

interface Command {
  readonly name: string;
  readonly text: string;
  /** What may stand in the place of its words. */
  readonly words: readonly string[] | 'file' | 'folder';
  readonly options: readonly Option[];
}

interface Option {
  readonly name: string;
  readonly short: string | undefined;
  readonly text: string;
  /** Undefined where no value follows. */
  readonly value: readonly string[] | 'file' | 'folder' | undefined;
}

function commandsWith(names: Names): Command[] {
  const lists: Readonly<Record<string, readonly string[]>> = {
    ...names,
    command: commandNames,
    shell: shells,
    none: [],
  };
  return Object.entries<CommandSpec>(table).map(([name, spec]) => ({
    name,
    text: spec.text,
    words: spec.names === 'file' || spec.names === 'folder' ? spec.names : lists[spec.names]!,
    options: Object.entries(spec.options).map(([option, one]) => optionOf(option, one)),
  }));
}

function optionOf(name: string, { type, short, words, names, text }: OptionSpec): Option {
  return { name, short, text, value: type === 'boolean' ? undefined : (words ?? names ?? []) };
}

/** The first sentence or so, without what a shell would take for something. */
function brief(text: string): string {
  return text
    .split(/[;:(]|\. /)[0]!
    .trim()
    .replace(/['"`\\$]/g, '');
}

const scripts: Readonly<Record<(typeof shells)[number], (commands: readonly Command[]) => string>> = {
  bash,
  zsh,
  fish,
  powershell,
};

const flags = ({ name, short }: Option) => [`--${name}`, ...(short === undefined ? [] : [`-${short}`])];
const isNamed = (value: Option['value']): value is 'file' | 'folder' => value === 'file' || value === 'folder';

// -- bash ------------------------------------------------------------------------------------------------------------

function bash(commands: readonly Command[]): string {
  const list = (words: readonly string[]) => `COMPREPLY=($(compgen -W '${words.join(' ')}' -- "$word"))`;
  const paths = (kind: 'file' | 'folder') => `_shootspec_paths ${kind === 'file' ? '-f' : '-d'}`;
  const values = commands.flatMap(({ name, options }) =>
    options.flatMap((one) =>
      one.value === undefined
        ? []
        : `    ${flags(one)
            .map((flag) => `'${name} ${flag}'`)
            .join(' | ')}) ${isNamed(one.value) ? paths(one.value) : list(one.value)}; return ;;`,
    ),
  );
  const words = commands.map(({ name, words, options }) => {
    const own = isNamed(words) ? paths(words) : list(words);
    return `    ${name}) if [[ $word == -* ]]; then ${list(options.flatMap(flags))}; else ${own}; fi ;;`;
  });
  return `# source <(shootspec completion bash)
_shootspec_paths() {
  COMPREPLY=($(compgen "$1" -- "$word"))
  compopt -o filenames 2>/dev/null
}
_shootspec() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD - 1]} command=\${COMP_WORDS[1]}
  COMPREPLY=()
  if ((COMP_CWORD == 1)); then
    ${list(commands.map(({ name }) => name))}
    return
  fi
  case "$command $before" in
${values.join('\n')}
  esac
  case $command in
${words.join('\n')}
  esac
}
complete -F _shootspec shootspec
`;
}

// -- zsh -------------------------------------------------------------------------------------------------------------

function zsh(commands: readonly Command[]): string {
  const described = (name: string, text: string) => `'${name}:${brief(text)}'`;
  const paths = (kind: 'file' | 'folder') => (kind === 'file' ? '_files' : '_files -/');
  const words = (list: readonly string[]) => (list.length === 0 ? ':' : `compadd -- ${list.join(' ')}`);
  const values = commands.flatMap(({ name, options }) =>
    options.flatMap((one) =>
      one.value === undefined
        ? []
        : `    (${flags(one)
            .map((flag) => `"${name} ${flag}"`)
            .join('|')}) ${isNamed(one.value) ? paths(one.value) : words(one.value)}; return ;;`,
    ),
  );
  const rest = commands.map(({ name, words: own, options }) => {
    const all = options.flatMap((one) => flags(one).map((flag) => described(flag, one.text)));
    const offered = all.length === 0 ? ':' : `options=(${all.join(' ')}); _describe option options`;
    return `    (${name}) if [[ $words[CURRENT] == -* ]]; then ${offered}; else ${isNamed(own) ? paths(own) : words(own)}; fi ;;`;
  });
  return `#compdef shootspec
# shootspec completion zsh > a folder of $fpath, as _shootspec
_shootspec() {
  local -a commands options
  if (( CURRENT == 2 )); then
    commands=(${commands.map(({ name, text }) => described(name, text)).join(' ')})
    _describe command commands
    return
  fi
  case "$words[2] $words[CURRENT-1]" in
${values.join('\n')}
  esac
  case $words[2] in
${rest.join('\n')}
  esac
}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _shootspec "$@"; else compdef _shootspec shootspec; fi
`;
}

// -- fish ------------------------------------------------------------------------------------------------------------

function fish(commands: readonly Command[]): string {
  const line = (condition: string, rest: string) => `complete -c shootspec -n '${condition}' ${rest}`;
  const value = (kind: Option['value']) => {
    if (kind === undefined) return '';
    if (kind === 'file') return ' -r -F';
    return kind === 'folder' ? " -x -a '(__fish_complete_directories)'" : ` -x -a '${kind.join(' ')}'`;
  };
  const lines = commands.flatMap(({ name, text, words, options }) => {
    const here = `__fish_seen_subcommand_from ${name}`;
    const own =
      words === 'file' ? '-F' : words === 'folder' ? "-a '(__fish_complete_directories)'" : `-a '${words.join(' ')}'`;
    return [
      line('__fish_use_subcommand', `-a ${name} -d '${brief(text)}'`),
      ...(words.length > 0 ? [line(here, own)] : []),
      ...options.map((one) => {
        const short = one.short === undefined ? '' : ` -s ${one.short}`;
        return line(here, `-l ${one.name}${short}${value(one.value)} -d '${brief(one.text)}'`);
      }),
    ];
  });
  return `# shootspec completion fish > ~/.config/fish/completions/shootspec.fish\ncomplete -c shootspec -f\n${lines.join('\n')}\n`;
}

// -- PowerShell ------------------------------------------------------------------------------------------------------

function powershell(commands: readonly Command[]): string {
  const list = (words: readonly string[]) => `@(${words.map((word) => `'${word}'`).join(', ')})`;
  const entries = commands.map(({ name, words, options }) => {
    const values = options.flatMap((one) =>
      one.value === undefined || isNamed(one.value) || one.value.length === 0
        ? []
        : flags(one).map((flag) => `'${flag}' = ${list(one.value as readonly string[])}`),
    );
    const own = isNamed(words) ? '$null' : list(words);
    return `  '${name}' = @{ Options = ${list(options.flatMap(flags))}; Words = ${own}; Values = @{ ${values.join('; ')} } }`;
  });
  return `# shootspec completion powershell | Out-String | Invoke-Expression
$shootspecCommands = [ordered]@{
${entries.join('\n')}
}
Register-ArgumentCompleter -Native -CommandName shootspec -ScriptBlock {
  param($word, $tree, $cursor)
  $said = @($tree.CommandElements | ForEach-Object { $_.ToString() })
  $done = if ($word -eq '') { $said.Count } else { $said.Count - 1 }
  if ($done -le 1) { $all = $shootspecCommands.Keys }
  else {
    $command = $shootspecCommands[$said[1]]
    $all = if (-not $command) { @() }
      elseif ($command.Values.ContainsKey($said[$done - 1])) { $command.Values[$said[$done - 1]] }
      elseif ($word -like '-*') { $command.Options }
      else { $command.Words }
  }
  # Nothing is offered where files stand: PowerShell completes those itself.
  $all | Where-Object { $_ -like "$word*" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
}
`;
}
