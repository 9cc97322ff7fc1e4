/** Goes through named steps and says how each went; the count at the end is what `npm test` reads. */
import os from 'node:os';
import path from 'node:path';

let [passed, failed] = [0, 0];

/**
 * Answers whether none failed.
 * @param {[string, () => unknown][]} steps
 * @param {object} [options]
 * @param {string} [options.within] stands before each name
 * @param {(step: () => unknown) => boolean} [options.bearsTheRest] whether all after a step that failed would fail for it
 * @param {{ screenshot(options: { path: string }): Promise<unknown> }} [options.page] is kept as a picture where a step fails
 */
export async function goThrough(steps, { within = '', bearsTheRest = () => false, page } = {}) {
  const failedBefore = failed;
  for (const [name, step] of steps) {
    const began = Date.now();
    try {
      await step();
      passed++;
      console.log(`ok    ${within}${name} (${Date.now() - began} ms)`);
    } catch (error) {
      failed++;
      console.log(`FAIL  ${within}${name}: ${error.stack}`);
      if (page) await keepPicture(page);
      if (bearsTheRest(step)) return false;
    }
  }
  return failed === failedBefore;
}

async function keepPicture(page) {
  const file = path.join(os.tmpdir(), 'shoot-spec-failed.png');
  await page.screenshot({ path: file });
  console.log(`      picture: ${file}`);
}

export function tellCount() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
}
