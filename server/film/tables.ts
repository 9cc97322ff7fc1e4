/** The tables that convert log recordings, as files of the working folder under names of ours. */
import { quoted } from '../core/say.ts';
import type { Assembly } from './assembly.ts';

export interface Tables {
  /** By the path in the repo. */
  readonly names: ReadonlyMap<string, string>;
  readonly made: ReadonlyMap<string, Uint8Array>;
  readonly faults: readonly string[];
}

export function tablesOf({ segments }: Assembly, read: (path: string) => Uint8Array | string): Tables {
  const pictures = segments.flatMap(({ picture, into }) => [picture, ...(into ? [into.picture] : [])]);
  const paths = new Set(
    pictures.flatMap((one) => (one.kind === 'clip' && one.converts !== undefined ? [one.converts] : [])),
  );
  const names = new Map<string, string>();
  const made = new Map<string, Uint8Array>();
  const faults: string[] = [];
  for (const path of paths) {
    const bytes = read(path);
    if (typeof bytes === 'string') faults.push(`${quoted(path)}, which \`converts\` log in the kit, ${bytes}.`);
    else if (!/^LUT_3D_SIZE\s+\d{1,3}\s*$/m.test(Buffer.from(bytes.subarray(0, 4096)).toString('latin1')))
      faults.push(
        `${quoted(path)}, which \`converts\` log in the kit, is no table of three dimensions (\`LUT_3D_SIZE\`).`,
      );
    else {
      const name = `convert-${names.size}.cube`;
      names.set(path, name);
      made.set(name, bytes);
    }
  }
  return { names, made, faults };
}
