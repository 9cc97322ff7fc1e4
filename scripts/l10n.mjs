/**
 * Collects the texts of the extension that are shown to people, for translators: l10n/bundle.l10n.json holds those that
 * the client says by `vscode.l10n.t`, package.nls.json those of the manifest. `--check` only says whether it is needed.
 */
import fs from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';
import ts from 'typescript';

const root = path.resolve(import.meta.dirname, '..');
const file = path.join(root, 'l10n/bundle.l10n.json');

const texts = new Set();
for (const source of globSync('client/**/*.ts', { cwd: root }).sort()) collect(path.join(root, source));
const sorted = [...texts].sort();
const { format } = await import('prettier');
const after = await format(JSON.stringify(Object.fromEntries(sorted.map((text) => [text, text]))), { filepath: file });
const before = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
if (after === before) {
  console.log(`The bundle holds all ${sorted.length} texts of the extension.`);
} else if (process.argv.includes('--check')) {
  console.error('The bundle does not hold the texts as they are. Run `npm run l10n`.');
  process.exitCode = 1;
} else {
  fs.mkdirSync(path.dirname(file), { recursive: true });
  fs.writeFileSync(file, after);
  console.log(`Wrote ${sorted.length} texts into l10n/bundle.l10n.json.`);
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
