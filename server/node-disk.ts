/** The disk of this machine, for a server that runs in a process. */
import { join, sep } from 'node:path';
import { URI } from 'vscode-uri';
import { filePath } from './address.ts';
import type { Disk } from './disk.ts';
import { Ignored } from './ignored.ts';
import { NodeHost, pathFrom, rootFor } from './node-host.ts';

export const nodeDisk: Disk = {
  fileOf: filePath,
  uriOf: (root, path = '') => URI.file(join(root, path)).toString(),
  pathFrom,
  isInside: (folder, file) => file.startsWith(folder.endsWith(sep) ? folder : folder + sep),
  rootFor: (file, openFolder) => rootFor(file, openFolder, openFolder),
  host: (root) => new NodeHost(root),
  ignoredBelow(root) {
    const ignored = new Ignored(root);
    return (path) => ignored.has(join(root, path));
  },
  get here() {
    return process.cwd();
  },
};
