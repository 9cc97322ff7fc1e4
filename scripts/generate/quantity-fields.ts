/**
 * Puts into a schema what follows from the table of quantities: the pattern and the units of each field that is a
 * quantity, and the patterns of names and of words that may stand in a list.
 */
import {
  type NumberRange,
  numberPatterns,
  type Quantity,
  quantities,
  quantityNamed,
} from '../../server/core/quantities/table.ts';

/** A field of a schema, as far as it is looked at here. */
interface SchemaField {
  type?: string | string[];
  minLength?: number;
  pattern?: string;
  enum?: string[];
  items?: SchemaField;
  properties?: Record<string, SchemaField>;
  additionalProperties?: boolean | SchemaField;
  propertyNames?: { pattern: string };
  exclusiveMinimum?: number;
  minimum?: number;
  $defs?: Record<string, SchemaField>;
  'x-quantity'?: string;
  'x-unit'?: string;
  'x-range'?: NumberRange;
  'x-ends'?: string;
  'x-special'?: string[];
  'x-names'?: string | string[];
  'x-free'?: boolean;
  'x-defines'?: string;
}

const name = '[a-z0-9][a-z0-9-]*';
/** These two are said where a name may stand, and mean something else there. */
const newName = `(?!(?:none|product)$)${name}`;

/** The schema with all that is made in it as the table has it. */
export function withQuantities<S extends object>(schema: S): S {
  const copy = structuredClone(schema);
  visit(copy);
  return copy;
}

function visit(field: SchemaField): void {
  const { items, additionalProperties: named } = field;
  const quantity = quantityNamed(field['x-quantity']);
  if (field['x-quantity'] && !quantity) throw new Error(`there is no quantity ${field['x-quantity']}`);
  if (quantity) field['x-unit'] = quantity.units;
  const pattern = patternOf(field, quantity);
  if (pattern) {
    field.pattern = pattern;
    if (items && !items.enum) items.pattern = pattern;
  }
  if (field.propertyNames) field.propertyNames.pattern = whole([field['x-defines'] ? newName : name]);
  for (const inner of Object.values({ ...field.properties, ...field.$defs })) visit(inner);
  if (items) visit(items);
  if (typeof named === 'object') visit(named);
}

function patternOf(field: SchemaField, quantity: Quantity | undefined): string | undefined {
  const types = [field.type ?? []].flat();
  if (!types.includes('string') || field.enum) return undefined;
  if (quantity) return quantity.form && quantityPattern(field, quantity, types.includes('number'));
  if (field.items?.enum) return whole(field.items.enum);
  return field['x-names'] === undefined || field['x-free'] ? undefined : whole([name]);
}

/** @param numberAlone true where a single value is a number of YAML and no text */
function quantityPattern(field: SchemaField, quantity: Quantity, numberAlone: boolean): string {
  const range = field['x-range'] ?? quantity.range;
  const one = quantity.form!(numberPatterns[range], range);
  const second = field['x-ends'] ? [` to ${one}`] : [];
  const after = [...second, ...(quantity.afterOne ? [quantity.afterOne] : [])];
  const values = numberAlone
    ? second.map((end) => one + end)
    : [one + (after.length > 0 ? `(?:${after.join('|')})?` : '')];
  return whole([...values, ...(field['x-special'] ?? [])]);
}

function whole(choices: readonly string[]): string {
  return choices.length === 1 ? `^${choices[0]}$` : `^(?:${choices.join('|')})$`;
}

/** How a limit of a rule is written; the reader of the settings has the last word. */
export function limitForm(quantity: keyof typeof quantities): object {
  if (quantity === 'number') return { type: 'number' };
  return { type: 'string', pattern: whole([quantities[quantity as 'length'].form!(numberPatterns.any, 'any')]) };
}
