/** Wires what a first film begins with to the protocol, by requests of our own: what is there already, and new texts. */
import { join } from 'node:path';
import { filePath } from '../address.ts';
import { Checker } from '../core/checker.ts';
import { child } from '../core/document/node.ts';
import { parseDocument } from '../core/document/parse.ts';
import type { Host } from '../core/host.ts';
import { type FileKind, kindOf, settingsPath } from '../core/paths.ts';
import { newSettingsText, newSpecText } from '../features/new-spec.ts';
import { mainsHzOf } from '../features/region.ts';
import { rules } from '../rules/index.ts';
import type { Session } from './session.ts';

export const newSpecRequest = 'shootSpec/newSpec';
export const begunRequest = 'shootSpec/begun';

interface AskedFolder {
  readonly folder: string;
}

/** What an open folder has. */
interface Begun {
  /** Paths from the folder. */
  readonly kits: readonly string[];
  readonly specs: readonly string[];
  /** The kits that the settings name for every spec, as far as they can be read. */
  readonly usualKits: readonly string[];
}

interface KitText {
  readonly path: string;
  readonly text: string;
}

/** The editor reads the files, which may be on no disk, or be written only once all is answered. */
interface NewSpecParams {
  readonly title: string;
  /** Gear is taken from the first. */
  readonly kits?: readonly KitText[];
  /** The text of the settings file, which may say the region and the kits of every spec. */
  readonly settings?: string;
  /** A settings file is written with the spec, as there is none. */
  readonly withSettings?: boolean;
  readonly region?: string;
}

/** Without a text where neither the person nor the settings said the region: it has to be asked for. */
interface Answer {
  readonly text?: string;
  /** Of a settings file, where one is to be written. */
  readonly settings?: string;
}

export function registerNewSpec({ connection, ready, repos }: Session): void {
  connection.onRequest(
    begunRequest,
    ready(({ folder }: AskedFolder): Begun => {
      const path = filePath(folder);
      if (path === undefined) return { kits: [], specs: [], usualKits: [] };
      const { files, checker } = repos.repoOf(join(path, settingsPath));
      const found = files.paths((one) => kindOf(one) === 'kit' || kindOf(one) === 'shoot');
      const of = (kind: FileKind) => found.filter((one) => kindOf(one) === kind);
      // The editor reads them itself, so it hears of none that leads out of the repo or is no file.
      const usualKits = checker.settings(settingsPath).kits.filter((one) => 'text' in checker.host.read(one));
      return { kits: of('kit'), specs: of('shoot'), usualKits };
    }),
  );
  connection.onRequest(newSpecRequest, ready(newSpec));
}

function newSpec({ title, kits = [], settings, withSettings, region }: NewSpecParams): Answer {
  const readable = mainsHzOf(region ?? settledRegion(settings) ?? '');
  if (readable === undefined && region === undefined) return {};
  // Said once, in the settings, where these are new.
  const inSettings = withSettings && readable !== undefined;
  const newSettings = withSettings ? newSettingsText(inSettings ? region : undefined) : undefined;
  const checker = new Checker(filesOf(settings ?? newSettings, kits), rules);
  const [first] = kits;
  const gear = first && parseDocument(first.text).root;
  const isUsual = first && checker.settings(settingsPath).kits.includes(first.path);
  const spec = {
    title,
    gear,
    kit: gear && !isUsual ? first.path : undefined,
    region: inSettings ? undefined : region,
    mainsHz: readable ?? 50,
  };
  const check = (text: string) => checker.check('new.shoot.yaml', text)!.findings;
  return { text: newSpecText(spec, check), settings: newSettings };
}

/** The files that the new spec will stand beside. */
function filesOf(settings: string | undefined, kits: readonly KitText[]): Host {
  const texts = new Map(kits.map(({ path, text }) => [path, text]));
  if (settings !== undefined) texts.set(settingsPath, settings);
  return {
    read: (path) => (texts.has(path) ? { text: texts.get(path)! } : { problem: 'missing' }),
    exists: (path) => texts.has(path),
    list: () => [],
  };
}

function settledRegion(settings: string | undefined): string | undefined {
  const region = settings === undefined ? undefined : child(parseDocument(settings).root, 'region');
  return region?.kind === 'scalar' ? region.text : undefined;
}
