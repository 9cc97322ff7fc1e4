/** Wires the search for settings that work to the protocol: as code actions, and in words where none work. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  CodeActionTriggerKind,
} from 'vscode-languageserver';
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import type { Shot } from '../core/film.ts';
import type { Edit, Finding } from '../core/finding.ts';
import { quoted } from '../core/say.ts';
import { conflictPage, conflictText } from '../features/solve/conflict.ts';
import { type Answer, failingDemands, shotAt, solve } from '../features/solve/solve.ts';
import { oneLine } from '../formats/escape.ts';
import { toDiagnostic, toWorkspaceEdit } from '../protocol.ts';
import { inSlices } from './in-slices.ts';
import { type OpenChecked, resolvesEdits, type Session, showPage, tell, toDocumentEdit } from './session.ts';

/** Shows in words why no settings work. */
export const whyCommand = 'shootSpec.sayWhy';

/** What an action remembers that is worked out when it is chosen. */
export interface LaterSettings {
  readonly solve: { readonly uri: string; readonly version: number; readonly shot: string };
}

/** An action, and whether it stands before the fixes of single findings. */
export interface Offer {
  readonly action: CodeAction;
  readonly first: boolean;
}

/** So long an answer may wait for settings: editors take their own next question for a new one and drop the first. */
const patienceMs = 80;
/** For so many shots of one finding settings are offered. */
const mostShots = 3;

/**
 * Settings for the shots of the findings that touch a range, and for the shot that it lies in: in the title where they
 * are found by now; else the offer only, and the work is done when it is taken up. An editor that asks by itself at each
 * step of the cursor starts the search for one shot, so that its settings are known when somebody asks.
 */
export async function settingsOffers(
  session: Session,
  open: OpenChecked,
  range: Range,
  context: CodeActionParams['context'],
  kind: CodeActionKind,
): Promise<Offer[]> {
  const { result } = open.current;
  if (!result.film || result.doc.broken) return [];
  const here = result.findings.filter((one) => one.start <= range.end && one.end >= range.start);
  const isAutomatic = context.triggerKind === CodeActionTriggerKind.Automatic;
  const able = shotsOf(result, range, here).filter((one) => failingDemands(result, one, means(session, open)) > 0);
  const shots = able.slice(0, resolvesEdits(session) ? mostShots : 1);
  const offers = await Promise.all(
    shots.map(async (shot) => {
      const about = here.filter((one) => one.shots?.includes(shot.name) ?? false);
      const starts = !isAutomatic || shots.length === 1;
      return settingsOffer(session, open, shot, { about, kind, context, starts, waits: !isAutomatic });
    }),
  );
  return offers.flat();
}

function shotsOf(result: CheckResult, range: Range, here: readonly Finding[]): Shot[] {
  const named = here.flatMap((one) => (one.shots ?? []).flatMap((name) => result.film?.shots.get(name) ?? []));
  const around = shotAt(result, range.start);
  return [...new Set(around ? [around, ...named] : named)];
}

interface Asked {
  /** The findings at hand that are about the shot. */
  readonly about: readonly Finding[];
  readonly kind: CodeActionKind;
  readonly context: CodeActionParams['context'];
  readonly starts: boolean;
  readonly waits: boolean;
}

async function settingsOffer(session: Session, open: OpenChecked, shot: Shot, asked: Asked): Promise<Offer[]> {
  const { kind, starts, waits } = asked;
  const diagnostics = asked.about.map((one) => toDiagnostic(one, open.target));
  const offer = (title: string, first: boolean, more: Omit<CodeAction, 'title' | 'kind'>): Offer => ({
    action: { title: oneLine(title), kind, ...(diagnostics.length > 0 && { diagnostics }), ...more },
    first,
  });
  const search = starts || isSearched(open, shot) ? answerFor(session, open, shot) : undefined;
  if (resolvesEdits(session)) {
    if (search && waits && !search.done) await within(search.answer, patienceMs);
    const { uri, version } = open.file;
    const data: LaterSettings = { solve: { uri, version, shot: shot.name } };
    const several = failingDemands(open.current.result, shot, means(session, open)) > 1;
    if (!search?.done) return [offer(`Find settings that work for ${quoted(shot.name)}`, several, { data })];
  }
  const answer = await search?.answer;
  if (!answer) return [];
  if (answer.kind === 'conflict') return [offer(...conflictAction(session, shot, answer, asked.context))];
  const several = answer.mends > 1;
  const edit = editOf(session, open, answer.edits);
  const settings = offer(answer.title, several, {
    edit,
    ...(several && kind === CodeActionKind.QuickFix && { isPreferred: true }),
  });
  return answer.conflict
    ? [
        settings,
        offer(...conflictAction(session, shot, { kind: 'conflict', conflict: answer.conflict }, asked.context)),
      ]
    : [settings];
}

type Titled = [title: string, first: boolean, more: Omit<CodeAction, 'title' | 'kind'>];

function conflictAction(
  session: Session,
  shot: Shot,
  { conflict }: Extract<Answer, { kind: 'conflict' }>,
  { only }: CodeActionParams['context'],
): Titled {
  const title = noSettings(shot);
  const disables = session.client.textDocument?.codeAction?.disabledSupport === true;
  if (disables && only) return [title, false, { disabled: { reason: oneLine(conflictText(conflict)) } }];
  const said = [title, conflictText(conflict), conflictPage(title, conflict)];
  return [`${title}: why`, false, { command: { title: oneLine(title), command: whyCommand, arguments: said } }];
}

function noSettings({ name }: Shot): string {
  return `No settings make all of ${quoted(name)} work`;
}

/** Says why, in a page where the client can show one. */
export function sayWhy(session: Session, args: readonly unknown[]): void {
  const [title, text, page] = args;
  if (typeof title === 'string' && typeof text === 'string' && typeof page === 'string')
    showPage(session, { title, text, page });
}

/** An offer that was taken up before its settings were known. */
export async function resolveSettings(
  session: Session,
  open: OpenChecked,
  action: CodeAction,
  { solve: { shot: name } }: LaterSettings,
  token: CancellationToken,
): Promise<CodeAction> {
  const shot = open.current.result.film?.shots.get(name);
  if (!shot) return action;
  const answer = await answerFor(session, open, shot).answer;
  if (answer?.kind === 'settings') return { ...action, edit: editOf(session, open, answer.edits) };
  if (token.isCancellationRequested) return action;
  const title = noSettings(shot);
  if (answer)
    showPage(session, { title, text: conflictText(answer.conflict), page: conflictPage(title, answer.conflict) });
  else tell(session, `No other settings do better for ${quoted(name)}.`);
  return action;
}

interface Search {
  readonly answer: Promise<Answer | undefined>;
  done: boolean;
}

const searches = new WeakMap<CheckResult, Map<string, Search>>();

function isSearched({ current: { result } }: OpenChecked, shot: Shot): boolean {
  return searches.get(result)?.has(shot.name) ?? false;
}

/** One search for each text and shot, in slices; given up when the text is another one. */
function answerFor(session: Session, open: OpenChecked, shot: Shot): Search {
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

function means(session: Session, { current: { place, check } }: OpenChecked) {
  return { rules: place.checker.rules, settings: session.settings(place), recheck: check };
}

function editOf(session: Session, { target }: OpenChecked, edits: readonly Edit[]) {
  return toWorkspaceEdit([toDocumentEdit(session, target.uri, target, edits)], session.audience.can);
}
