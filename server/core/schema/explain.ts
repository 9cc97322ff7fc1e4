/** What is wrong with one value, in the words of the trade, and the value meant where there is one. */
import type { ScalarNode } from '../document/node.ts';
import type { Fix } from '../finding.ts';
import { listText, quoted } from '../say.ts';
import { familiesWith, familyNamed } from '../quantities/families.ts';
import { quantityNamed } from '../quantities/table.ts';
import { angleDeg } from '../units.ts';
import type { RawField } from './fields.ts';
import { isNumber, oneOf, typesOf, yamlText } from './fields.ts';
import { asKey, type Near, nearest } from '../nearest.ts';
import { fits, noUnit, repair } from './repair.ts';

export interface Explained {
  readonly rule: 'wrong-unit' | 'unknown-word' | 'bad-name' | 'out-of-range' | 'wrong-shape';
  readonly message: string;
  readonly fixes: readonly Fix[];
}

/** A fix that puts another text in the place of a value. */
export function replace(node: ScalarNode, text: string, safe: boolean): Fix[] {
  if (node.alias !== undefined) return [];
  const written = text.startsWith('#') ? JSON.stringify(text) : text;
  return [{ title: `Write ${quoted(written)}`, edits: [{ start: node.start, end: node.end, text: written }], safe }];
}

/** Why a value is none that the field takes. */
export function explainValue(field: RawField, key: string, node: ScalarNode): Explained {
  const one = oneOf(field);
  const text = node.text;
  const words = one.enum ?? [];
  if (words.length > 0 && one['x-quantity'] === undefined) return explainWord(words, key, node);
  const quantity = one['x-quantity'];
  if (quantity === undefined) return explainName(one, key, node);
  if (node.quoted && fits(one, text)) {
    const message = `${show(node)} is in quotes, which make text of it: ${quoted(key)} is ${named(quantity)} without quotes.`;
    return { rule: 'wrong-unit', message, fixes: replace(node, text, true) };
  }
  const meant = repair(one, text);
  if (meant) {
    const written = meant.text.startsWith('#') ? JSON.stringify(meant.text) : meant.text;
    const others = (meant.others ?? []).map((other) => ` or \`${other}\``).join('');
    const guess = meant.safe ? '' : `${others} (if that is what you mean)`;
    const also = meant.safe || meant.why !== noUnit || !one['x-unit']?.includes(',') ? '' : ` Units: ${one['x-unit']}.`;
    const message = `${show(node)} ${meant.why}: write \`${written}\`${guess}.${also}`;
    const all = [meant.text, ...(meant.others ?? [])];
    return { rule: 'wrong-unit', message, fixes: all.flatMap((text) => replace(node, text, meant.safe)) };
  }
  return (
    explainSpecial(one, key, node) ??
    explainTrap(one, key, node) ??
    explainLimits(one, key, node) ??
    explainUnit(one, key, node)
  );
}

function named(quantity: string): string {
  return quantityNamed(quantity)?.called ?? 'a value';
}

function show(node: ScalarNode): string {
  const text = node.text.replace(/\s+/g, ' ').trim();
  return quoted(text);
}

function example(field: RawField): string {
  const first = field.examples?.find((value) => !Array.isArray(value)) ?? field.examples?.[0];
  return first === undefined ? '' : `\`${yamlText(Array.isArray(first) ? first[0] : first)}\``;
}

/** Words that YAML 1.1 took for true and false, and what people mean by them here. */
const yes = /^(?:yes|on|true|y)$/i;
const no = /^(?:no|off|false|n)$/i;

function explainWord(words: readonly string[], key: string, node: ScalarNode): Explained {
  const text = node.text;
  const allowed = listText(
    words.map((word) => `\`${word}\``),
    'or',
  );
  if (yes.test(text) || no.test(text)) {
    const others = words.filter((word) => word !== 'none');
    const word = no.test(text) ? words.find((each) => each === 'none') : others.length === 1 ? others[0] : undefined;
    const message = `${show(node)} is no word of this format; ${quoted(key)} is ${allowed}.`;
    return { rule: 'unknown-word', message, fixes: word ? replace(node, word, false) : [] };
  }
  const near = nearest(text, words) ?? otherWord(text, words);
  const meant = near ? ` Did you mean \`${near.word}\`?` : '';
  const message = `${quoted(key)} can't be ${show(node)}.${meant} It is ${allowed}.`;
  return { rule: 'unknown-word', message, fixes: near ? replace(node, near.word, near.sure) : [] };
}

/** Words that people bring along for values, and ours; the first that may stand there. */
const otherWords: Readonly<Record<string, readonly string[]>> = {
  daylight: ['window'],
  sun: ['window'],
  sunlight: ['window'],
  lamps: ['mains-lamps'],
  mains: ['mains-lamps'],
  battery: ['battery-lamps'],
  shiny: ['glossy'],
  gloss: ['glossy'],
  polished: ['glossy'],
  matt: ['matte'],
  flat: ['matte'],
  'semi-gloss': ['satin'],
  silk: ['satin'],
  metal: ['metallic'],
  clear: ['transparent'],
  frosted: ['translucent'],
  milky: ['translucent'],
  rec709: ['bt709'],
  'rec-709': ['bt709'],
  sdr: ['bt709'],
  hdr10: ['pq'],
  avc: ['h264'],
  hevc: ['h265'],
  tv: ['television', 'broadcast'],
  phone: ['phone-upright'],
  table: ['surface'],
  tripod: ['stand'],
  center: ['centre'],
  middle: ['centre'],
  mid: ['centre'],
  grey: ['mid'],
  gray: ['mid'],
  back: ['rim'],
  top: ['up'],
  website: ['web'],
  online: ['web'],
  manual: ['locked'],
  fixed: ['locked'],
  global: ['worldwide'],
  world: ['worldwide'],
  europe: ['EEA'],
  hair: ['rim'],
};

function otherWord(text: string, words: readonly string[]): Near | undefined {
  const key = asKey(text);
  const word = Object.hasOwn(otherWords, key) ? otherWords[key]!.find((one) => words.includes(one)) : undefined;
  return word === undefined ? undefined : { word, sure: false };
}

/** A name of something, a place in the world, or a text that follows some other pattern. */
function explainName(field: RawField, key: string, node: ScalarNode): Explained {
  if (field['x-names'] === undefined) {
    const message = `${quoted(key)} can't be ${show(node)}: ${field.description ?? ''} For example ${example(field)}.`;
    const upper = node.text.toUpperCase();
    const lower = node.text.toLowerCase();
    const meant = [upper, lower].find((text) => fits(field, text));
    return { rule: 'unknown-word', message, fixes: meant ? replace(node, meant, true) : [] };
  }
  const message = `${show(node)} is no name: names are small letters, digits and hyphens, for example ${example(field)}.`;
  const meant = asKey(node.text);
  return { rule: 'bad-name', message, fixes: fits(field, meant) ? replace(node, meant, false) : [] };
}

/** A slip in a word that may stand in place of the quantity, and yes or no. */
function explainSpecial(field: RawField, key: string, node: ScalarNode): Explained | undefined {
  const special = field['x-special'] ?? [];
  const text = node.text;
  if (/\d/.test(text)) return undefined;
  const choices = special.map((word) => `\`${word}\``);
  const what = listText([`${named(field['x-quantity']!)} such as ${example(withoutWords(field))}`, ...choices], 'or');
  if (yes.test(text) || no.test(text)) {
    const word = no.test(text) && special.includes('none') ? 'none' : undefined;
    const message = `${show(node)} is no word of this format; ${quoted(key)} is ${what}.`;
    return { rule: 'unknown-word', message, fixes: word ? replace(node, word, false) : [] };
  }
  const near = nearest(text, special) ?? otherWord(text, special);
  if (!near && !/^[a-z-]+$/i.test(text)) return undefined;
  const meant = near ? ` Did you mean \`${near.word}\`?` : '';
  const message = `${quoted(key)} can't be ${show(node)}.${meant} It is ${what}.`;
  return { rule: 'unknown-word', message, fixes: near ? replace(node, near.word, near.sure) : [] };
}

/** The field with those examples only that are quantities. */
function withoutWords(field: RawField): RawField {
  const special = field['x-special'] ?? [];
  return {
    ...field,
    examples: (field.examples ?? []).filter((value) => typeof value !== 'string' || !special.includes(value)),
  };
}

/** Ways to write numbers that programmers know and that YAML reads in its own way. */
const traps: readonly [RegExp, string, (text: string) => number][] = [
  [/^[+-]?0x[0-9a-f]+$/i, 'counts in sixteens', Number],
  [/^[+-]?0o[0-7]+$/i, 'counts in eights', Number],
  [/^[+-]?0\d+(?:\.\d+)?$/, 'has a nought in front, which some programs read as counting in eights', Number],
  [/^[+-]?(?:\d+\.?\d*|\.\d+)e[+-]?\d+$/i, 'has an exponent', Number],
  [/^[+-]?\.(?:inf|nan)$/i, 'is no number that one can set', () => Infinity],
];

function explainTrap(field: RawField, key: string, node: ScalarNode): Explained | undefined {
  const [number = '', ...rest] = node.text.split(' ');
  const trap = traps.find(([pattern]) => pattern.test(number));
  if (!trap) return undefined;
  const value = trap[2](number);
  const text = [Number.isFinite(value) && Math.abs(value) < 1e9 ? String(value) : '', ...rest].join(' ').trim();
  const meant = fits(field, text) ? text : undefined;
  const write = meant ? `write \`${meant}\`` : `write ${quoted(key)} as plain digits, for example ${example(field)}`;
  // 025 may be 25 or 21: the reader of the file should decide.
  return {
    rule: 'wrong-unit',
    message: `${show(node)} ${trap[1]}: ${write}.`,
    fixes: meant ? replace(node, meant, false) : [],
  };
}

function explainLimits(field: RawField, key: string, node: ScalarNode): Explained | undefined {
  const text = node.text;
  const quantity = field['x-quantity']!;
  const ends = text.split(' to ');
  if (ends.length === 2 && !field['x-ends'] && fits(field, ends[0]!)) {
    const message = `${quoted(key)} takes one value and no \`A to B\`: write ${quoted(ends[0]!)} or ${quoted(ends[1]!)}.`;
    return { rule: 'wrong-shape', message, fixes: [] };
  }
  if ((quantity === 'direction' || quantity === 'angle') && ends.length === 2 && /left|right/.test(text)) {
    const message = `${show(node)} changes, and a change is written in plain degrees, clockwise from above: 50° left is \`50°\`, 50° right is \`310°\`.`;
    return { rule: 'wrong-unit', message, fixes: plainChange(node, ends) };
  }
  const asNumber = typesOf(field).some((type) => type === 'number' || type === 'integer') && isNumber(field, text);
  if (asNumber)
    return { rule: 'out-of-range', message: `${quoted(key)} can't be ${show(node)}: ${limits(field)}.`, fixes: [] };
  const minus = text.replace(/(^| )-(?=\d)/g, '$1');
  if (minus !== text && fits(field, minus)) {
    const message = `${quoted(key)} can't be ${show(node)}: it cannot be less than nothing.`;
    return { rule: 'out-of-range', message, fixes: [] };
  }
  const plus = text.replace(/(^| )\+(?=\d)/g, '$1');
  if (plus !== text && fits(field, plus)) {
    const message = `${show(node)} needs no plus: write \`${plus}\`.`;
    return { rule: 'wrong-unit', message, fixes: replace(node, plus, true) };
  }
  const nought = text.replace(/(?<![\d.])0+(?:\.0+)?(?![\d.])/g, '1');
  if (nought !== text && fits(field, nought)) {
    return {
      rule: 'out-of-range',
      message: `${quoted(key)} can't be ${show(node)}: it must be more than nothing.`,
      fixes: [],
    };
  }
  const small = text.replace(/\d+(?:\.\d+)?/g, '1');
  if (small !== text && fits(field, small)) {
    const why =
      quantity === 'share'
        ? 'it goes up to `100 %`'
        : 'the number is longer than anything that can be measured, or beyond what there is';
    return { rule: 'out-of-range', message: `${quoted(key)} can't be ${show(node)}: ${why}.`, fixes: [] };
  }
  return undefined;
}

/** `45° left to 20° right` the short way: `405° to 340°`. */
function plainChange(node: ScalarNode, ends: readonly string[]): Fix[] {
  const [start, end] = ends.map((text) => angleDeg(text));
  if (start === undefined || end === undefined) return [];
  const turn = ((end - start + 540) % 360) - 180;
  const base = start + turn < 0 ? start + 360 : start;
  return replace(node, `${base}° to ${base + turn}°`, false);
}

function limits(field: RawField): string {
  const whole = typesOf(field).includes('integer') ? 'a whole number ' : '';
  if (field.exclusiveMinimum !== undefined)
    return `it is ${whole}more than ${field.exclusiveMinimum} and at most ${field.maximum}`;
  if (field.minimum !== undefined) return `it is ${whole}from ${field.minimum} to ${field.maximum}`;
  return `it is ${whole}at most ${field.maximum}`;
}

/** Another kind of unit, a unit that is not known, or no quantity at all. */
function explainUnit(field: RawField, key: string, node: ScalarNode): Explained {
  const quantity = field['x-quantity']!;
  const units = field['x-unit'] ? ` (${field['x-unit']})` : '';
  const wanted = `${quoted(key)} is ${named(quantity)}${units}, for example ${example(withoutWords(field))}`;
  if (quantity === 'colour' || quantity === 'region' || quantity === 'date' || quantity === 'hours') {
    return { rule: 'wrong-unit', message: `${show(node)} can't be read as ${named(quantity)}: ${wanted}.`, fixes: [] };
  }
  const match = /^[+-]?\d+(?:\.\d+)? ?([^\d\s].*)$/.exec(node.text);
  const unit = match?.[1]?.replace(/ to .*$/, '');
  if (!unit) return { rule: 'wrong-unit', message: `${show(node)} can't be read: ${wanted}.`, fixes: [] };
  const own = quantityNamed(quantity)?.families ?? [];
  const other = familiesWith(unit).find((family) => !own.includes(family));
  const said = `${show(node)} is ${other ? familyNamed(other).called : 'a value'}, and ${wanted}.`;
  const bits = eightfold(quantity, node.text);
  if (bits) {
    const message = `${said} A byte (B) is 8 bits (b): ${show(node)} is \`${bits}\`. Where the figure itself is meant, write its unit as the example does.`;
    const small = node.text.replace(/(?<=[kMG])[bB]/, (unit) => (unit === 'B' ? 'b' : 'B'));
    const meant = [bits, repair(field, small)?.text ?? small].filter((text) => fits(field, text));
    return { rule: 'wrong-unit', message, fixes: meant.flatMap((text) => replace(node, text, false)) };
  }
  if (other) return { rule: 'wrong-unit', message: said, fixes: [] };
  return { rule: 'wrong-unit', message: `${quoted(unit)} is no unit here: ${wanted}.`, fixes: [] };
}

/** `20 MB/s` as `160 Mb/s`, and the other way round. */
function eightfold(quantity: string, text: string): string | undefined {
  const match = /^(\d+(?:\.\d+)?) ?([kMG])(b|B)(?:\/s|ps)$/.exec(text);
  if (!match || (quantity !== 'bit-rate' && quantity !== 'byte-rate')) return undefined;
  const toBits = match[3] === 'B';
  if (toBits !== (quantity === 'bit-rate')) return undefined;
  const value = Number((Number(match[1]) * (toBits ? 8 : 1 / 8)).toFixed(6));
  return `${value} ${match[2]}${toBits ? 'b' : 'B'}/s`;
}
