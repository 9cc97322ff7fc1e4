/** `npm test -- other-editors`: Neovim and Emacs with the set-ups of docs/editors.md, or only those named. */
import path from 'node:path';
import { build, root } from '../../scripts/editor.mjs';
import { goThrough, tellCount } from '../helpers/steps.mjs';
import { spec, stepsIn } from './common.mjs';

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
for (const [key, editor] of Object.entries(editors))
  if (wanted.length === 0 || wanted.includes(key))
    await goThrough(await stepsIn(editor), { within: `${editor.name} ` });
tellCount();
