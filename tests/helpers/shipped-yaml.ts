/** Gives the sources the YAML library that the bundles have, so that what is tested is what is shipped. */
import { build, type Plugin as BundlerPlugin } from 'esbuild';
import { join } from 'node:path';
import type { Plugin } from 'vitest/config';

const root = join(import.meta.dirname, '../..');
const id = '\0shipped-yaml';

export async function shippedYaml(): Promise<Plugin> {
  const { plainYaml } = (await import(`${root}/scripts/plain-yaml.mjs`)) as { plainYaml: BundlerPlugin };
  const { outputFiles } = await build({
    // As if a file of the server asked for it.
    stdin: { contents: `export * from 'yaml'`, resolveDir: root, sourcefile: `${root}/server/any.ts` },
    bundle: true,
    write: false,
    format: 'esm',
    plugins: [plainYaml],
  });
  const code = outputFiles[0]!.text;
  return {
    name: 'shipped-yaml',
    enforce: 'pre',
    resolveId: (asked, importer) => (asked === 'yaml' && importer?.startsWith(`${root}/server/`) ? id : undefined),
    load: (asked) => (asked === id ? code : undefined),
  };
}
