/** `shootspec serve`: the server takes its own arguments (`--stdio`, `--socket=PORT`) from the process. */
import { beside } from './usage.ts';

export async function serve(args: string[]): Promise<number> {
  if (!args.some((arg) => arg === '--stdio' || arg === '--node-ipc' || /^--(?:socket|pipe)(?:=|$)/.test(arg)))
    process.argv.push('--stdio');
  await import(/* @vite-ignore */ beside('server.cjs'));
  return new Promise(() => {});
}
