/** A day's clips in a folder, and what a sheet of them is told. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, utimesSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Finding } from '../../server/core/finding.ts';
import type { ClipReader } from '../../server/footage/clip-reader.ts';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { FootageStore } from '../../server/footage/footage-store.ts';
import { readContainer } from '../../server/footage/read-container.ts';
import { checkSheet } from './workspace.ts';

/** Reads in this thread, as the program does in one of its own. */
export const reader: ClipReader = {
  async read({ file, bytes }) {
    const handle = await open(file);
    const read = async (start: number, end: number) => {
      const into = new Uint8Array(end - start);
      return into.subarray(0, (await handle.read(into, 0, into.length, start)).bytesRead);
    };
    const done = await readContainer({ size: bytes, read });
    await handle.close();
    return { ...done, hasChanged: false };
  },
  end: () => undefined,
};

export interface Day {
  /** Clips by their path below the footage folder, each made elsewhere. */
  readonly clips: Readonly<Record<string, string>>;
  /** Blocks of the spec that are not as usual. */
  readonly plan: string;
  readonly sheet: string;
}

/** What is found in the sheet when all clips are read. */
export async function findingsOf({ clips, plan, sheet }: Day): Promise<readonly Finding[]> {
  const root = mkdtempSync(join(tmpdir(), 'filmed-'));
  for (const [path, from] of Object.entries(clips)) {
    const file = join(root, path);
    mkdirSync(dirname(file), { recursive: true });
    copyFileSync(from, file);
    // Copied a while ago.
    utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
  }
  const store = new FootageStore({ clips: new FootageFolder(root), reader });
  const check = () => checkSheet(sheet, { plan, outside: { footage: () => store } }).findings;
  check();
  await store.settled();
  const findings = check();
  rmSync(root, { recursive: true });
  return findings;
}

/** The base spec at a size that ffmpeg makes quickly. */
export function planOf(camera: Readonly<Record<string, string>> = {}, more = ''): string {
  const settings = {
    lens: 'normal',
    support: 'tripod',
    distance: '60 cm',
    height: '8 cm',
    raster: '320x180',
    rate: '25',
    bits: '8',
    'colour-space': 'bt709',
    shutter: '1/50 s',
    aperture: 'f/8',
    iso: '400',
    'white-balance': '5000 K',
    focus: 'locked',
    ...camera,
  };
  const lines = Object.entries(settings).map(([key, value]) => `  ${key}: ${value}\n`);
  const others = more.includes('deliver:')
    ? ''
    : 'deliver:\n  film: { raster: 160x90, rate: 25, length: 3 s, codec: h264, bitrate: 1 Mb/s, sound: none }\n';
  const cut = more.includes('cut:') ? '' : 'cut:\n  - { shot: box, length: 3 s }\n';
  const shots = more.includes('shots:') ? '' : 'shots:\n  box: { record: 4 s, handles: 0 s }\n';
  return `camera:\n${lines.join('')}${others}${shots}${cut}${more}`;
}
