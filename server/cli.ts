/** The `shootspec` command: wiring only. Exit codes: 0 clean, 1 findings at or above the threshold, 2 usage or crash. */
import { print, sayWhy, UsageError, version } from './commands/usage.ts';

const usage = `Usage: shootspec COMMAND

  check PATH…     check specs, kits and settings; folders are searched, patterns such as 'films/**' looked up
      --format FORMAT       text, json, github, sarif, junit or gitlab (text)
      --output FILE         write it there instead of printing it
      --fail-on SEVERITY    mildest finding that makes the exit code 1: error, warning, info or hint
                            (error, or \`fail-at\` of shootspec.yaml)
      --max-warnings N      more warnings than this make it 1 too
      --fix                 make the safe fixes in the files, then check
      --dry-run             show what --fix would change, as a diff, and change nothing
      --baseline FILE       findings that FILE knows do not count
      --write-baseline      write all that is found now into that file
      --threads N           at most so many at once (one for each core)
      --watch               check again after each change
      - --stdin-name PATH   check standard input as if it were that file
  compare OLD NEW what changed in the plan: files, or REVISION:PATH of a git repo
  compare REVISION [REVISION] [PATH…]
                  the same for a git revision and the files as they are now (or another revision)
      --format text|markdown|json
      --fail-on SEVERITY    new findings that make the exit code 1 (none)
      --output FILE
  rules           list all rules, family by family (--format json)
  explain RULE    print the page of a rule
  compute [TOPIC KEY=VALUE…]
                  work out one thing, with its formula and source: \`compute mired from=3200K to=5600K\`;
                  alone it lists what can be computed (--json)
  sheet SPEC -o FILE
                  a sheet to take on set, .html or .pdf (--paper a4|letter)
  draw SPEC --view NAME
                  one picture as SVG: set-above, set-side, frame, colour, timeline or budgets
      --shot NAME, --deliverable NAME, --output FILE
  serve           run the language server (--stdio, or --socket=PORT)
  help, version

Files that \`.gitignore\` or \`.shootspecignore\` name are left out where folders are searched.
Exit codes: 0 clean, 1 findings at or above the threshold, 2 wrong usage or a crash.
`;

type Command = (args: string[]) => Promise<number> | number;

/** Each is loaded only when it is asked for, so that checking one file starts as fast without the rest. */
const commands: Readonly<Record<string, Command>> = {
  check: async (args) => (await import('./commands/check.ts')).check(args),
  compare: async (args) => (await import('./commands/compare.ts')).compare(args),
  rules: async (args) => (await import('./commands/rules.ts')).listRules(args),
  explain: async (args) => (await import('./commands/rules.ts')).explain(args),
  compute: async (args) => (await import('./commands/compute.ts')).compute(args),
  sheet: async (args) => (await import('./commands/sheet.ts')).sheet(args),
  draw: async (args) => (await import('./commands/draw.ts')).draw(args),
  serve: async (args) => (await import('./commands/serve.ts')).serve(args),
  worker: async () => (await import('./commands/threads.ts')).worker(),
  help: () => print(usage),
  '--help': () => print(usage),
  version: () => print(`${version()}\n`),
  '--version': () => print(`${version()}\n`),
};

/** Whoever read along may be gone before the end, as `head` is: that ends nothing and is no fault. */
function outliveReaders(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') return;
      if (stream === process.stdout) sayWhy(error);
      process.exit(2);
    });
  }
}

async function main(): Promise<void> {
  const [name = 'help', ...args] = process.argv.slice(2);
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  try {
    if (!command) throw new UsageError(`There is no command \`${name}\`. \`shootspec help\` lists them.`);
    process.exitCode = await command(args);
  } catch (error) {
    sayWhy(error);
    process.exitCode = 2;
  }
}

outliveReaders();
void main();
