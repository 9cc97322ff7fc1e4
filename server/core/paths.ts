/** The paths that a spec may name: from the repo's root, forward slashes, nothing outside. */

const reserved = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/** Why a path can't be used, in plain words; undefined for one that can. Nothing is read to find out. */
export function pathFault(path: string): string | undefined {
  if (path === '') return 'is empty';
  // eslint-disable-next-line no-control-regex -- control characters are what this looks for
  if (/[\u0000-\u001f\u007f]/.test(path)) return 'holds a control character';
  if (path.length > 400) return 'is longer than 400 characters';
  if (/^[a-z][a-z0-9+.-]*:/i.test(path)) return 'starts with a drive or an address';
  if (path.includes('\\')) return 'has backslashes; forward slashes are read everywhere';
  if (path.startsWith('/')) return 'starts at the root of the disk';
  if (path.startsWith('~')) return 'starts in a home folder';
  if (/%[0-9a-f]{2}/i.test(path)) return 'holds a percent code';
  const steps = path.split('/');
  if (steps.includes('..')) return 'climbs out with `..`';
  if (steps.some((step) => step === '' || step === '.')) return 'has an empty step';
  if (steps.some((step) => reserved.test(step))) return 'uses a name that some systems keep for devices';
  return undefined;
}

/** Marks the top folder of a repo, and says what holds for all specs in it. */
export const settingsPath = 'shootspec.yaml';

export type FileKind = 'shoot' | 'takes' | 'kit' | 'config';

export const fileKinds: readonly FileKind[] = ['shoot', 'takes', 'kit', 'config'];

const namelessFiles: readonly string[] = ['shoot.yaml', 'takes.yaml', 'kit.yaml'];

/** Is it an ending of ours with no name before it? Most likely one of ours, and known to nobody. */
export function isNameless(path: string): boolean {
  return namelessFiles.includes(path.slice(path.lastIndexOf('/') + 1));
}

/** What kind of file a path names, by its ending; undefined for all others. */
export function kindOf(path: string): FileKind | undefined {
  const name = path.slice(path.lastIndexOf('/') + 1);
  if (name === settingsPath) return 'config';
  if (name.endsWith('.shoot.yaml')) return 'shoot';
  if (name.endsWith('.takes.yaml')) return 'takes';
  return name.endsWith('.kit.yaml') ? 'kit' : undefined;
}
