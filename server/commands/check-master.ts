/** A film that was just made, judged as the master of its deliverable. */
import { basename, dirname, join } from 'node:path';
import { Checker } from '../core/checker.ts';
import type { Finding } from '../core/finding.ts';
import type { ClipReader } from '../footage/clip-reader.ts';
import { decoderOnPath, filesOfSheet } from '../footage/decode/decoder.ts';
import { FootageFolder } from '../footage/footage-folder.ts';
import { FootageStore } from '../footage/footage-store.ts';
import { NodeHost, pathFrom } from '../node-host.ts';
import { rules } from '../rules/index.ts';

interface ToJudge {
  /** Full paths: of the film, of its spec, and of the repo. */
  readonly film: string;
  readonly spec: string;
  readonly root: string;
  readonly deliverable: string;
  readonly reader: ClipReader;
}

/** What a take sheet that names it as the newest master would say of it. */
export async function masterFindings({ film, spec, root, deliverable, reader }: ToJudge): Promise<readonly Finding[]> {
  const decoder = await decoderOnPath();
  const store = new FootageStore({ masters: new FootageFolder(dirname(film)), reader, decoder });
  const checker = new Checker(new NodeHost(root), rules, { footage: () => store });
  const name = JSON.stringify(basename(film));
  const text = `format: 1\nspec: ${JSON.stringify(basename(spec))}\nmasters: { ${deliverable}: ${name} }\n`;
  const path = pathFrom(root, join(dirname(spec), 'assembled.takes.yaml'));
  const check = () => checker.checkAs('takes', text, checker.settings(path), path);
  const sheet = check().sheet?.sheet;
  await store.settled();
  if (sheet) await decoder.decodeAll(filesOfSheet(sheet, store));
  return check().findings.filter(({ rule }) => rule.startsWith('master-'));
}
