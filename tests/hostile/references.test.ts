/** Paths of kits and papers that lead, or try to lead, out of the repo, on a real disk: nothing outside is ever read. */
import fs, { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join, sep } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { mkfifoSync } from '../helpers/fifo.ts';
import { kits, spec } from '../helpers/workspace.ts';

/** Every way in which the host could look into a file goes through these. */
const [read, opened] = [vi.spyOn(fs, 'readFileSync'), vi.spyOn(fs, 'openSync')];
syncBuiltinESMExports();

const canary = 'canary-panel';
/** A kit that works, with gear that no other has: if it is read, its name shows. */
const canaryKit = kits['kits/camera.kit.yaml']!.replaceAll('panel', canary);

let folder: string;
let repo: string;

beforeAll(() => {
  folder = fs.realpathSync(mkdtempSync(join(tmpdir(), 'references-')));
  repo = join(folder, 'repo');
  const outside = join(folder, 'outside');
  for (const one of [`${repo}/kits`, `${repo}/rights`, `${repo}/films`, `${repo}-beside`, outside])
    mkdirSync(one, { recursive: true });
  for (const [path, text] of Object.entries(kits)) writeFileSync(join(repo, path), text);
  for (const one of [`${outside}/canary.kit.yaml`, `${repo}-beside/canary.kit.yaml`, `${folder}/canary.kit.yaml`])
    writeFileSync(one, canaryKit);
  writeFileSync(join(outside, 'secret.md'), 'canary-paper');
  const link = (to: string, at: string) => symlinkSync(to, join(repo, at));
  link(join(outside, 'canary.kit.yaml'), 'kits/out.kit.yaml');
  link('../../outside/canary.kit.yaml', 'kits/out-relative.kit.yaml');
  link(outside, 'kits/folder');
  link(`${repo}-beside`, 'kits/beside');
  link('out.kit.yaml', 'kits/twice.kit.yaml');
  link('round.kit.yaml', 'kits/round.kit.yaml');
  link('b.kit.yaml', 'kits/a.kit.yaml');
  link('a.kit.yaml', 'kits/b.kit.yaml');
  link('.', 'kits/here');
  link('/dev/zero', 'kits/zero.kit.yaml');
  link('/dev/stdin', 'kits/stdin.kit.yaml');
  link('/proc/self/environ', 'kits/environ.kit.yaml');
  link(join(repo, 'kits/nothing.kit.yaml'), 'kits/dangling.kit.yaml');
  link(join(outside, 'secret.md'), 'rights/out.md');
  link(folder, 'rights/up');
  mkdirSync(join(repo, 'kits/folder.kit.yaml'));
  mkdirSync(join(repo, 'rights/folder.md'));
  mkfifoSync(join(repo, 'kits/pipe.kit.yaml'));
  mkfifoSync(join(repo, 'rights/pipe.md'));
  writeFileSync(join(repo, 'kits/huge.kit.yaml'), `# ${'x'.repeat(1024 * 1024)}\n${canaryKit}`);
  writeFileSync(join(repo, 'kits/locked.kit.yaml'), canaryKit, { mode: 0o000 });
});

afterAll(() => {
  vi.restoreAllMocks();
  syncBuiltinESMExports();
  rmSync(folder, { recursive: true, force: true });
});

/** `@` is the folder around the repo. */
const kitPaths: readonly string[] = [
  '../outside/canary.kit.yaml',
  '../canary.kit.yaml',
  '../repo-beside/canary.kit.yaml',
  'kits/../../outside/canary.kit.yaml',
  'kits/../../repo/kits/camera.kit.yaml',
  './../outside/canary.kit.yaml',
  './kits/camera.kit.yaml',
  'kits//camera.kit.yaml',
  'kits/./camera.kit.yaml',
  '..',
  '@/outside/canary.kit.yaml',
  '//@/outside/canary.kit.yaml',
  'file://@/outside/canary.kit.yaml',
  'FILE:@/outside/canary.kit.yaml',
  'https://example.org/canary.kit.yaml',
  'C:/outside/canary.kit.yaml',
  'c:canary.kit.yaml',
  'C:\\outside\\canary.kit.yaml',
  '\\\\server\\share\\canary.kit.yaml',
  '//server/share/canary.kit.yaml',
  '\\\\?\\C:\\canary.kit.yaml',
  '..\\outside\\canary.kit.yaml',
  'kits\\camera.kit.yaml',
  '~/canary.kit.yaml',
  '~root/canary.kit.yaml',
  '$HOME/canary.kit.yaml',
  '%2e%2e/outside/canary.kit.yaml',
  '%2E%2E%2Foutside%2Fcanary.kit.yaml',
  '..%2foutside/canary.kit.yaml',
  '..%c0%afoutside/canary.kit.yaml',
  '%252e%252e/outside/canary.kit.yaml',
  '\uff0e\uff0e/outside/canary.kit.yaml',
  '\u2025/outside/canary.kit.yaml',
  '..\u2215outside\u2215canary.kit.yaml',
  'kits/camera.kit.yaml\\0.kit.yaml',
  '../outside/canary.kit.yaml\\0',
  'kits/\\n../canary.kit.yaml',
  'con.kit.yaml',
  'kits/NUL.kit.yaml',
  'aux/canary.kit.yaml',
  'kits/com1.kit.yaml',
  'kits/lpt9/canary.kit.yaml',
  'kits/out.kit.yaml',
  'kits/out-relative.kit.yaml',
  'kits/twice.kit.yaml',
  'kits/folder/canary.kit.yaml',
  'kits/beside/canary.kit.yaml',
  'kits/round.kit.yaml',
  'kits/a.kit.yaml',
  'kits/here/here/here/../../../../outside/canary.kit.yaml',
  'kits/zero.kit.yaml',
  'kits/stdin.kit.yaml',
  'kits/environ.kit.yaml',
  'kits/dangling.kit.yaml',
  'kits/folder.kit.yaml',
  'kits/pipe.kit.yaml',
  'kits/huge.kit.yaml',
  'kits/CAMERA.kit.yaml',
  'KITS/camera.kit.yaml',
  'kits/camera.kit.yaml ',
  'kits/camera.kit.yaml.',
  'kits/camera.kit.yaml/',
  'kits/camera.kit.yaml::$DATA',
  `kits/${'a'.repeat(300)}.kit.yaml`,
  `${'kits/'.repeat(100)}camera.kit.yaml`,
  `${'../'.repeat(40)}etc/hostname.kit.yaml`,
  '/etc/passwd',
  'kits',
  '',
  '.',
];

const paperPaths: readonly string[] = [
  '../outside/secret.md',
  '@/outside/secret.md',
  'rights/out.md',
  'rights/up/outside/secret.md',
  'rights/folder.md',
  'rights/pipe.md',
  'rights/../../outside/secret.md',
  '~/secret.md',
  'file://@/outside/secret.md',
  '%2e%2e/outside/secret.md',
  '..\\outside\\secret.md',
  '/etc/passwd',
  '/dev/zero',
  'C:/secret.md',
  'nul',
  'rights/out.md\\0',
];

/** Text for double quotes of YAML; a `\0` or `\n` in it is an escape there. */
const quoted = (path: string) => `"${path.replaceAll('@', folder).replace(/\\(?![0n])/g, '\\\\')}"`;

/** Checks a spec with a new host, and says which files were looked into. */
function check(text: string) {
  read.mockClear();
  opened.mockClear();
  const result = new Checker(new NodeHost(repo), rules).checkAs('shoot', text);
  void result.findings.map(({ fixes }) => fixes);
  const files = [...read.mock.calls, ...opened.mock.calls].map(([file]) => String(file));
  return { result, files };
}

/** Every text in a result, whatever holds it. */
function everyText(value: unknown, seen = new Set<unknown>()): string {
  if (typeof value === 'string') return value;
  if (value === null || typeof value !== 'object' || seen.has(value)) return '';
  seen.add(value);
  const inner = value instanceof Map || value instanceof Set ? [...value] : Object.values(value);
  return inner.map((one) => everyText(one, seen)).join('\n');
}

function expectInside(files: readonly string[]): void {
  for (const file of files) {
    expect(file.startsWith(repo + sep), file).toBe(true);
    // Not only by its name: what is opened is no link, and no pipe or device.
    expect(fs.realpathSync(file)).toBe(file);
    expect(fs.statSync(file).isFile()).toBe(true);
  }
}

describe('kits', () => {
  test('there are more than forty of them, and one that works is read', () => {
    expect(kitPaths.length).toBeGreaterThanOrEqual(40);
    const { result, files } = check(spec('kit: kits/camera.kit.yaml\n'));
    expect(result.findings).toEqual([]);
    expect(files).toEqual([join(repo, 'kits/camera.kit.yaml')]);
    const there = new Checker(new NodeHost(join(folder, 'outside')), rules).checkAs(
      'shoot',
      spec('kit: canary.kit.yaml\n'),
    );
    expect(everyText(there)).toContain(canary);
  });

  test.each(kitPaths)('%j', (path) => {
    const { result, files } = check(spec(`kit: ${quoted(path)}\n`));
    expectInside(files);
    expect(files.filter((file) => !/\/kits\/camera\.kit\.yaml$/.test(file))).toEqual([]);
    expect(everyText(result)).not.toContain(canary);
    expect(result.findings.some(({ rule }) => /^kit-|empty-value|odd-character|wrong-/.test(rule))).toBe(true);
  });

  test.each(kitPaths.filter((path) => path !== '' && !path.includes('\\')))('%j in the settings', (path) => {
    writeFileSync(join(repo, 'shootspec.yaml'), `kit: ${quoted(path)}\n`);
    try {
      const { files } = check(spec('title: A\n').replace('kit: kits/camera.kit.yaml\n', ''));
      expectInside(files);
    } finally {
      rmSync(join(repo, 'shootspec.yaml'));
    }
  });

  test('settings that are a link out of the repo are not read', () => {
    writeFileSync(join(folder, 'outside/shootspec.yaml'), 'kit: canary.kit.yaml\n');
    symlinkSync('../outside/shootspec.yaml', join(repo, 'shootspec.yaml'));
    try {
      expectInside(check(spec('')).files);
    } finally {
      rmSync(join(repo, 'shootspec.yaml'));
    }
  });
});

describe('papers', () => {
  test.each(paperPaths)('%j', (path) => {
    const rights = `rights:\n  tune: { kind: music, shown-on: web, proof: ${quoted(path)} }\n`;
    const { result, files } = check(spec(rights));
    expectInside(files);
    expect(files.filter((file) => !file.endsWith('.kit.yaml'))).toEqual([]);
    expect(everyText(result)).not.toContain('canary-paper');
  });
});
