/** A folder that lies on no disk, as one of a code host does: its files come with the page, and stay in memory. */
/* eslint-disable -- a plain script, as the editor's worker loads it */
const vscode = require('vscode');

const missing = (uri) => vscode.FileSystemError.FileNotFound(uri);

exports.activate = async (context) => {
  const list = await fetch(vscode.Uri.joinPath(context.extensionUri, '../folder.json').toString(true));
  const files = new Map(
    Object.entries(await list.json()).map(([path, text]) => [`/${path}`, new TextEncoder().encode(text)]),
  );
  const changed = new vscode.EventEmitter();
  const under = (path) => (path.endsWith('/') ? path : `${path}/`);
  const isFolder = (path) => path === '/' || [...files.keys()].some((name) => name.startsWith(under(path)));
  const { File, Directory } = vscode.FileType;
  const provider = {
    onDidChangeFile: changed.event,
    watch: () => ({ dispose() {} }),
    stat(uri) {
      const bytes = files.get(uri.path);
      if (bytes) return { type: File, ctime: 0, mtime: 0, size: bytes.length };
      if (isFolder(uri.path)) return { type: Directory, ctime: 0, mtime: 0, size: 0 };
      throw missing(uri);
    },
    readDirectory(uri) {
      const top = under(uri.path);
      const names = [...files.keys()].filter((name) => name.startsWith(top)).map((name) => name.slice(top.length));
      const kinds = new Map(names.map((name) => [name.split('/')[0], name.includes('/') ? Directory : File]));
      return [...kinds];
    },
    readFile(uri) {
      const bytes = files.get(uri.path);
      if (!bytes) throw missing(uri);
      return bytes;
    },
    writeFile(uri, bytes) {
      const type = files.has(uri.path) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created;
      files.set(uri.path, bytes);
      changed.fire([{ type, uri }]);
    },
    createDirectory() {},
    delete(uri) {
      files.delete(uri.path);
      changed.fire([{ type: vscode.FileChangeType.Deleted, uri }]);
    },
    rename() {
      throw vscode.FileSystemError.NoPermissions();
    },
  };
  context.subscriptions.push(vscode.workspace.registerFileSystemProvider('memory', provider));
};
