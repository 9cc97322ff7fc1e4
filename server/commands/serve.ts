/** `shootspec serve`: the server takes its own arguments (`--stdio`, `--socket=PORT`) from the process. */
import { load, UsageError } from './usage.ts';

export function serve(args: string[]): Promise<number> {
  if (!args.some((arg) => arg === '--stdio' || arg === '--node-ipc' || /^--(?:socket|pipe)(?:=|$)/.test(arg)))
    throw new UsageError(
      'An editor starts the language server, and must say how it talks to it: `shootspec serve --stdio`, or ' +
        '`--socket=PORT` or `--pipe=NAME`.',
    );
  load('server.cjs');
  return new Promise(() => {});
}
