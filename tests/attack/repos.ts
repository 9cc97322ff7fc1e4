/**
 * Git repos of random shape: settings that name programs, heads that lead nowhere, trees that no git would make, objects
 * that are not there, links and pipes. Comparing in them must run nothing, wait for nothing without end, read and write
 * nothing outside, and leave no process behind.
 */
import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { URI } from 'vscode-uri';
import { Checkout, GitFault } from '../../server/git.ts';
import { mkfifoSync } from '../helpers/fifo.ts';
import { gitEnv } from '../helpers/git.ts';
import { acting } from '../helpers/hostile.ts';
import { Client } from '../helpers/server.ts';
import { kits, spec } from '../helpers/workspace.ts';
import type { Random } from '../hostile/random.ts';

const bundle = join(import.meta.dirname, '../../dist/cli.cjs');
/** Stands in files outside the repo only, so it is in no output. */
const secret = 'tinselwork';

const plan = spec('shots:\n  reveal: { record: 12 s, camera: { shutter: 1/50 s } }\n');
const changed = plan.replace('{ shutter: 1/50 s }', '{ shutter: 1/100 s }');
const files = { ...kits, 'shootspec.yaml': 'format: 1\n', 'films/box.shoot.yaml': plan, 'films/lid.shoot.yaml': plan };

/** Settings whose value is a program that git would run. */
const programs = [
  ...['core.fsmonitor', 'core.sshCommand', 'core.pager', 'core.editor', 'core.askPass', 'core.gitProxy'],
  ...['core.alternateRefsCommand', 'pager.diff', 'pager.ls-files', 'pager.rev-parse', 'pager.config', 'credential.helper'],
  ...['diff.external', 'diff.odd.command', 'diff.odd.textconv', 'filter.odd.clean', 'filter.odd.smudge'],
  ...['filter.odd.process', 'filter.x=y.clean', 'filter.a.b.clean', 'merge.odd.driver', 'gpg.program', 'alias.diff'],
  ...['alias.rev-parse', 'alias.ls-files', 'uploadpack.packObjectsHook', 'remote.origin.uploadpack', 'gpg.ssh.program'],
  ...['interactive.diffFilter', 'sequence.editor', 'submodule.inner.update', 'gc.recentObjectsHook'],
]; // prettier-ignore

/** Other settings that change what git reads, where, and how it says it. */
const settings: readonly (readonly [key: string, values: readonly string[]])[] = [
  ['core.worktree', ['..', '/', '../outside', '../../', 'films', 'nowhere', '/proc/self/cwd', '/dev']],
  ['core.bare', ['true', 'false', 'perhaps']],
  ['core.repositoryFormatVersion', ['0', '1', '99', 'x']],
  ['core.attributesFile', ['PIPE', 'OUTSIDE', '/dev/zero']],
  ['core.excludesFile', ['PIPE', 'OUTSIDE']],
  ['core.quotePath', ['false']],
  ['core.ignoreCase', ['true']],
  ['core.symlinks', ['false']],
  ['core.fileMode', ['false']],
  ['core.autocrlf', ['true', 'input']],
  ['core.safecrlf', ['true']],
  ['core.precomposeUnicode', ['true']],
  ['core.sparseCheckout', ['true']],
  ['core.untrackedCache', ['true']],
  ['core.splitIndex', ['true']],
  ['core.checkStat', ['minimal']],
  ['core.abbrev', ['4', '-1', 'no']],
  ['core.commitGraph', ['true']],
  ['core.bigFileThreshold', ['1']],
  ['core.protectNTFS', ['false']],
  ['core.protectHFS', ['false']],
  ['color.ui', ['always']],
  ['diff.renames', ['copies', 'false']],
  ['diff.renameLimit', ['1', '-5']],
  ['diff.orderFile', ['PIPE', 'OUTSIDE']],
  ['diff.relative', ['true']],
  ['diff.noprefix', ['true']],
  ['diff.submodule', ['diff', 'log']],
  ['diff.ignoreSubmodules', ['none']],
  ['diff.algorithm', ['odd']],
  ['status.submoduleSummary', ['true']],
  ['submodule.recurse', ['true']],
  ['status.showUntrackedFiles', ['all']],
  ['log.showSignature', ['true']],
  ['log.excludeDecoration', ['*']],
  ['i18n.logOutputEncoding', ['UTF-16']],
  ['extensions.partialClone', ['origin']],
  ['extensions.worktreeConfig', ['true']],
  ['extensions.objectFormat', ['sha256', 'odd']],
  ['extensions.odd', ['true']],
  ['remote.origin.promisor', ['true']],
  ['remote.origin.partialclonefilter', ['blob:none']],
  ['remote.origin.url', ['ext::sh -c TOUCH', 'ssh://-oProxyCommand=TOUCH/x', '--upload-pack=TOUCH', 'OUTSIDE', 'file:///']],
  ['remote.origin.vcs', ['odd']],
  ['url.ext::sh -c TOUCH .insteadOf', ['ssh://']],
  ['protocol.allow', ['always']],
  ['protocol.ext.allow', ['always']],
  ['include.path', ['PIPE', 'OUTSIDE', 'config', '../nowhere', '~/x', '/dev/zero']],
  ['includeIf.gitdir:/.path', ['PIPE', '../more']],
  ['includeIf.onbranch:**.path', ['../more']],
  ['safe.directory', ['*']],
  ['trace2.eventTarget', ['HERE/trace']],
  ['core.useReplaceRefs', ['true']],
]; // prettier-ignore

/** Names that a tree may have, if nobody looks. */
const treeNames = [
  ...['..', '.', '.git', '.GIT', 'git~1', '', 'a/b', '../outside/secret.shoot.yaml', '/etc/passwd', 'con', 'a\nb.shoot.yaml'],
  ...['--output=x.shoot.yaml', '-x.shoot.yaml', '\u202ea.shoot.yaml', 'e\u0301.kit.yaml', '\u001b[31m.shoot.yaml'],
  ...['shootspec.yaml', 'kits', 'films', `${'n'.repeat(300)}.shoot.yaml`, '\udcff.shoot.yaml', 'x.shoot.yaml', '%0A::error::.kit.yaml'],
]; // prettier-ignore

const heads = [
  'ref: refs/heads/../../../outside/secret.shoot.yaml\n',
  'ref: refs/heads/loop\n',
  'ref: refs/heads/nowhere\n',
  'ref: refs/heads/.lock\n',
  'ref: /etc/passwd\n',
  'ref: --output=x\n',
  `${'0'.repeat(40)}\n`,
  `${'f'.repeat(40)}\n`,
  'x',
  '',
  '\0\0',
  `ref: refs/heads/${'a/'.repeat(2000)}b\n`,
  'HEAD',
];

const revisions = [
  ...['HEAD', 'HEAD', 'HEAD', 'HEAD~1', 'HEAD^{tree}', 'HEAD@{1}', 'HEAD@{yesterday}', '@{-1}', '@{u}', 'main', 'master', ':/x'],
  ...['HEAD^{/x}', ':0:films/box.shoot.yaml', 'HEAD:films', 'refs/heads/loop', 'FETCH_HEAD', 'stash', 'v1', '-', '--all'],
  ...['HEAD..HEAD~1', '^HEAD', '--git-dir=../outside', '--output=x', '\u202eHEAD', 'HEAD:films/box.shoot.yaml', 'HEAD:../x.shoot.yaml'],
]; // prettier-ignore

/** One seed makes the same commits. */
const always = { GIT_AUTHOR_DATE: '1700000000 +0000', GIT_COMMITTER_DATE: '1700000000 +0000' };

type Trick = (repo: HostileRepo) => void;

const tricks: Readonly<Record<string, Trick>> = {
  program: (repo) => repo.set(repo.random.of(programs), repo.program()),
  programs: (repo) => programs.forEach((key) => repo.set(key, repo.program())),
  setting: (repo) => {
    const [key, values] = repo.random.of(settings);
    repo.set(key, repo.filled(repo.random.of(values)));
  },
  partialClone: (repo) => {
    repo.set('core.repositoryFormatVersion', '1');
    repo.set('extensions.partialClone', 'origin');
    repo.set('remote.origin.promisor', 'true');
    repo.set('remote.origin.url', repo.filled(repo.random.of(['ext::sh -c TOUCH', 'ssh://x.invalid/', 'OUTSIDE', '.'])));
    repo.set('protocol.ext.allow', 'always');
    repo.loseObject();
  },
  settingsOfNoForm: (repo) =>
    repo.append('.git/config', repo.random.of(['[', '[core\n', '[x "\n"]', '\0', '= y\n', `[a]\nb = ${'"'}\n`, '[core]\nbare\n'])),
  worktreeSettings: (repo) => {
    repo.set('extensions.worktreeConfig', 'true');
    repo.put('.git/config.worktree', `[core]\n\tfsmonitor = ${repo.program()}\n[filter "odd"]\n\tclean = ${repo.program()}\n`);
  },
  hooks: (repo) => {
    for (const hook of ['post-index-change', 'fsmonitor-watchman', 'reference-transaction', 'pre-auto-gc', 'post-checkout'])
      repo.put(`.git/hooks/${hook}`, `#!/bin/sh\n${repo.program()}\n`, 0o755);
  },
  attributes: (repo) =>
    repo.append(
      repo.random.of(['.gitattributes', 'films/.gitattributes', '.git/info/attributes']),
      `*.yaml ${repo.random.of(['filter=odd', 'filter=x=y', 'filter=a.b', 'diff=odd', 'text', 'eol=crlf', 'working-tree-encoding=UTF-16', 'ident', 'binary', 'merge=odd', '-diff', 'export-subst', `x${'y'.repeat(3000)}`])}\n`,
    ),
  head: (repo) => repo.put('.git/HEAD', repo.random.of(heads)),
  headOfALink: (repo) => repo.link('.git/HEAD', repo.random.of(['../../outside/secret.shoot.yaml', 'HEAD', '/dev/zero', 'refs'])),
  loopOfRefs: (repo) => {
    repo.put('.git/refs/heads/loop', 'ref: refs/heads/back\n');
    repo.put('.git/refs/heads/back', 'ref: refs/heads/loop\n');
  },
  packedRefs: (repo) =>
    repo.put(
      '.git/packed-refs',
      repo.random.of(['# pack-refs with: peeled fully-peeled sorted\n', 'x\n', '\0', `${'1'.repeat(40)} refs/heads/main\n^${'2'.repeat(40)}\n`, `${'a'.repeat(39)} HEAD\n`, `${'1'.repeat(40)} ../../x\n`.repeat(2000)]),
    ),
  replaced: (repo) => repo.tryGit('replace', '-f', 'HEAD', 'HEAD~1'),
  lostObject: (repo) => repo.loseObject(),
  spoiltObject: (repo) => {
    const object = repo.anObject();
    if (!object) return;
    chmodSync(object, 0o644);
    const bytes = readFileSync(object);
    writeFileSync(object, repo.random.of([Buffer.alloc(0), bytes.subarray(0, bytes.length / 2), Buffer.from('x'), Buffer.concat([bytes, bytes])]));
  },
  pipeAsObject: (repo) => {
    const object = repo.anObject();
    if (object) repo.pipeAt(object);
  },
  packed: (repo) => {
    repo.tryGit('gc', '-q');
    const folder = join(repo.root, '.git/objects/pack');
    const packs = existsSync(folder) ? readdirSync(folder) : [];
    const one = packs.length > 0 ? join(folder, repo.random.of(packs)) : undefined;
    if (!one || repo.random.below(2) === 0) return;
    chmodSync(one, 0o644);
    writeFileSync(one, readFileSync(one).subarray(0, repo.random.below(400)));
  },
  alternates: (repo) =>
    repo.put('.git/objects/info/alternates', repo.filled(repo.random.of(['.\n', '../objects\n', 'OUTSIDE\n', '/\n', '/dev/fd\n', 'PIPE\n', `${'x/'.repeat(3000)}\n`, '/nowhere\n'.repeat(5000)]))),
  shallow: (repo) => repo.put('.git/shallow', repo.random.of([`${repo.head()}\n`, `${'0'.repeat(40)}\n`, 'x\n', '', '\0'])),
  grafts: (repo) => repo.put('.git/info/grafts', repo.random.of([`${repo.head()} ${repo.head()}\n`, 'x y\n'])),
  index: (repo) => {
    const index = join(repo.root, '.git/index');
    const bytes = existsSync(index) ? readFileSync(index) : Buffer.alloc(0);
    const at = repo.random.below(Math.max(1, bytes.length));
    const spoilt = Buffer.from(bytes);
    spoilt.fill(repo.random.below(256), at, at + 4);
    repo.put('.git/index', repo.random.of([spoilt, bytes.subarray(0, at), Buffer.alloc(0), Buffer.from('DIRC\0\0\0\x02\xff\xff\xff\xff', 'latin1')]));
  },
  sparse: (repo) => {
    repo.set('core.sparseCheckout', 'true');
    repo.put('.git/info/sparse-checkout', repo.random.of(['/kits\n', '!\n', '**/'.repeat(40), '\0']));
  },
  commonFolder: (repo) => repo.put('.git/commondir', repo.filled(repo.random.of(['..\n', 'OUTSIDE\n', '.\n', '../.git\n', '/nowhere\n', '']))),
  gitAsFile: (repo) => {
    renameSync(join(repo.root, '.git'), join(repo.root, repo.random.of(['inner.git', '../moved.git'])));
    repo.put('.git', repo.filled(repo.random.of(['gitdir: inner.git\n', 'gitdir: ../moved.git\n', 'gitdir: .git\n', 'gitdir: OUTSIDE\n', 'gitdir: /dev/zero\n', 'gitdir: PIPE\n', 'x', '', 'gitdir: inner.git\0/x\n'])));
  },
  gitAsLink: (repo) => {
    renameSync(join(repo.root, '.git'), join(repo.root, '../moved.git'));
    repo.link('.git', repo.random.of(['../moved.git', '.git', '/', '../outside']));
  },
  /** Plain files in a folder that git takes for a repo, with settings of their own: they come with any clone. */
  bareInside: (repo) => {
    repo.put('films/HEAD', 'ref: refs/heads/main\n');
    repo.put('films/objects/info/x', '');
    repo.put('films/refs/x', '');
    repo.put(
      'films/config',
      `[core]\n\trepositoryformatversion = 0\n\tbare = false\n\tworktree = ${repo.random.of(['.', '..', '../../outside', '/'])}\n\tfsmonitor = ${repo.program()}\n[filter "odd"]\n\tclean = ${repo.program()}\n[include]\n\tpath = ../../more\n`,
    );
  },
  submodule: (repo) => {
    const inner = join(repo.root, 'films/inner');
    mkdirSync(inner, { recursive: true });
    repo.tryGit('init', '-q', 'films/inner');
    repo.put('films/inner/a.shoot.yaml', changed);
    repo.put('films/inner/.gitattributes', '* filter=odd\n');
    repo.append('films/inner/.git/config', `[core]\n\tfsmonitor = ${repo.program()}\n[filter "odd"]\n\tclean = ${repo.program()}\n`);
    repo.tryGit('update-index', '--add', '--cacheinfo', `160000,${repo.random.of([repo.head(), '1'.repeat(40)])},films/inner`);
    repo.put('.gitmodules', `[submodule "inner"]\n\tpath = ${repo.random.of(['films/inner', '../outside', '-x'])}\n\turl = ${repo.random.of(['ext::sh -c x', '--upload-pack=x'])}\n\tupdate = !${repo.program()}\n`);
    repo.tryGit('commit', '-qm', 'inner');
  },
  linkedWorktree: (repo) => {
    repo.tryGit('worktree', 'add', '-q', 'films/tree');
    const own = join(repo.root, '.git/worktrees/tree');
    if (existsSync(own)) repo.put(`.git/worktrees/tree/${repo.random.of(['gitdir', 'commondir', 'HEAD', 'config.worktree'])}`, repo.filled(repo.random.of(['OUTSIDE\n', '..\n', '\0', '../../..\n'])));
  },
  links: (repo) => {
    const [from, to] = repo.random.of([
      ['films/out.shoot.yaml', '../../outside/secret.shoot.yaml'],
      ['films/box.shoot.yaml', '../../outside/secret.shoot.yaml'],
      ['kits/camera.kit.yaml', '../../outside/secret.kit.yaml'],
      ['films/loop.shoot.yaml', 'loop.shoot.yaml'],
      ['films/dev.shoot.yaml', '/dev/zero'],
      ['more', '../outside'],
      ['kits', '../outside'],
      ['shootspec.yaml', '../outside/shootspec.yaml'],
    ] as const);
    repo.link(from, to);
    if (repo.random.below(2) === 0) repo.commit();
  },
  pipes: (repo) =>
    repo.pipeAt(join(repo.root, repo.random.of(['films/pipe.shoot.yaml', 'films/box.shoot.yaml', 'kits/camera.kit.yaml', 'shootspec.yaml', '.gitignore', '.gitattributes', 'films/.gitignore', '.git/config', '.git/HEAD', '.git/index', '.git/packed-refs', '.git/shallow', '.git/info/exclude', '.git/refs/heads/main', '.git/remotes/origin', '.git/branches/origin', '.git/objects/info/alternates', '.git/commondir', '.git/objects/info/commit-graph', '.gitmodules']))),
  foldersForFiles: (repo) => {
    const path = repo.random.of(['films/box.shoot.yaml', 'shootspec.yaml', '.git/index', '.git/HEAD', '.git/config', '.gitignore']);
    rmSync(join(repo.root, path), { recursive: true, force: true });
    mkdirSync(join(repo.root, path), { recursive: true });
  },
  trees: (repo) => repo.commitTree(1 + repo.random.below(4)),
  deepTree: (repo) => {
    const deep = `${'d/'.repeat(100 + repo.random.below(300))}a.shoot.yaml`;
    repo.put(deep, changed);
    repo.commit();
  },
  largeBlob: (repo) => {
    repo.put('films/box.shoot.yaml', 'a: b\n'.repeat(2_000_000));
    repo.commit();
    repo.put('films/box.shoot.yaml', changed);
  },
  namesOfNoText: (repo) => {
    for (const name of ['\xff\xfe.shoot.yaml', 'a\nb.shoot.yaml', '-x.shoot.yaml', '\u001b[31m.kit.yaml', ':(top)x.shoot.yaml'])
      writeFileSync(Buffer.from(join(repo.root, 'films', name), name.startsWith('\xff') ? 'latin1' : 'utf8'), changed);
    if (repo.random.below(2) === 0) repo.commit();
  },
  ignored: (repo) => repo.append('.gitignore', repo.random.of(['*\n', '!.git\n', '**/a/'.repeat(60), '[\n', '\\\n', '\0\n', '/../\n'])),
  moved: (repo) => {
    repo.tryGit('mv', 'films/box.shoot.yaml', 'films/other.shoot.yaml');
    repo.put('films/other.shoot.yaml', changed);
  },
  emptied: (repo) => rmSync(join(repo.root, '.git', repo.random.of(['objects', 'refs', 'index', 'HEAD', 'config'])), { recursive: true, force: true }),
  lock: (repo) => repo.put(`.git/${repo.random.of(['index.lock', 'HEAD.lock', 'config.lock', 'shallow.lock', 'packed-refs.lock'])}`, ''),
  oddCommit: (repo) => {
    const tree = repo.gitSays('rev-parse', 'HEAD^{tree}');
    const text = repo.random.of([
      `tree ${tree}\n\n`,
      `tree ${'1'.repeat(40)}\nauthor A <a> 1 +0\n\nx`,
      `tree ${tree}\nparent ${'2'.repeat(40)}\nauthor A <a> 99999999999999999999 +9999\n\n\u001b[31mx`,
      'x',
      `tree ${repo.head()}\n\n`,
    ]);
    const made = repo.object('commit', Buffer.from(text));
    if (made) repo.put('.git/HEAD', `${made}\n`);
  },
}; // prettier-ignore

/** Some of them, one after the other: what the first breaks is the second's to cope with. */
const trickNames = Object.keys(tricks);

class HostileRepo {
  /** Holds the repo, what lies outside it, and what a program that was run leaves. */
  readonly around = mkdtempSync(join(tmpdir(), 'attack-repo-'));
  readonly root = join(this.around, 'repo');
  readonly ran = join(this.around, 'ran');
  readonly done: string[] = [];
  /** A pipe is waited for as long as git may take, so these are looked at with less patience. */
  hasPipe = false;
  #programs = 0;

  constructor(readonly random: Random) {
    mkdirSync(this.ran);
    for (const [path, text] of Object.entries(files)) this.put(path, text);
    for (const path of ['secret.shoot.yaml', 'secret.kit.yaml', 'shootspec.yaml'])
      this.put(`../outside/${path}`, `title: ${secret}\nx-${secret}: ${secret}\n`);
    this.tryGit('init', '-q', '-b', 'main');
    this.commit();
    this.put('films/lid.shoot.yaml', changed);
    this.commit();
    this.put('films/box.shoot.yaml', changed);
    // Of another time than git knows, so that it must look into it.
    utimesSync(join(this.root, 'films/lid.shoot.yaml'), 1, 1);
    this.put('../more', `[core]\n\tfsmonitor = ${this.program()}\n[filter "odd"]\n\tclean = ${this.program()}\n`);
    for (let count = 1 + random.below(4); count > 0; count--) {
      const name = random.of(trickNames);
      this.done.push(name);
      try {
        tricks[name]!(this);
      } catch (error) {
        // One trick leaves nothing for another to spoil.
        if ((error as NodeJS.ErrnoException).code === undefined) throw error;
      }
    }
  }

  remove(): void {
    rmSync(this.around, { recursive: true, force: true });
  }

  /** A command that leaves a file in `ran`, and stays for as long as anyone would wait. */
  program(): string {
    return `touch '${join(this.ran, String(++this.#programs))}'`;
  }

  filled(value: string): string {
    if (value.includes('PIPE')) this.pipeAt(join(this.around, 'pipe'));
    return value
      .replaceAll('PIPE', join(this.around, 'pipe'))
      .replaceAll('OUTSIDE', join(this.around, 'outside'))
      .replaceAll('HERE', this.around)
      .replaceAll('TOUCH', this.program().replaceAll(' ', '% '));
  }

  put(path: string, content: string | Buffer, mode = 0o644): void {
    const file = join(this.root, path);
    mkdirSync(dirname(file), { recursive: true });
    if (existsSync(file) && !lstatSync(file).isDirectory()) rmSync(file);
    writeFileSync(file, content, { mode });
  }

  append(path: string, text: string): void {
    mkdirSync(dirname(join(this.root, path)), { recursive: true });
    appendFileSync(join(this.root, path), text);
  }

  link(path: string, to: string): void {
    rmSync(join(this.root, path), { recursive: true, force: true });
    symlinkSync(to, join(this.root, path));
  }

  pipeAt(path: string): void {
    rmSync(path, { recursive: true, force: true });
    mkdirSync(dirname(path), { recursive: true });
    mkfifoSync(path);
    this.hasPipe = true;
  }

  /** Written as git would write it, whatever else stands there. */
  set(key: string, value: string): void {
    const [, section, sub, name] = /^([^.]+)(?:\.(.*))?\.([^.]+)$/s.exec(key)!;
    const quote = (text: string) => `"${text.replace(/[\\"]/g, '\\$&')}"`;
    this.append(
      '.git/config',
      `[${section}${sub === undefined ? '' : ` ${quote(sub)}`}]\n\t${name} = ${quote(value)}\n`,
    );
  }

  commit(): void {
    if (this.hasPipe) return;
    this.tryGit('add', '-A');
    this.tryGit('commit', '-qm', 'x');
  }

  /** In a repo that may be beyond it by now. Whatever the repo names is run here, so it is forgotten afterwards. */
  tryGit(...args: string[]): void {
    this.#git(args);
  }

  gitSays(...args: string[]): string {
    return this.#git(args).stdout.toString().trim();
  }

  head(): string {
    return this.gitSays('rev-parse', 'HEAD') || '3'.repeat(40);
  }

  object(type: string, bytes: Buffer): string {
    return this.#git(['hash-object', '-t', type, '-w', '--stdin', '--literally'], bytes).stdout.toString().trim();
  }

  #git(args: readonly string[], input?: Buffer) {
    // What is to be attacked is set up without what it names: no program may run before the attack.
    const own = ['-c', 'core.fsmonitor=false', '-c', 'core.hooksPath=/dev/null', '-c', 'gc.auto=0'];
    const env = { ...gitEnv, GIT_ALLOW_PROTOCOL: 'none', GIT_PAGER: 'cat', ...always };
    const said = spawnSync('git', [...own, ...args], { cwd: this.root, env, input, timeout: 60_000 });
    for (const name of readdirSync(this.ran)) rmSync(join(this.ran, name));
    return said;
  }

  anObject(): string | undefined {
    const folder = join(this.root, '.git/objects');
    const all = existsSync(folder)
      ? readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /^..\/.{38}$/.test(name))
      : [];
    return all.length === 0 ? undefined : join(folder, this.random.of(all.sort()));
  }

  loseObject(): void {
    const object = this.anObject();
    if (object) rmSync(object);
  }

  /** A commit of a tree that git itself would never make. */
  commitTree(count: number): void {
    const blob = this.object('blob', Buffer.from(changed));
    const inner = this.object('tree', treeOf([['secret.shoot.yaml', blob, '100644']]));
    const entries = Array.from({ length: count }, () => {
      const name = this.random.of(treeNames);
      const [id, mode] = this.random.of([
        [blob, '100644'],
        [blob, '120000'],
        [inner, '40000'],
        [inner, '100644'],
        [blob, '40000'],
        ['1'.repeat(40), '160000'],
        ['2'.repeat(40), '100644'],
        [this.object('blob', Buffer.from('../outside/secret.shoot.yaml')), '120000'],
      ] as const);
      return [name, id, mode] as const;
    });
    const tree = this.object(
      'tree',
      treeOf([['a.shoot.yaml', blob, '100644'], ...entries, ['outside', inner, '40000']]),
    );
    if (!tree) return;
    const commit = this.gitSays('commit-tree', tree, '-m', 'x', '-p', 'HEAD');
    if (commit) this.put('.git/HEAD', `${commit}\n`);
  }
}

function treeOf(entries: readonly (readonly [name: string, id: string, mode: string])[]): Buffer {
  return Buffer.concat(
    entries.map(([name, id, mode]) => Buffer.concat([Buffer.from(`${mode} ${name}\0`), Buffer.from(id, 'hex')])),
  );
}

/** Everything below a folder but pipes' content: what is there, how large, how old, and where links lead. */
function stateOf(folder: string): string {
  const all: string[] = [];
  const walk = (path: Buffer): void => {
    for (const entry of readdirSync(path, { withFileTypes: true, encoding: 'buffer' })) {
      const file = Buffer.concat([path, Buffer.from('/'), entry.name]);
      const { size, mtimeMs, mode } = lstatSync(file);
      const what = entry.isSymbolicLink() ? readlinkSync(file) : entry.isDirectory() ? '' : `${size} ${mtimeMs}`;
      all.push(`${file.toString('latin1')} ${mode} ${what}`);
      if (entry.isDirectory()) walk(file);
    }
  };
  walk(Buffer.from(folder));
  return all.sort().join('\n');
}

/** Processes that were started for a repo and are still there. */
function leftProcesses(folder: string): string[] {
  if (process.platform !== 'linux') return [];
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name) && name !== String(process.pid))
    .flatMap((pid) => {
      try {
        const line = readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
        return line.includes(folder) || readlinkSync(`/proc/${pid}/cwd`).startsWith(folder) ? [line] : [];
      } catch {
        return []; // It has ended.
      }
    });
}

export interface Tried {
  readonly what: string;
  readonly input: string;
  readonly fault?: string;
}

/** So long the command may take: git's own limit, and our start. */
const mostMs = 60_000;

export class RepoAttack {
  #client: Client | undefined;

  constructor(private readonly random: Random) {}

  async stop(): Promise<void> {
    await this.#client?.stop();
  }

  /** Makes a repo, compares in it by the command and by the server, and looks at what is left. */
  async round(): Promise<Tried[]> {
    const repo = new HostileRepo(this.random);
    const folder = this.random.of(['', '', '', 'films', 'kits', 'films/inner', 'films/tree']);
    const cwd = existsSync(join(repo.root, folder)) ? join(repo.root, folder) : repo.root;
    const args = Array.from({ length: 1 + this.random.below(2) }, () => this.random.of(revisions));
    const before = stateOf(repo.around);
    const input = `${repo.done.join(', ')}: compare ${JSON.stringify(args)} in ${folder || 'the top'}`;
    const tried: Tried[] = [];
    const add = (what: string, fault: string | undefined) => tried.push({ what, input, fault });
    add(
      repo.hasPipe ? 'repos (git with pipes)' : 'repos (command)',
      repo.hasPipe ? await byGit(cwd, args[0]!) : byCommand(cwd, args),
    );
    add('repos (server)', await this.#byServer(repo));
    const ran = readdirSync(repo.ran).filter((name) => name !== '');
    if (ran.length > 0) add('repos', `ran ${ran.length} programs`);
    if (stateOf(repo.around) !== before) add('repos', `changed:\n${difference(before, stateOf(repo.around))}`);
    const left = leftProcesses(repo.around);
    if (left.length > 0) add('repos', `left running: ${left.join(' | ')}`);
    repo.remove();
    return tried;
  }

  async #byServer(repo: HostileRepo): Promise<string | undefined> {
    const client = (this.#client ??= await started());
    const uri = URI.file(join(repo.root, 'films/box.shoot.yaml')).toString();
    await client.open(uri, changed);
    const over = new Promise<string>((late) => setTimeout(late, mostMs, 'no answer in a minute').unref());
    const asked = client.request<{ markdown?: string; message?: string } | null>('shootSpec/compare', {
      textDocument: { uri },
    });
    const fault = await Promise.race([
      over,
      asked.then(
        (answer) => faultIn(`${answer?.markdown ?? ''}${answer?.message ?? ''}`),
        (error: Error) => error.message,
      ),
    ]);
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    if (client.process.exitCode === null) return fault;
    this.#client = undefined;
    return `the server ended with ${client.process.exitCode}`;
  }
}

async function started(): Promise<Client> {
  const client = new Client();
  client.process.stderr?.resume();
  await client.initialize(mkdtempSync(join(tmpdir(), 'attack-open-')));
  return client;
}

function byCommand(cwd: string, args: readonly string[]): string | undefined {
  const { status, signal, stdout, stderr } = spawnSync(
    process.execPath,
    [bundle, 'compare', '--format', 'markdown', '--', ...args],
    { cwd, env: gitEnv, encoding: 'utf8', timeout: mostMs },
  );
  if (signal) return `did not end in ${mostMs / 1000} s`;
  if (status !== 0 && status !== 2) return `ended with ${status}: ${stderr}`;
  if (/fault in shootspec|\n {4}at /.test(stderr)) return stderr;
  return faultIn(stdout + stderr);
}

/** As the command asks git, with less patience. */
async function byGit(cwd: string, name: string): Promise<string | undefined> {
  try {
    const checkout = await Checkout.around(cwd, { limitMs: 1500, env: gitEnv });
    const commit = await checkout.commitOf(name);
    if (commit === undefined) return undefined;
    const revision = await checkout.revision(commit);
    for (const file of revision.files) revision.read(file, '');
    await checkout.movedSince(commit);
    await checkout.differences(commit);
    return undefined;
  } catch (error) {
    return error instanceof GitFault ? undefined : ((error as Error).stack ?? String(error));
  }
}

function faultIn(output: string): string | undefined {
  if (output.includes(secret)) return `says what lies outside: ${output.slice(0, 500)}`;
  const acts = acting.exec(output);
  return acts ? `holds ${JSON.stringify(acts[0])}: ${output.slice(0, 500)}` : undefined;
}

function difference(before: string, after: string): string {
  const [was, is] = [new Set(before.split('\n')), new Set(after.split('\n'))];
  return [...[...was].filter((one) => !is.has(one)), '→', ...[...is].filter((one) => !was.has(one))]
    .slice(0, 12)
    .join('\n');
}
