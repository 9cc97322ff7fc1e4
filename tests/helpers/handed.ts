/** Films handed over to other programs, as a test says them. */
import { readFileSync } from 'node:fs';
import { Checker } from '../../server/core/checker.ts';
import type { ClipState, Footage } from '../../server/core/footage.ts';
import type { HandedOver, HandOverOptions, ToHandOver } from '../../server/hand-over/kind.ts';
import type { KindName } from '../../server/hand-over/kind-names.ts';
import { handedOver } from '../../server/hand-over/index.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { checkerFor, sheet, sheetPath, spec, specPath } from './workspace.ts';

export interface Handing extends Partial<HandOverOptions> {
  readonly deliverable?: string;
  readonly takes?: string;
  /** What is known of clips, by their path. */
  readonly clips?: Readonly<Record<string, ClipState>>;
}

const usual: HandOverOptions = { table: 'shots', zone: 'UTC', changedMs: Date.UTC(2026, 10, 1) };

/** @param text a whole spec; `spec(…)` makes one of some blocks */
export function handed(as: KindName, more: Handing = {}, text: string = spec('')): HandedOver {
  return handing(more, text)(as);
}

/** One film, checked once, as any of the kinds. */
export function handing(more: Handing, text: string): (as: KindName) => HandedOver {
  const { takes } = more;
  const sheets = takes === undefined ? {} : { [sheetPath]: `format: 1\n${sheet(takes)}` };
  return read(checkerFor({ [specPath]: text, ...sheets }), specPath, text, more);
}

/** One of the samples. */
export function sampleHanded(name: string, as: KindName, more: Handing = {}): HandedOver {
  const folder = new URL('../../sample-workspace/', import.meta.url);
  const text = readFileSync(new URL(name, folder), 'utf8');
  return read(new Checker(new NodeHost(folder.pathname), rules), name, text, more)(as);
}

function read(checker: Checker, path: string, text: string, more: Handing): (as: KindName) => HandedOver {
  const result = checker.check(path, text)!;
  const film = result.film!;
  const { deliverable, clips } = more;
  const asked: ToHandOver = {
    result,
    film,
    sheets: result.sheets ?? [],
    path,
    deliverable: deliverable === undefined ? [...film.deliverables.values()][0] : film.deliverables.get(deliverable),
    footage: clips && footageOf(clips),
    media: () => ({ kind: 'missing' }),
    address: (of, one) => `${of}/${one}`,
    options: { ...usual, ...more },
  };
  return (as) => {
    const made = handedOver(as, asked);
    if (typeof made === 'string') throw new Error(made);
    return made;
  };
}

function footageOf(clips: Readonly<Record<string, ClipState>>): Footage {
  return {
    entries: () => [],
    clip: (path) => clips[path] ?? { kind: 'missing' },
    master: () => ({ kind: 'missing' }),
    decoded: () => undefined,
    decoder: 'not-asked',
  };
}
