/** The `shootspec` command: wiring only. Exit codes: 0 clean, 1 findings at or above the threshold, 2 usage or crash. */
import { asksHelp, help, noCommand } from './commands/help.ts';
import { print, sayWhy, version } from './commands/usage.ts';

type Command = (args: string[]) => Promise<number> | number;

/** Each is loaded only when it is asked for, so that checking one file starts as fast without the rest. */
const commands: Readonly<Record<string, Command>> = {
  begin: async (args) => (await import('./commands/begin.ts')).begin(args),
  check: async (args) => (await import('./commands/check.ts')).check(args),
  compare: async (args) => (await import('./commands/compare.ts')).compare(args),
  rules: async (args) => (await import('./commands/rules.ts')).listRules(args),
  explain: async (args) => (await import('./commands/rules.ts')).explain(args),
  compute: async (args) => (await import('./commands/compute.ts')).compute(args),
  sheet: async (args) => (await import('./commands/sheet.ts')).sheet(args),
  draw: async (args) => (await import('./commands/draw.ts')).draw(args),
  assemble: async (args) => (await import('./commands/assemble.ts')).assemble(args),
  'hand-over': async (args) => (await import('./commands/hand-over.ts')).handOver(args),
  letter: async (args) => (await import('./commands/letter.ts')).letter(args),
  cards: async (args) => (await import('./commands/cards.ts')).cards(args),
  kit: async (args) => (await import('./commands/kit.ts')).kit(args),
  format: async (args) => (await import('./commands/format.ts')).format(args),
  completion: async (args) => (await import('./commands/completion.ts')).completion(args),
  serve: async (args) => (await import('./commands/serve.ts')).serve(args),
  worker: async () => (await import('./commands/threads.ts')).worker(),
  help: ([name]) => help(name),
  '--help': () => help(),
  '-h': () => help(),
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

/** Runs one command. @returns its exit code */
export async function run([name = 'help', ...args]: readonly string[]): Promise<number> {
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  try {
    if (!command) throw noCommand(name);
    // A topic of `compute` has a help of its own.
    return await (asksHelp(args) && !isTopic(name, args) ? help(name) : command(args));
  } catch (error) {
    sayWhy(error);
    return 2;
  }
}

/** Runs what the process was started with. */
export function main(): void {
  outliveReaders();
  void run(process.argv.slice(2)).then((code) => (process.exitCode = code));
}

function isTopic(command: string, [topic = '-']: readonly string[]): boolean {
  return command === 'compute' && !topic.startsWith('-');
}
