/** Wires code actions to the protocol: fixes, refactorings, and settings that work. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  CodeActionTriggerKind,
  type Command,
  type ServerCapabilities,
  type TextDocumentEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Announced } from '../announced.ts';
import { unsaidReason } from '../core/accept.ts';
import type { Range } from '../core/document/node.ts';
import { type Action, actionsAt, fixAll, listedActions, stillHolds } from '../features/actions.ts';
import { kitChangesAt } from '../features/kit-says-more.ts';
import { type Refactoring, refactoringsAt } from '../features/refactor/index.ts';
import { sheetChangesAt } from '../features/sheet-says-more.ts';
import type { FileEdits } from '../features/rename.ts';
import { oneLine } from '../formats/escape.ts';
import type { OpenFile } from '../open-files.ts';
import { fixAllKind, toCodeAction, toRange, toRewrite, toWorkspaceEdit } from '../protocol.ts';
import { apply, applyCommand, asCommands } from './action-commands.ts';
import { pageActions, showRulePage, showRulePageCommand } from './rule-page.ts';
import { type OpenChecked, resolvesEdits, type Session, tell, toDocumentEdit } from './session.ts';
import { type LaterSettings, resolveSettings, sayWhy, settingsOffers, whyCommand } from './settings-that-work.ts';
import { inSlices } from './in-slices.ts';
import { paperActions, showDraft, showDraftCommand } from './papers.ts';

const rewrite = CodeActionKind.RefactorRewrite;
/** Selects the words of an `accept` comment that a reason belongs in the place of. */
const selectReasonCommand = 'shootSpec.selectReason';

const actionOptions = { codeActionKinds: [CodeActionKind.QuickFix, fixAllKind, rewrite], resolveProvider: true };

/** Kinds are for a client that knows actions with kinds. */
export function actionCapabilities({ actionLiterals }: Announced): ServerCapabilities {
  return { codeActionProvider: actionLiterals ? actionOptions : true };
}

const commands: Readonly<Record<string, (session: Session, args: readonly unknown[]) => unknown>> = {
  [whyCommand]: sayWhy,
  [selectReasonCommand]: selectReason,
  [showDraftCommand]: showDraft,
  [showRulePageCommand]: showRulePage,
  [applyCommand]: apply,
};
export const actionCommands: readonly string[] = Object.keys(commands);

export function registerActions(session: Session): void {
  const { connection, ready } = session;

  connection.onCodeAction(
    ready(async (params: CodeActionParams, token: CancellationToken): Promise<(CodeAction | Command)[]> => {
      const open = session.at(params.textDocument.uri);
      if (!open || token.isCancellationRequested) return [];
      const { only } = params.context;
      const { start, end } = params.range;
      const { lines, units } = open.target;
      const asked = { start: lines.offset(start, units), end: lines.offset(end, units) };
      const all = await fixes(session, open, asked, params, token);
      const isFixing = wantsKind(only, CodeActionKind.QuickFix) && touchesFinding(open, asked);
      const kind = isFixing ? CodeActionKind.QuickFix : rewrite;
      const offers = wantsKind(only, kind) ? await settingsOffers(session, open, asked, params.context, kind) : [];
      const others = wantsKind(only, CodeActionKind.QuickFix)
        ? [...kitChanges(session, open, asked), ...paperActions(session, open, asked)]
        : [];
      const pages = wantsKind(only, CodeActionKind.QuickFix)
        ? await pageActions(session, open, asked, params.context)
        : [];
      const actions = [
        ...offers.filter((one) => one.first),
        ...all.filter((one) => !one.accepts),
        ...offers.filter((one) => !one.first),
        ...others.map((action) => ({ action })),
        ...all.filter((one) => one.accepts),
      ]
        .map((one) => one.action)
        .concat(wantsKind(only, rewrite) ? refactorings(session, open, asked.start) : [])
        .concat(pages);
      return session.audience.can.actionLiterals ? actions : asCommands(actions, open.file);
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
  if (!Object.hasOwn(commands, command)) return false;
  void commands[command]!(session, args);
  return true;
}

function wantsKind(only: readonly string[] | undefined, kind: string): boolean {
  return !only || only.some((one) => kind === one || kind.startsWith(`${one}.`) || one === '');
}

function touchesFinding({ current }: OpenChecked, { start, end }: Range): boolean {
  return current.result.findings.some((one) => one.start <= end && one.end >= start);
}

async function fixes(
  session: Session,
  open: OpenChecked,
  asked: Range,
  { context }: CodeActionParams,
  token: CancellationToken,
): Promise<{ action: CodeAction; accepts: boolean }[]> {
  const { current, target, file } = open;
  const wants = (kind: string) => wantsKind(context.only, kind);
  if (wants(CodeActionKind.QuickFix)) {
    const options = {
      untried: resolvesEdits(session),
      accepts: context.triggerKind !== CodeActionTriggerKind.Automatic,
    };
    const all = await inSlices(actionsAt(current.result, asked, current.check, options), token);
    return (all?.value ?? [])
      .map((one) => {
        const { edit, ...made } = toCodeAction(one, target, takesSnippets(session));
        const command = one.kind === 'accept' ? selecting(session, one, open) : undefined;
        const action = { ...made, ...(command && { command }) };
        const whole = one.tried ? { ...action, edit } : { ...action, data: untried(one, file) };
        return { action: whole, accepts: one.kind === 'accept' };
      })
      .filter(({ action }) => wants(action.kind!));
  }
  const all = wants(fixAllKind) ? fixAll(current.result, current.check) : undefined;
  return all ? [{ action: toCodeAction(all, target), accepts: false }] : [];
}

/** Can the client select words in what an edit writes? */
function takesSnippets({ client }: Session): boolean {
  return client.workspace?.workspaceEdit?.snippetEditSupport === true;
}

/** Where the client can't, it may let us select them afterwards. */
function selecting(session: Session, { finding }: Action, { target }: OpenChecked): Command | undefined {
  if (takesSnippets(session) || session.client.window?.showDocument?.support !== true || !finding) return undefined;
  const { line } = target.lines.position(finding.start, target.units);
  return { title: '', command: selectReasonCommand, arguments: [target.uri, finding.rule, line] };
}

async function selectReason(session: Session, args: readonly unknown[]): Promise<void> {
  const [uri, rule, line] = args;
  const open = typeof uri === 'string' ? session.at(uri) : undefined;
  if (!open || typeof rule !== 'string' || typeof line !== 'number') return;
  const { target, current } = open;
  const reason = unsaidReason(current.result.doc, rule, line);
  if (reason)
    await session.connection.window.showDocument({
      uri: target.uri,
      takeFocus: true,
      selection: toRange(reason, target),
    });
}

function refactorings(session: Session, open: OpenChecked, offset: number): CodeAction[] {
  const { place, result } = open.current;
  const file = (path: string) => place.files.file(path)?.doc;
  return refactoringsAt({ result, offset, file }).map(({ title, kind, files }: Refactoring) => {
    const edits = files.flatMap((one) => documentEdit(session, open, one));
    const edit =
      kind && showsProposals(session) ? toBeLookedAt(edits, title) : toWorkspaceEdit(edits, session.audience.can);
    const action = toRewrite(title, { edit });
    return kind ? { ...action, kind: `${rewrite}.${kind}` } : action;
  });
}

/** Can the client show an edit and ask whether it is wanted? */
function showsProposals({ client, audience: { can } }: Session): boolean {
  return can.versionedEdits && client.workspace?.workspaceEdit?.changeAnnotationSupport !== undefined;
}

function toBeLookedAt(documentChanges: readonly TextDocumentEdit[], label: string): WorkspaceEdit {
  const annotationId = 'proposal';
  const annotated = documentChanges.map(({ textDocument, edits }) => ({
    textDocument,
    edits: edits.map((edit) => ({ ...edit, annotationId })),
  }));
  return {
    documentChanges: annotated,
    changeAnnotations: { [annotationId]: { label, needsConfirmation: true } },
  };
}

/** Fixes of a finding that are written into a kit. */
function kitChanges(session: Session, open: OpenChecked, asked: Range): CodeAction[] {
  const { place, result } = open.current;
  const changes = [
    ...kitChangesAt(result, asked, (path) => place.files.file(path)?.doc),
    ...sheetChangesAt(result, asked),
  ];
  return changes.map(({ title, files }) => ({
    title: oneLine(title),
    kind: CodeActionKind.QuickFix,
    edit: toWorkspaceEdit(
      files.flatMap((one) => documentEdit(session, open, one)),
      session.audience.can,
    ),
  }));
}

function documentEdit(session: Session, { target, current }: OpenChecked, one: FileEdits) {
  if (one.path === undefined) return [toDocumentEdit(session, target.uri, target, one.edits)];
  const doc = current.place.files.file(one.path)?.doc;
  const uri = target.uriOf(one.path);
  return doc ? [toDocumentEdit(session, uri, { lines: doc.lines, units: target.units }, one.edits)] : [];
}

/** What an action remembers that is tried when it is chosen. */
interface Untried {
  readonly untried: { readonly uri: string; readonly version: number; readonly key: string };
}

async function resolve(session: Session, action: CodeAction, token: CancellationToken): Promise<CodeAction> {
  const later = action.data as Untried | LaterSettings | undefined;
  const spot = later && ('solve' in later ? later.solve : later.untried);
  const open = spot && session.at(spot.uri);
  if (!later || !open || open.file.version !== spot.version) return action;
  if ('untried' in later) return resolveUntried(session, open, action, later.untried.key);
  return resolveSettings(session, open, action, later, token);
}

/** Finds an action again that was listed without being tried, in the same text. */
function untried({ title, kind, finding }: Action, { uri, version }: OpenFile): Untried {
  return { untried: { uri, version, key: JSON.stringify([kind, title, finding?.rule, finding?.start]) } };
}

function resolveUntried(session: Session, open: OpenChecked, action: CodeAction, key: string): CodeAction {
  const { current, file, target } = open;
  const listed = listedActions(current.result).find((one) => untried(one, file).untried.key === key);
  const held = listed && stillHolds(listed, current.result, current.check);
  if (held) return { ...action, edit: toCodeAction(held, target, takesSnippets(session)).edit };
  tell(session, `“${action.title}” would not mend it here, or start something as serious, so nothing was changed.`);
  return action;
}
