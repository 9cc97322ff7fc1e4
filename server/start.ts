/**
 * What `shootspec` starts: runs `command.cjs` from the engine's own compiled form where the build left one beside it, which
 * halves the start of a short check. A form of another version of Node is refused by the engine, and the text is compiled.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import Module, { createRequire } from 'node:module';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';

const file = join(import.meta.dirname, 'command.cjs');
const compiled = join(import.meta.dirname, 'command.cache');

function read(path: string): Buffer | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/**
 * A run is over before the engine's work on faster code has paid off: on thousands of files that work is a third of all.
 * It does less of it when code must run for longer first, and less is copied into its callers. Versions that may not know
 * these flags are left alone; so is the server, which runs for hours, and a thread, which has the flags of the first.
 */
const shortRun = ['--interrupt-budget=400000', '--max-inlined-bytecode-size-cumulative=200'];
const knowsFlags = /^1[1-3]\./.test(process.versions.v8);
if (knowsFlags && process.argv[2] !== 'serve' && process.argv[2] !== 'worker')
  for (const flag of shortRun) setFlagsFromString(flag);

const script = new Script(Module.wrap(readFileSync(file, 'utf8')), { filename: file, cachedData: read(compiled) });
const module = { exports: {} };
script.runInThisContext()(module.exports, createRequire(file), module, file, import.meta.dirname);

// Set by the build, after a check: what has run by then is in the compiled form.
if (process.env['SHOOTSPEC_WRITE_COMPILED']) {
  process.on('exit', () => writeFileSync(compiled, script.createCachedData()));
}
