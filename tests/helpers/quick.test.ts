/** The measure itself: it finds work that is slow, and minds no waiting. */
import { expect, test } from 'vitest';
import { quick } from './quick.ts';

/** Keeps the processor busy, whatever else it does meanwhile. */
function busy(ms: number): void {
  const before = process.cpuUsage();
  while (process.cpuUsage(before).user < ms * 1000);
}

test('work that takes long is found', () => {
  expect(() => quick(1, () => busy(60))).toThrow(/^took \d+ ms, where \d+ ms are enough$/);
});

test('a machine that does something else meanwhile makes no work slow', () => {
  const lock = new Int32Array(new SharedArrayBuffer(4));
  quick(10, () => Atomics.wait(lock, 0, 0, 50));
});

test('the answer is the work’s', () => {
  expect(quick(1000, () => 7)).toBe(7);
});
