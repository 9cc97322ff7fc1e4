/** Collects the texts that the client says by `vscode.l10n.t`, for translators. */
import fs from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';
import ts from 'typescript';

/** Each text as its own translation, in the order of the alphabet. */
export function clientTexts(root) {
  const texts = new Set();
  for (const source of globSync('client/**/*.ts', { cwd: root })) collect(path.join(root, source), texts);
  return Object.fromEntries([...texts].sort().map((text) => [text, text]));
}

/** The first argument of each `l10n.t(…)`: it must be written out, or nobody could translate it. */
function collect(source, texts) {
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
