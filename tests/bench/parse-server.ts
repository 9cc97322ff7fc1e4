/** The floor of a key: a language server that reads the text with the YAML library at each, and has nothing to say of it. */
import { createConnection, ProposedFeatures, TextDocumentSyncKind } from 'vscode-languageserver/node';
import { parseDocument } from 'yaml';
import { type OpenFile, OpenFiles } from '../../server/open-files.ts';

const connection = createConnection(ProposedFeatures.all);
const files = new OpenFiles();

connection.onInitialize(() => ({ capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental } }));
connection.onDidOpenTextDocument(({ textDocument }) => read(files.open(textDocument)));
connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
  const file = files.change(textDocument, contentChanges, 'utf-16');
  if (file) read(file);
});
connection.listen();

function read({ uri, version, text }: OpenFile): void {
  parseDocument(text, { uniqueKeys: false });
  void connection.sendDiagnostics({ uri, version, diagnostics: [] });
}
