/** Takes a setting over into the plan that a take was made with, so that the plan says what worked. */
import type { Node } from '../../core/document/node.ts';
import type { Block } from '../../core/film.ts';
import { materialise } from '../../core/fix.ts';
import { set } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import type { Take } from '../../core/takes.ts';
import type { Refactoring, RefactoringRequest } from './refactoring.ts';

/** Offered on what a take says of its camera. */
export function planAsTaken({ result: { sheet: checked, doc }, offset, file }: RefactoringRequest): Refactoring[] {
  const take = checked?.sheet.takes.find(({ camera }) => camera && isAround(camera, offset));
  const path = take?.shot?.file;
  const spec = path === undefined ? undefined : file(path);
  if (!checked || !take?.shot || !spec || take.judged?.value === 'bad') return [];
  const changes = settings(take, doc.text);
  if (changes.length === 0) return [];
  const named = changes.map(({ key, text }) => quoted(`${key}: ${text}`)).join(', ');
  const idea = set(
    `Plan ${named} for ${quoted(take.shot.name)} in ${path}`,
    ...changes.map(({ key, text }) => [take.shot!.camera, key, text] as const),
  );
  const made = materialise(idea, [idea], checked.film, spec.text);
  return made ? [{ title: made.title, files: [{ path: path!, edits: made.edits }] }] : [];
}

/** From its key to the end of the block. */
function isAround({ start, end, fields }: Block, offset: number): boolean {
  return start <= offset && offset <= Math.max(end, fields.own?.end ?? 0);
}

/** What is not said like that in the plan already. */
function settings({ camera, shot }: Take, text: string): { readonly key: string; readonly text: string }[] {
  const written = camera?.fields.own?.pairs ?? [];
  return written.flatMap(({ key, value }) => {
    const planned = shot!.camera.fields.node(key.text);
    const isSame = planned?.kind === 'scalar' && value.kind === 'scalar' && planned.text === value.text;
    return isSame || !isOnOneLine(value, text) ? [] : [{ key: key.text, text: text.slice(value.start, value.end) }];
  });
}

function isOnOneLine({ start, end }: Node, text: string): boolean {
  return start < end && !/[\r\n]/.test(text.slice(start, end)) && !/^[*&|>]/.test(text.slice(start, end));
}
