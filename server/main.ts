/** Starts the language server on whatever the process was started with: `--stdio`, `--socket=PORT`, `--pipe` or IPC. */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { inProcess } from './in-process.ts';

serve(createConnection(ProposedFeatures.all), inProcess);

// The library catches what a request or a notification throws, but not what comes of it later.
process.on('uncaughtException', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(1);
  process.stderr.write(`${error.stack ?? String(error)}\n`);
});

// A server ends by `exit`. When nothing is left to wait for, its client has gone, or never was there.
process.once('beforeExit', () => {
  process.stderr.write('shootspec serve: nobody is at the other end of the connection.\n');
  process.exit(1);
});
