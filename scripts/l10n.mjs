/**
 * Collects the texts that are shown to people, for translators: l10n/bundle.l10n.json holds those that the client says
 * by `vscode.l10n.t`, package.nls.json those of the manifest, l10n/findings.json the messages of the rules. `--check`
 * only says whether it is needed.
 */
import fs from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';
import { format, resolveConfig } from 'prettier';
import { globSync } from 'tinyglobby';
import ts from 'typescript';

const root = path.resolve(import.meta.dirname, '..');

const texts = new Set();
for (const source of globSync('client/**/*.ts', { cwd: root }).sort()) collect(path.join(root, source));
const sorted = [...texts].sort();
await write('l10n/bundle.l10n.json', Object.fromEntries(sorted.map((text) => [text, text])));
await write('l10n/findings.json', await findings());

async function write(name, value) {
  const file = path.join(root, name);
  const after = await format(JSON.stringify(value), { ...(await resolveConfig(file)), filepath: file });
  const before = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
  if (after === before) {
    console.log(`${name} holds all texts.`);
  } else if (process.argv.includes('--check')) {
    console.error(`${name} does not hold the texts as they are. Run \`npm run l10n\`.`);
    process.exitCode = 1;
  } else {
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, after);
    console.log(`Wrote ${name}.`);
  }
}

/** The templates of the rules, by rule and message. */
async function findings() {
  const outfile = path.join(root, 'out/l10n.mjs');
  const contents = `import { rules } from './server/rules/index.ts';
    import { textsOf } from './scripts/docs/texts.ts';
    export const texts = textsOf(rules);`;
  await build({
    absWorkingDir: root,
    stdin: { contents, resolveDir: root },
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    logLevel: 'warning',
  });
  return (await import(`file://${outfile}`)).texts;
}

/** The first argument of each `l10n.t(…)`: it must be written out, or nobody could translate it. */
function collect(source) {
  const tree = ts.createSourceFile(source, fs.readFileSync(source, 'utf8'), ts.ScriptTarget.Latest, true);
  const visit = (node) => {
    if (ts.isCallExpression(node) && /\bl10n\.t$/.test(node.expression.getText(tree))) {
      const [text] = node.arguments;
      if (!text || !ts.isStringLiteralLike(text)) {
        const { line } = tree.getLineAndCharacterOfPosition(node.getStart(tree));
        throw new Error(`${source}:${line + 1}: the text of l10n.t is not written out`);
      }
      texts.add(text.text);
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
}
