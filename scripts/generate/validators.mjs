/** Makes of the schemas validators that need no library at run time, and the declarations of their types. */
import Ajv from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';

export const declarations = (kinds) => `/* Made by scripts/generate.mjs from schemas/. */
export interface Complaint {
  readonly keyword: string;
  readonly instancePath: string;
  /** Set where a name itself is complained of. */
  readonly propertyName?: string;
  readonly params: Readonly<Record<string, unknown>>;
}
/** True when nothing is wrong; otherwise \`errors\` holds all that is, until the next call. */
export interface Validator {
  (data: unknown): boolean;
  readonly errors?: readonly Complaint[] | null;
}
${kinds.map((kind) => `export declare const ${kind}: Validator;`).join('\n')}
`;

/**
 * The schemas use no word that newer drafts read differently, and the code for this one is smaller.
 * @param schemas by kind of file
 */
export function code(schemas) {
  const ajv = new Ajv.default({
    code: { source: true, esm: true },
    allErrors: true,
    messages: false,
    inlineRefs: false,
    allowUnionTypes: true,
    strictTypes: true,
    strictTuples: true,
  });
  const { files, parts } = lean(schemas);
  ajv.addSchema({ $id: partsId, $defs: parts });
  for (const [kind, file] of files) ajv.addSchema({ $id: kind, ...file });
  const text = standaloneCode.default(ajv, Object.fromEntries(files.map(([kind]) => [kind, kind])));
  if (/\brequire\(/.test(text)) throw new Error('the validators need a library at run time');
  return `/* Made by scripts/generate.mjs from schemas/. */\n${join}${inOneList(text)}`;
}

const join = `
function join(all, more) {
  if (all === null) return more;
  for (const error of more) all.push(error);
  return all;
}
`;

/** The faults of each part go behind those before them: the list copied anew for each, thousands would take minutes. */
function inOneList(code) {
  return code.replace(
    /vErrors === null \? (validate\d+)\.errors : vErrors\.concat\(\1\.errors\)/g,
    (_all, validate) => `join(vErrors,${validate}.errors)`,
  );
}

/** Names below which the names are keys of the file, not words of the schema. */
const keyed = new Set(['properties', '$defs']);
/**
 * Empty text is found before the validators run, and counting characters would need a library. `allOf` holds the rules
 * for other editors; here they are checked by the rules themselves, which say more.
 */
const words = new Set(['title', 'description', 'examples', '$id', '$schema', 'minLength', 'allOf', 'anyOf']);

/** A short name, as the code repeats it. */
const partsId = 'p';

/**
 * The schemas without what only people read, and with equal values written once. The blocks and values of all three
 * are one schema of their own, so that the code holds each of them once.
 */
function lean(schemas) {
  const parts = {};
  const shared = new Map();
  const files = Object.entries(schemas).map(([kind, schema]) => {
    const prefix = `#/$defs/${kind}-`;
    const text = JSON.stringify(strip(schema)).replaceAll('"#/$defs/', `"${partsId}${prefix}`);
    const { $defs, ...root } = JSON.parse(text);
    for (const [name, block] of Object.entries($defs)) parts[`${kind}-${name}`] = shareValues(block, shared);
    return [kind, shareValues(root, shared)];
  });
  for (const { name, value } of shared.values()) parts[name] = value;
  return { files, parts };
}

function strip(value, names = false) {
  if (Array.isArray(value)) return value.map((item) => strip(item));
  if (typeof value !== 'object' || value === null) return value;
  const kept = Object.entries(value).filter(([key]) => names || !(words.has(key) || key.startsWith('x-')));
  return Object.fromEntries(kept.map(([key, inner]) => [key, strip(inner, !names && keyed.has(key))]));
}

function shareValues(block, shared) {
  const entries = Object.entries(block.properties ?? {}).map(([key, value]) => [key, share(value, shared)]);
  return { ...block, properties: Object.fromEntries(entries) };
}

function share(value, shared) {
  if (value.$ref && Object.keys(value).length === 1) return value;
  const text = JSON.stringify(value);
  if (!shared.has(text)) shared.set(text, { name: `v${shared.size}`, value });
  return { $ref: `${partsId}#/$defs/${shared.get(text).name}` };
}
