/** What `shootspec` starts: runs the command, from the engine's compiled form of it where Node keeps one (from 22.1 on). */
import Module, { createRequire } from 'node:module';

(Module as { enableCompileCache?: () => void }).enableCompileCache?.();
(createRequire(import.meta.url)('./command.cjs') as typeof import('./cli.ts')).main();
