/** A folder of clips and one of masters, read and decoded as the command line does, and what a sheet of them is told. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Finding } from '../../server/core/finding.ts';
import { Decoder, filesOfSheet } from '../../server/footage/decode/decoder.ts';
import { ffmpeg } from '../../server/footage/decode/ffmpeg.ts';
import { decodedClips, Kept } from '../../server/footage/decode/kept.ts';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { FootageStore } from '../../server/footage/footage-store.ts';
import { reader } from './filmed.ts';
import { checkSheet } from './workspace.ts';

export interface DecodedDay {
  /** By their path below the folder, each made elsewhere. */
  readonly clips?: Readonly<Record<string, string>>;
  readonly masters?: Readonly<Record<string, string>>;
  /** Blocks of the spec that are not as usual. */
  readonly plan: string;
  readonly sheet: string;
}

export async function decodedFindings({
  clips = {},
  masters = {},
  plan,
  sheet,
}: DecodedDay): Promise<readonly Finding[]> {
  const root = mkdtempSync(join(tmpdir(), 'decoded-'));
  put(join(root, 'footage'), clips);
  put(join(root, 'masters'), masters);
  const decoder = new Decoder(await ffmpeg(), new Kept(decodedClips, join(root, 'kept')));
  const folders = {
    clips: new FootageFolder(join(root, 'footage')),
    masters: new FootageFolder(join(root, 'masters')),
  };
  const store = new FootageStore({ ...folders, reader, decoder });
  const check = () => checkSheet(sheet, { plan, outside: { footage: () => store } });
  const before = check();
  await store.settled();
  await decoder.decodeAll(filesOfSheet(before.sheet!.sheet, store));
  const { findings } = check();
  rmSync(root, { recursive: true });
  // A sheet of masters alone has no takes, which is no matter here.
  return findings.filter(({ rule }) => rule !== 'still-to-be-shot');
}

function put(folder: string, files: Readonly<Record<string, string>>): void {
  mkdirSync(folder, { recursive: true });
  for (const [path, from] of Object.entries(files)) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    copyFileSync(from, file);
    // Copied a while ago.
    utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
  }
}
