/** Reads `shootspec.yaml` and checks what the schema can't: names of rules, their limits, and what may not be switched off. */
import { child, type Node, type Pair, type Range } from './document/node.ts';
import { type Finding, severities } from './finding.ts';
import { readLimit } from './limits.ts';
import type { Limit, Rule } from './rule.ts';
import { listText } from './say.ts';
import { nearest } from './nearest.ts';
import { quoted } from './say.ts';
import { isLevelOrNone, type RuleSettings, Settings } from './settings.ts';
import { checkFees, readFees } from './settings-fees.ts';

/** What one settings file says, by its path from the repo's root. */
export function readSettings(root: Node | undefined, file: string): Settings {
  const failAt = text(child(root, 'fail-at'));
  const kit = child(root, 'kit');
  return new Settings({
    rules: new Map(pairs(child(root, 'rules')).map(({ key, value }) => [key.text, ruleSettings(value)])),
    failAt: severities.find((one) => one === failAt),
    region: text(child(root, 'region')),
    kits: kit && (kit.kind === 'list' ? kit.items : [kit]).flatMap((item) => text(item) ?? []),
    fees: readFees(child(root, 'fees')),
    files: [file],
  });
}

function ruleSettings(block: Node): RuleSettings {
  const severity = text(child(block, 'severity'));
  const reason = text(child(block, 'reason'));
  const known = isLevelOrNone(severity) ? severity : undefined;
  const limits = pairs(block).filter(({ key }) => key.text !== 'severity' && key.text !== 'reason');
  return {
    // A rule is switched off only with a reason; without one it stays as it is, and that is reported.
    severity: known === 'none' && !reason ? undefined : known,
    limits: new Map(limits.map(({ key, value }) => [key.text, text(value) ?? ''])),
  };
}

/** @param today days since 1970-01-01, where it is known */
export function checkSettings(root: Node, rules: readonly Rule[], today?: number): Finding[] {
  const found = pairs(child(root, 'rules')).flatMap((pair) => {
    const rule = rules.find((one) => one.id === pair.key.text);
    return rule ? checkRule(rule, pair) : [unknownRule(pair, rules)];
  });
  return [...found, ...checkFees(child(root, 'fees'), today)];
}

function unknownRule({ key }: Pair, rules: readonly Rule[]): Finding {
  const near = nearest(
    key.text,
    rules.map((rule) => rule.id),
  )?.word;
  const fixes = near
    ? [{ title: `Change to \`${near}\``, edits: [{ start: key.start, end: key.end, text: near }], safe: false }]
    : [];
  return found(
    'unknown-rule',
    key,
    `There is no rule \`${key.text}\`${near ? `; the nearest is \`${near}\`` : ''}.`,
    fixes,
  );
}

function checkRule(rule: Rule, { key, value }: Pair): Finding[] {
  const findings: Finding[] = [];
  const severity = child(value, 'severity');
  if (text(severity) === 'none' && severity) {
    if (rule.family === 'care') {
      findings.push(
        found(
          'care-switched-off',
          severity,
          `\`${rule.id}\` is about harm: it can be lowered to \`info\`, not switched off. It counts as \`info\` now.`,
        ),
      );
    } else if (!text(child(value, 'reason'))) {
      findings.push(
        found(
          'none-without-reason',
          severity,
          `Say why \`${rule.id}\` is switched off: add \`reason\`. Until then it stays on.`,
        ),
      );
    }
  }
  const limits = (rule.limits ?? {}) as Record<string, Limit>;
  for (const limit of pairs(value)) {
    if (limit.key.text === 'severity' || limit.key.text === 'reason') continue;
    findings.push(...checkLimit(rule.id, limits, limit));
  }
  return findings.map((finding) => ({ ...finding, related: finding.start === key.start ? [] : finding.related }));
}

function checkLimit(rule: string, limits: Readonly<Record<string, Limit>>, { key, value }: Pair): Finding[] {
  const limit = Object.hasOwn(limits, key.text) ? limits[key.text] : undefined;
  if (!limit) {
    const names = Object.keys(limits).map((name) => `\`${name}\``);
    const has = names.length > 0 ? `Its limits are ${listText(names)}.` : 'It has no limits.';
    return [found('unknown-limit', key, `\`${rule}\` has no limit ${quoted(key.text)}. ${has}`)];
  }
  const said = text(value) ?? '';
  if (readLimit(limit, said) !== undefined) return [];
  return [
    found(
      'unreadable-limit',
      value,
      `${quoted(said)} can't be read as ${quoted(key.text)}: write it like \`${limit.default}\`.`,
    ),
  ];
}

function found(rule: string, at: Range, message: string, fixes: Finding['fixes'] = []): Finding {
  return { rule, severity: 'error', message, start: at.start, end: at.end, related: [], fixes };
}

function pairs(node: Node | undefined): readonly Pair[] {
  return node?.kind === 'map' ? node.pairs : [];
}

function text(node: Node | undefined): string | undefined {
  return node?.kind === 'scalar' && node.text !== '' ? node.text : undefined;
}
