/** Starts the language server on whatever the process was started with: `--stdio`, `--socket=PORT`, `--pipe` or IPC. */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';

serve(createConnection(ProposedFeatures.all));
