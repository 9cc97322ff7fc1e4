/** The texts that everything hostile starts from: every sample, and every spec on the rules' pages. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type FileKind, kindOf } from '../../server/core/paths.ts';
import { rules } from '../../server/rules/index.ts';
import { examples, readPage } from '../helpers/page.ts';
import { kits } from '../helpers/workspace.ts';

export interface Text {
  readonly name: string;
  readonly kind: FileKind;
  readonly text: string;
  /** The other files of its repo, by path. */
  readonly files: Readonly<Record<string, string>>;
}

const root = fileURLToPath(new URL('../../sample-workspace', import.meta.url));

/** All files of the sample workspace, by path. */
export const sampleFiles: Readonly<Record<string, string>> = Object.fromEntries(
  readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => `${entry.parentPath}/${entry.name}`)
    .sort()
    .map((file) => [file.slice(root.length + 1), readFileSync(file, 'utf8')]),
);

/** The specs, kits and settings of the sample workspace, and the kits that the tests use. */
export const samples: readonly Text[] = [
  ...Object.entries(sampleFiles).flatMap(([path, text]) => asText(path, text, sampleFiles)),
  ...Object.entries(kits).flatMap(([path, text]) => asText(path, text, {})),
];

/** Every spec on a rule's page, right or wrong, once. */
export const pageSpecs: readonly Text[] = rules.flatMap(({ id, family }) => {
  const page = readPage(readFileSync(new URL(`../../server/rules/${family}/${id}.md`, import.meta.url), 'utf8'));
  return ['Wrong', 'Right'].flatMap((section) =>
    examples(page.sections.get(section) ?? '').map(({ kind, text, files }, index): Text => ({
      name: `${id} ${section} ${index + 1}`,
      kind,
      text,
      files,
    })),
  );
});

export const corpus: readonly Text[] = [...samples, ...pageSpecs];

function asText(path: string, text: string, files: Text['files']): Text[] {
  const kind = kindOf(path);
  return kind ? [{ name: path, kind, text, files }] : [];
}
