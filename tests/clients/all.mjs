/** `npm test -- other-editors`: Neovim and Emacs with the set-ups of docs/editors.md, or only those named. */
import path from 'node:path';
import { build, root } from '../../scripts/editor.mjs';
import { runEditor, spec } from './common.mjs';

const script = (name) => path.join(root, 'tests/clients', name);

const editors = {
  nvim: {
    name: 'Neovim',
    command: 'nvim',
    language: 'lua',
    args: (setup) => [
      ...['--headless', '--clean', '-n'],
      ...['-c', `luafile ${setup}`, '-c', `edit ${spec}`, '-c', `luafile ${script('nvim.lua')}`],
    ],
  },
  emacs: {
    name: 'Emacs',
    command: 'emacs',
    language: 'elisp',
    args: (setup) => ['--batch', '-l', setup, spec, '-l', script('emacs.el')],
  },
};

build();
const wanted = process.argv.slice(2);
let [passed, failed] = [0, 0];
for (const [key, editor] of Object.entries(editors)) {
  if (wanted.length > 0 && !wanted.includes(key)) continue;
  const counted = await runEditor(editor);
  passed += counted.passed;
  failed += counted.failed;
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
