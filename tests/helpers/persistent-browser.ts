/** A phone's browser that keeps what pages write, and that can be killed as a battery that dies kills it. */
import { readdirSync, readFileSync } from 'node:fs';
import { type BrowserContext, type BrowserContextOptions, chromium } from 'playwright-core';
import { executablePath, patienceMs } from './browser.ts';

/** @param profile the folder of what it keeps, which nothing else is named after */
export async function openProfile(profile: string, options: BrowserContextOptions): Promise<BrowserContext> {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: executablePath!,
    args: ['--no-sandbox', '--disable-gpu'],
    timeout: patienceMs,
    ...options,
  });
  context.setDefaultTimeout(patienceMs);
  return context;
}

/** All processes of the browser of a profile at once, without a word to them beforehand. */
export async function kill(context: BrowserContext, profile: string): Promise<void> {
  const ended = new Promise((resolve) => context.once('close', resolve));
  const ours = readdirSync('/proc').filter((name) => /^\d+$/.test(name) && commandOf(name).includes(profile));
  for (const id of ours) process.kill(Number(id), 'SIGKILL');
  await ended;
}

function commandOf(id: string): string {
  try {
    return readFileSync(`/proc/${id}/cmdline`, 'utf8');
  } catch {
    // It has ended meanwhile.
    return '';
  }
}
