/** The first files of a film from what was answered, for the editor and the terminal alike. */
import { Checker } from './core/checker.ts';
import { child } from './core/document/node.ts';
import { parseDocument } from './core/document/parse.ts';
import type { Host } from './core/host.ts';
import { settingsPath } from './core/paths.ts';
import { newSettingsText, newSpecText } from './features/new-spec.ts';
import { mainsHzOf } from './features/region.ts';
import { rules } from './rules/index.ts';

export interface KitText {
  readonly path: string;
  readonly text: string;
}

/** Whoever asks reads the files, which may be on no disk, or be written only once all is answered. */
export interface Asked {
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
export interface FirstFiles {
  readonly text?: string;
  /** Of a settings file, where one is to be written. */
  readonly settings?: string;
}

/** The texts of a new spec and its settings, checked as they would stand beside the kits. */
export function firstFiles({ title, kits = [], settings, withSettings, region }: Asked): FirstFiles {
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
