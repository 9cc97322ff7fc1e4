/**
 * What an editor's extension host runs: our tests, each line told by a `suite: ` line on the console, and an error
 * thrown at the end when any failed or none ran.
 */
import Mocha from 'mocha';
import { defineAssembleTests } from './assemble.ts';
import { defineCompareTests } from './compare.ts';
import { defineEditorTests } from './editor.ts';
import { defineHandOverTests } from './hand-over.ts';
import { definePictureTests } from './pictures.ts';

export async function run(): Promise<void> {
  const mocha = new Mocha({ ui: 'bdd', timeout: 300_000, grep: process.env['ONLY_TEST'] });
  mocha.suite.emit('pre-require', globalThis, '', mocha);
  defineEditorTests();
  definePictureTests();
  defineCompareTests();
  defineAssembleTests();
  defineHandOverTests();
  let passed = 0;
  const say = (line: string): void => console.log(`suite: ${line}`);
  const failed = await new Promise<number>((resolve) => {
    const runner = mocha.run(resolve);
    runner.on('pass', (test) => {
      passed++;
      say(`ok    ${test.title} (${test.duration} ms)`);
    });
    runner.on('fail', (test, error: Error) => say(`FAIL  ${test.title}: ${error.message}`));
  });
  say(`${passed} passed, ${failed} failed`);
  if (failed > 0 || passed === 0) throw new Error(`${failed} tests failed, ${passed} passed`);
}
