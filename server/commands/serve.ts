/** `shootspec serve`: the server takes its own arguments (`--stdio`, `--socket=PORT`) from the process. */
import { load } from './usage.ts';

export function serve(args: string[]): Promise<number> {
  if (!args.some((arg) => arg === '--stdio' || arg === '--node-ipc' || /^--(?:socket|pipe)(?:=|$)/.test(arg)))
    process.argv.push('--stdio');
  load('server.cjs');
  return new Promise(() => {});
}
