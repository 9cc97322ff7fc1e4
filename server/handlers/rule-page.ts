/** Wires the pages of rules to the protocol: an action that shows one, for a client that shows no links at findings. */
import { type CodeAction, CodeActionKind, type CodeActionParams, CodeActionTriggerKind } from 'vscode-languageserver';
import type { Range } from '../core/document/node.ts';
import { quoted } from '../core/say.ts';
import { oneLine } from '../formats/escape.ts';
import { plainText } from '../formats/plain-text.ts';
import { type OpenChecked, type Session, showPage } from './session.ts';

export const showRulePageCommand = 'shootSpec.showRulePage';

/** One for each rule of the findings that touch a range, when somebody asks. */
export async function pageActions(
  session: Session,
  { current: { result } }: OpenChecked,
  { start, end }: Range,
  { triggerKind }: CodeActionParams['context'],
): Promise<CodeAction[]> {
  if (session.audience.can.codeDescription || triggerKind === CodeActionTriggerKind.Automatic) return [];
  const here = result.findings.filter((one) => one.start <= end && one.end >= start);
  const pages = await session.pages();
  const rules = [...new Set(here.map(({ rule }) => rule))].filter((rule) => pages.has(rule));
  return rules.map((rule) => {
    const title = oneLine(`Show the page of ${quoted(rule)}`);
    return {
      title,
      kind: CodeActionKind.QuickFix,
      command: { title, command: showRulePageCommand, arguments: [rule] },
    };
  });
}

/** As a page where the client shows one, else opened where it lies, else its Why in a message. */
export async function showRulePage(session: Session, [rule]: readonly unknown[]): Promise<void> {
  const page = typeof rule === 'string' ? (await session.pages()).get(rule) : undefined;
  if (typeof rule !== 'string' || !page) return;
  const { connection, client } = session;
  const shows = (client.experimental as { shootSpecPages?: unknown } | undefined)?.shootSpecPages === true;
  const opens = client.window?.showDocument?.support === true && page.address !== undefined;
  if (!shows && opens) void connection.window.showDocument({ uri: page.address!, takeFocus: true });
  else showPage(session, { title: rule, page: page.text, text: whyOf(page.text) });
}

/** What a page says under Why, as one paragraph. */
function whyOf(page: string): string {
  const why = /^## Why\n([\s\S]*?)(?=^## |$(?![\s\S]))/m.exec(page)?.[1] ?? page;
  return plainText(why).replace(/\s+/g, ' ');
}
