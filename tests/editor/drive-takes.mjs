/** The step of drive.mjs on a take sheet: a clip is copied in while the sheet is open. It works in a copy of the samples. */
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const sheet = 'music-box.takes.yaml';

/** `tools`: what drive.mjs does itself: { page, samples, parent, openFile, picture, wordBox, until }. */
export function takesSteps({ page, samples, parent, openFile, picture, wordBox, until }) {
  return [['says what is wrong with a clip that is copied in beside the sheet', seesClip]];

  async function seesClip() {
    const clip = path.join(parent, 'C0017.MP4');
    record(clip);
    await samples.show({ width: 1280, height: 720 });
    const day = path.join(samples.folder, 'footage/music-box/day-1');
    fs.mkdirSync(day, { recursive: true });
    await openFile(sheet);
    await page.locator('.statusbar-item', { hasText: 'Shoot Takes' }).first().waitFor();
    await page.locator('.squiggly-warning').first().waitFor(); // No clip is there yet.
    fs.copyFileSync(clip, path.join(day, 'C0017.MP4'));
    const word = await wordBox('C0017');
    const isUnder = ({ x, y }) => Math.abs(x - word.x) < 3 && Math.abs(y - word.y) < 20;
    await until(async () => (await page.locator('.squiggly-warning').all()).length > 1);
    const boxes = await Promise.all((await page.locator('.squiggly-warning').all()).map((one) => one.boundingBox()));
    assert.ok(boxes.some(isUnder), 'the mark is under the clip that came');
    await page.mouse.move(word.x + word.width / 2, word.y + word.height / 2);
    await page.locator('.monaco-hover', { hasText: '29.97' }).first().waitFor();
    await picture('takes');
    await page.mouse.move(900, 700);
  }
}

/** As long as planned, of the planned size, but at 29.97 frames a second: one second of it is coded, and repeated. */
function record(file) {
  const second = `${file}-second.mp4`;
  const source = 'color=c=0x7a3b2e:size=3840x2160:rate=30000/1001:duration=1';
  ffmpeg('-f', 'lavfi', '-i', source, '-c:v', 'libx264', '-preset', 'ultrafast', second);
  ffmpeg('-stream_loop', '10', '-i', second, '-c', 'copy', file);
}

function ffmpeg(...args) {
  const { status, stderr } = spawnSync('ffmpeg', ['-v', 'error', ...args]);
  if (status !== 0) throw new Error(`ffmpeg: ${stderr}`);
}
