/** Wires code actions to the protocol: fixes, refactorings, and settings that work. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  CodeActionTriggerKind,
  type ServerCapabilities,
} from 'vscode-languageserver';
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import type { Shot } from '../core/film.ts';
import { quoted } from '../core/say.ts';
import { actionsAt, fixAll } from '../features/actions.ts';
import { type Refactoring, refactoringsAt } from '../features/refactor/index.ts';
import type { FileEdits } from '../features/rename.ts';
import { type Answer, needsSolving, shotAt, solve } from '../features/solve/solve.ts';
import { oneLine } from '../formats/escape.ts';
import { fixAllKind, toCodeAction, toRewrite } from '../protocol.ts';
import { inSlices } from './slices.ts';
import { type Open, type Session, tell, toDocumentEdit, uriOf } from './session.ts';

const rewrite = CodeActionKind.RefactorRewrite;
/** Shows in words why no settings work. */
const whyCommand = 'shootSpec.sayWhy';

export const actionCapabilities: ServerCapabilities = {
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, fixAllKind, rewrite], resolveProvider: true },
};
export const actionCommands: readonly string[] = [whyCommand];

export function registerActions(session: Session): void {
  const { connection, ready } = session;

  connection.onCodeAction(
    ready(async (params: CodeActionParams, token: CancellationToken): Promise<CodeAction[]> => {
      const open = session.at(params.textDocument.uri);
      if (!open || token.isCancellationRequested) return [];
      const { only } = params.context;
      const wants = (kind: string) =>
        !only || only.some((one) => kind === one || kind.startsWith(`${one}.`) || one === '');
      const { start, end } = params.range;
      const { lines, units } = open.target;
      const asked = { start: lines.offset(start, units), end: lines.offset(end, units) };
      return [
        ...fixes(open, asked, wants),
        ...(wants(rewrite) ? refactorings(session, open, asked.start) : []),
        ...(wants(rewrite) ? await solving(session, open, asked.start, params, token) : []),
      ];
    }) as Parameters<typeof connection.onCodeAction>[0],
  );

  connection.onCodeActionResolve(
    ready((action: CodeAction, token: CancellationToken) => resolve(session, action, token)) as Parameters<
      typeof connection.onCodeActionResolve
    >[0],
  );
}

/** True for a command that was ours. */
export function runActionCommand(session: Session, command: string, args: readonly unknown[]): boolean {
  if (command !== whyCommand) return false;
  const [reason] = args;
  if (typeof reason === 'string') tell(session, reason);
  return true;
}

function fixes(open: Open, asked: Range, wants: (kind: string) => boolean): CodeAction[] {
  const { current, target } = open;
  if (wants(CodeActionKind.QuickFix)) {
    const all = actionsAt(current.result, asked, current.recheck);
    return all.map((action) => toCodeAction(action, target)).filter((action) => wants(action.kind!));
  }
  const all = wants(fixAllKind) ? fixAll(current.result) : undefined;
  return all ? [toCodeAction(all, target)] : [];
}

function refactorings(session: Session, open: Open, offset: number): CodeAction[] {
  const { place, result } = open.current;
  const file = (path: string) => place.files.file(path)?.doc;
  return refactoringsAt({ result, offset, file }).map(({ title, files }: Refactoring) =>
    toRewrite(title, { edit: { documentChanges: files.flatMap((one) => documentEdit(session, open, one)) } }),
  );
}

function documentEdit(session: Session, { target, current }: Open, one: FileEdits) {
  if (one.path === undefined) return [toDocumentEdit(session, target.uri, target, one.edits)];
  const doc = current.place.files.file(one.path)?.doc;
  const uri = uriOf(target.root, one.path);
  return doc ? [toDocumentEdit(session, uri, { lines: doc.lines, units: target.units }, one.edits)] : [];
}

// -- settings that work ----------------------------------------------------------------------------------------------

/** What an action that is worked out later remembers. */
interface Later {
  readonly solve: { readonly uri: string; readonly version: number; readonly shot: string };
}

/** So long an answer may wait for settings: editors take their own next question for a new one and drop the first. */
const patienceMs = 80;

/**
 * The settings in the title where they are found by now; else the offer only, and the work is done when it is taken up.
 * An editor that asks by itself at each step of the cursor starts the search, so that they are known when somebody asks.
 */
async function solving(
  session: Session,
  open: Open,
  offset: number,
  { context }: CodeActionParams,
  token: CancellationToken,
): Promise<CodeAction[]> {
  const { result } = open.current;
  const shot = shotAt(result, offset);
  if (!shot || result.doc.broken || !needsSolving(result, shot, means(session, open))) return [];
  const { uri, version } = open.file;
  const search = answerFor(session, open, shot);
  if (resolvesEdits(session)) {
    const isAutomatic = context.triggerKind === CodeActionTriggerKind.Automatic;
    if (!isAutomatic && !search.done) await within(search.answer, patienceMs);
    const data: Later = { solve: { uri, version, shot: shot.name } };
    if (!search.done) return [toRewrite(`Find settings that work for ${quoted(shot.name)}`, { data })];
  }
  const answer = await search.answer;
  if (!answer || token.isCancellationRequested) return [];
  if (answer.kind === 'settings') return [toRewrite(answer.title, { edit: editOf(session, open, answer.edits) })];
  const { title, reason } = answer;
  const disables = session.client.textDocument?.codeAction?.disabledSupport === true;
  if (disables && context.only) return [toRewrite(title, { disabled: { reason: oneLine(reason) } })];
  const command = { title: oneLine(title), command: whyCommand, arguments: [reason] };
  return [toRewrite(`${title}: why`, { command })];
}

async function resolve(session: Session, action: CodeAction, token: CancellationToken): Promise<CodeAction> {
  const later = (action.data as Later | undefined)?.solve;
  const open = later && session.at(later.uri);
  const shot = open?.current.result.film?.shots.get(later?.shot ?? '');
  if (!later || !open || !shot || open.file.version !== later.version) return action;
  const answer = await answerFor(session, open, shot).answer;
  if (answer?.kind === 'settings') return { ...action, edit: editOf(session, open, answer.edits) };
  const reason = answer?.reason ?? `No other settings do better for ${quoted(shot.name)}.`;
  if (!token.isCancellationRequested) tell(session, reason);
  return action;
}

interface Search {
  readonly answer: Promise<Answer | undefined>;
  done: boolean;
}

const searches = new WeakMap<CheckResult, Map<string, Search>>();

/** One search for each text and shot, in slices; given up when the text is another one. */
function answerFor(session: Session, open: Open, shot: Shot): Search {
  const { result } = open.current;
  const known = searches.get(result) ?? new Map<string, Search>();
  searches.set(result, known);
  const before = known.get(shot.name);
  if (before) return before;
  const stop = {
    get isCancellationRequested() {
      return session.ended || session.known(open.file.uri)?.result !== result;
    },
  };
  const search: Search = {
    done: false,
    answer: inSlices(solve(result, shot, means(session, open)), stop)
      .then((found) => found?.value)
      .catch((error: unknown) => {
        session.connection.console.error(oneLine(`settings for ${shot.name}: ${String(error)}`));
        return undefined;
      })
      .finally(() => (search.done = true)),
  };
  known.set(shot.name, search);
  return search;
}

async function within(work: Promise<unknown>, mostMs: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  await Promise.race([work, new Promise<void>((late) => (timer = setTimeout(late, mostMs)))]);
  clearTimeout(timer);
}

function means(session: Session, { current: { place, recheck } }: Open) {
  return { rules: place.checker.rules, settings: session.settings(place), recheck };
}

function editOf(session: Session, { target }: Open, edits: FileEdits['edits']) {
  return { documentChanges: [toDocumentEdit(session, target.uri, target, edits)] };
}

function resolvesEdits({ client }: Session): boolean {
  return client.textDocument?.codeAction?.resolveSupport?.properties.includes('edit') ?? false;
}
