/** Starts the language server in a worker of a browser's page. */
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createConnection,
  ProposedFeatures,
} from 'vscode-languageserver/browser';
import { serve } from '../connection.ts';
import { inWorker } from './in-worker.ts';

declare const self: MessagePort;

const connection = createConnection(
  ProposedFeatures.all,
  new BrowserMessageReader(self),
  new BrowserMessageWriter(self),
);
serve(connection, (onNews) => inWorker(connection, onNews));
