/** What a kit would have to say for a spec to be right: a lens that stops down or zooms, a turntable that it lacks. */
import { markedFNumbers } from '../calc/exposure.ts';
import { insertPair } from '../core/document/edits.ts';
import { child, type Range } from '../core/document/node.ts';
import type { Doc } from '../core/document/parse.ts';
import type { Film, Lens, Shot } from '../core/film.ts';
import type { Edit, Finding } from '../core/finding.ts';
import { isPlain } from '../core/nearest.ts';
import { apertureText, lengthText, quoted } from '../core/say.ts';
import { smallestStop } from '../rules/logistics/smallest-stop.ts';
import type { CheckResult } from '../core/checker.ts';
import type { Refactoring } from './refactor/index.ts';

/** @param file another file of the repo, by its path, where it can be read as it should be */
export function kitChangesAt(
  { film, findings }: CheckResult,
  { start, end }: Range,
  file: (path: string) => Doc | undefined,
): Refactoring[] {
  if (!film) return [];
  const here = findings.filter((one) => one.start <= end && one.end >= start);
  return [...here.flatMap((one) => lensChanges(one, film)), ...here.flatMap((one) => newTurntable(one, film, file))];
}

function lensChanges({ rule, start, shots = [] }: Finding, film: Film): Refactoring[] {
  if (rule !== 'setting-not-in-kit') return [];
  const shot = shots.map((name) => film.shots.get(name)).find((one) => one !== undefined);
  const lens = shot?.camera.lens;
  if (!shot || !lens) return [];
  if (shot.camera.aperture?.start === start) return stopsDown(shot, lens);
  return shot.camera.focal?.start === start ? zooms(shot, lens) : [];
}

/** A single f-number says that a lens has no other, which is seldom so but in a phone. */
function stopsDown(shot: Shot, lens: Lens): Refactoring[] {
  const asked = shot.camera.aperture?.value;
  const least = lens.aperture;
  const most = smallestStop(shot.camera);
  if (!least || most === undefined || typeof asked !== 'number') return [];
  const last = [...markedFNumbers, asked].filter((n) => n >= Math.max(most, asked)).sort((a, b) => a - b)[0]!;
  const range = `${apertureText(least.value.from)} to ${apertureText(last)}`;
  return replaced(`If ${quoted(lens.name)} stops down, write ${quoted(`aperture: ${range}`)} in`, least, range);
}

function zooms({ camera: { focal } }: Shot, { name, focal: has }: Lens): Refactoring[] {
  if (!focal || !has || has.value.from !== has.value.to) return [];
  const ends = [has.value.from, focal.value.from, focal.value.to];
  const range = `${lengthText(Math.min(...ends))} to ${lengthText(Math.max(...ends))}`;
  return replaced(`If ${quoted(name)} zooms, write ${quoted(`focal: ${range}`)} in`, has, range);
}

function replaced(title: string, at: Range & { readonly file?: string }, text: string): Refactoring[] {
  const { file: path, start, end } = at;
  return path === undefined ? [] : [{ title: `${title} ${path}`, files: [{ path, edits: [{ start, end, text }] }] }];
}

/** Ordinary numbers for a small one (common practice, no source). */
const usualTurntable = '{ speed: 0.5 rpm to 4 rpm, load: 3 kg, size: 20 x 20 cm }';

function newTurntable({ rule, start }: Finding, film: Film, file: (path: string) => Doc | undefined): Refactoring[] {
  const name = [...film.shots.values()].map(({ turn }) => turn?.tableName).find((one) => one?.start === start)?.value;
  const [path, ...others] = film.kit.files;
  if (rule !== 'name-not-defined' || name === undefined || !isPlain(name) || path === undefined || others.length > 0)
    return [];
  const doc = file(path);
  const edits = doc && inBlock(doc, 'turntables', name, usualTurntable);
  const title = `Add the turntable ${quoted(name)} to ${path}, with usual numbers to be replaced by those of yours`;
  return edits ? [{ title, files: [{ path, edits }] }] : [];
}

function inBlock({ root, text }: Doc, key: string, name: string, value: string): Edit[] | undefined {
  if (root?.kind !== 'map') return undefined;
  const block = child(root, key);
  if (block?.kind === 'map') return insertPair(text, block, name, value);
  return block || root.flow ? undefined : insertPair(text, root, key, `\n  ${name}: ${value}`);
}
