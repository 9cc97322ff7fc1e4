/** Answers as text for people, and as data for scripts. */
import { listText, num, rasterText } from '../core/say.ts';
import { exampleText, topics, type Answer } from './index.ts';
import type { AnyTopic, Key, Result, Value } from './topic.ts';

/** Longer lists are cut in text; data holds all. */
const mostListed = 16;
/** Lines are broken here where they can be. */
const lineWidth = 100;

/** Results, formula, inputs and source. */
export function answerText(answer: Answer): string {
  const { topic, notes } = answer;
  const inputs = Object.entries(answer.inputs).map(([name, text]) => {
    const usual = answer.assumed.includes(name) ? ' (usual value)' : '';
    return `${name} ${typeof text === 'string' ? text : listText(text)}${usual}`;
  });
  const about: [string, string][] = [
    ['formula', topic.formula],
    ['inputs', inputs.join(', ')],
    ['source', topic.source],
  ];
  const lines = [
    topic.summary,
    ...columns(spoken(answer)),
    ...notes.flatMap((note) => broken(note, 2)),
    '',
    ...columns(about),
  ];
  return `${lines.join('\n')}\n`;
}

/** One flat object: the results under their own names, beside what they were made from. */
export function answerJson({ topic, inputs, results, notes }: Answer): string {
  const { formula, source } = topic;
  return `${JSON.stringify({ topic: topic.id, ...results, inputs, notes, formula, source }, null, 2)}\n`;
}

/** What can be computed, with the keys and results of each. */
export function topicsText(): string {
  const head =
    '[ ] may be left out, ( ) is one of several ways, … may be written again. Values are written as in specs, the space ' +
    'before the unit may be left out.';
  return ['shootspec compute TOPIC KEY=VALUE… [--json]', '', ...broken(head, 0), '', ...topics.map(topicText)].join(
    '\n',
  );
}

export function topicsJson(): string {
  const list = topics.map(({ id, summary, keys, ways, results, formula, source }) => ({
    id,
    summary,
    keys: (Object.entries(keys) as [string, Key<unknown>][]).map(([name, one]) => ({
      name,
      meaning: one.meaning,
      example: one.example,
      words: one.words,
      need: one.otherwise === undefined ? one.need : 'optional',
      otherwise: one.otherwise,
    })),
    ways,
    results: Object.entries(results).map(([name, { unit, meaning }]) => ({ name, unit, meaning })),
    formula,
    source,
  }));
  return `${JSON.stringify({ topics: list }, null, 2)}\n`;
}

/** What one computation takes and gives. */
export function topicText(topic: AnyTopic): string {
  const keys = (Object.entries(topic.keys) as [string, Key<unknown>][]).map(([name, one]): [string, string] => [
    usage(topic, name, one),
    one.meaning,
  ]);
  const results = Object.entries(topic.results).map(([name, { meaning }]): [string, string] => [name, meaning]);
  const lines = [`${topic.id}: ${topic.summary}`, ...columns(keys), '  gives', ...columns(results)];
  return `${lines.join('\n')}\n  example: shootspec compute ${exampleText(topic)}\n`;
}

/** `distance=3m`, in brackets where it may be left out, with dots where it may be written again. */
function usage(topic: AnyTopic, name: string, { need, otherwise, example }: Key<unknown>): string {
  const written = `${name}=${example.replace(/(?<=\d) (?=[A-Za-z%])/g, '')}`;
  if (need === 'several') return `${written} …`;
  const inWay = (topic.ways ?? []).flat().includes(name);
  if (inWay) return `(${written})`;
  return need === 'optional' || otherwise !== undefined ? `[${written}]` : written;
}

/** What was answered, as it is said: what it is, and its value. */
export function spoken({ topic, results }: Answer): [string, string][] {
  return (Object.entries(topic.results) as [string, Result][]).flatMap(([name, result]): [string, string][] => {
    const text = valueText(results[name] ?? null, result);
    return text === undefined ? [] : [[result.meaning, text]];
  });
}

function valueText(value: Value, result: Result): string | undefined {
  if (value === null) return result.none;
  if (typeof value === 'number') return numberText(value, result);
  if (typeof value === 'string') return value;
  if ('width' in value) return `${rasterText(value)} ${result.unit}`;
  if (value.length === 0) return result.none;
  const shown = value.slice(0, mostListed).map((one) => numberText(one, result));
  return shown.join(', ') + (value.length > mostListed ? ` … (${value.length} in all)` : '');
}

function numberText(value: number, { unit, say }: Result): string {
  if (say) return say(value);
  return `${figures(value)}${unit === '°' || unit === '' ? '' : ' '}${unit}`;
}

/** Five figures, more for larger whole numbers. */
function figures(value: number): string {
  const before = value === 0 ? 1 : Math.floor(Math.log10(Math.abs(value))) + 1;
  return num(value, Math.min(12, Math.max(0, 5 - before)));
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(...rows.map(([first]) => first.length));
  return rows.flatMap(([first, second]) => {
    const [line = '', ...more] = broken(second, width + 4);
    return [`  ${first.padEnd(width)}  ${line.trimStart()}`, ...more];
  });
}

/** A text in lines, each indented; words stay whole. */
function broken(text: string, indent: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/ /)) {
    if (line !== '' && indent + line.length + 1 + word.length > lineWidth) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((one) => ' '.repeat(indent) + one);
}
