/** The reference pages, as text, from the same source as hovers and `shootspec rules`. */
import { childrenOf, type Field, type FileKind } from '../../server/core/schema/fields.ts';
import type { Limit } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';

const made = '<!-- Made by `npm run generate`: change the schemas or the rules instead. -->\n';

export function fieldsPage(): string {
  const parts = [
    section('Shoot spec (`*.shoot.yaml`)', 'shoot'),
    section('Take sheet (`*.takes.yaml`)', 'takes'),
    section('Kit (`*.kit.yaml`)', 'kit'),
    section('Settings (`shootspec.yaml`)', 'config'),
  ];
  return `# Every field\n\n${made}\nHow the files work is told in [format.md](format.md).\n\n${parts.join('\n')}`;
}

function section(title: string, kind: FileKind): string {
  const seen = new Set<string>();
  const blocks: string[] = [];
  const visit = (path: readonly (string | number)[], heading: string): void => {
    const fields = childrenOf(kind, path);
    const table = rowsOf(fields);
    // A block that several others hold (a shot's camera) is listed where it stands first.
    if (fields.length === 0 || seen.has(table)) return;
    seen.add(table);
    blocks.push(`### ${heading}\n\n${table}`);
    for (const field of fields) {
      if (!field.isBlock) continue;
      const inside =
        field.shape === 'lines'
          ? [...path, field.key, 0]
          : field.shape === 'named'
            ? [...path, field.key, 'name']
            : [...path, field.key];
      visit(inside, `\`${[...path.filter((step) => step !== 'name' && step !== 0), field.key].join(': ')}\``);
    }
  };
  visit([], 'Top of the file');
  return `## ${title}\n\n${blocks.join('\n')}`;
}

function rowsOf(fields: readonly Field[]): string {
  const rows = fields.map(
    (field) =>
      `| \`${field.key}\` | ${cell(field.description)} | ${value(field)} | ${field.required ? 'required' : cell(field.default ?? '')} | ${field.examples[0] ? `\`${cell(field.examples[0])}\`` : ''} |`,
  );
  return `| field | meaning | value | left out | example |\n|---|---|---|---|---|\n${rows.join('\n')}\n`;
}

function value(field: Field): string {
  const words = [...field.words, ...field.special].map((word) => `\`${word}\``).join(' · ');
  if (field.isBlock) {
    const shape = field.shape === 'named' ? 'named blocks' : field.shape === 'lines' ? 'list of lines' : 'block';
    return words ? `${shape}, or ${words}` : shape;
  }
  const ends = field.ends ? ', or `A to B`' : '';
  const list = field.isList ? ', or a list' : '';
  return `${cell([field.unit ?? '', words].filter(Boolean).join('; ') || 'text')}${ends}${list}`;
}

function cell(text: string): string {
  return text.replaceAll('|', '\\|').replaceAll('\n', ' ');
}

export function rulesPage(): string {
  const families = [...new Set(rules.map((rule) => rule.family))];
  const parts = families.map((family) => {
    const rows = rules
      .filter((rule) => rule.family === family)
      .map((rule) => {
        const limits = Object.entries((rule.limits ?? {}) as Record<string, Limit>).map(
          ([name, limit]) => `\`${name}: ${limit.default}\``,
        );
        return `| [${rule.id}](../server/rules/${family}/${rule.id}.md) | ${rule.severity} | ${cell(rule.summary)} | ${limits.join(', ')} | ${cell(rule.sources.join('; '))} |`;
      });
    return `## ${family}\n\n| rule | severity | what goes wrong | limits | source |\n|---|---|---|---|---|\n${rows.join('\n')}\n`;
  });
  return `# The checks\n\n${made}\n${rules.length} rules in ${families.length} families. Each page says why, shows a wrong and a right spec, the fix, and when to turn the\nrule off; \`shootspec explain RULE\` prints it. What an eye at the camera judges better than a sum, and cautions of which some\nprecautions are written, stand on the sheet for the set alone: their severity is \`sheet\`, and \`shootspec.yaml\` makes it another.\n\n${parts.join('\n')}`;
}
