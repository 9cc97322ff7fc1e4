/** Addresses of files, which clients escape as they like. */
import { URI } from 'vscode-uri';

/** One spelling for all of the same file; what is no address stands for itself. */
export function addressOf(uri: string): string {
  return read(uri)?.toString() ?? uri;
}

/** The path of a `file:` address; undefined for every other scheme, whose path would only look like one. */
export function filePath(uri: string): string | undefined {
  const parsed = read(uri);
  return parsed?.scheme === 'file' ? parsed.fsPath : undefined;
}

function read(uri: string): URI | undefined {
  try {
    return URI.parse(uri);
  } catch {
    return undefined;
  }
}
