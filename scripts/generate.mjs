/**
 * Makes from schemas/ what the server needs of them, into server/core/schema/generated/ (not kept in git):
 * the TypeScript types of the files that people write, and validators that need no library at run time.
 *
 * Nothing is done when the results are newer than what they are made from; `--force` makes them anyway.
 */
import fs from 'node:fs';
import path from 'node:path';
import Ajv from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { compile } from 'json-schema-to-typescript';

const root = path.resolve(import.meta.dirname, '..');
const target = path.join(root, 'server/core/schema/generated');
const kinds = ['shoot', 'kit', 'config'];
const sources = kinds.map((kind) => path.join(root, `schemas/${kind}.schema.json`));
const results = [...kinds.map((kind) => `${kind}.ts`), 'validate.js', 'validate.d.ts'].map((file) =>
  path.join(target, file),
);

function outOfDate() {
  const made = results.map((file) => (fs.existsSync(file) ? fs.statSync(file).mtimeMs : 0));
  const written = [...sources, import.meta.filename].map((file) => fs.statSync(file).mtimeMs);
  return Math.min(...made) <= Math.max(...written);
}

async function generate() {
  const schemas = sources.map((file) => JSON.parse(fs.readFileSync(file, 'utf8')));
  fs.mkdirSync(target, { recursive: true });
  for (const [index, kind] of kinds.entries()) write(`${kind}.ts`, await types(schemas[index], kind));
  write('validate.js', validators(schemas));
  write('validate.d.ts', declarations);
}

/** Written under another name first, so that nobody ever reads half a file. */
function write(file, text) {
  const name = path.join(target, file);
  fs.writeFileSync(`${name}.part`, text);
  fs.renameSync(`${name}.part`, name);
}

function types(schema, kind) {
  return compile(forTypes(schema), kind, {
    bannerComment: `/* Made by scripts/generate.mjs from schemas/${kind}.schema.json. */`,
    additionalProperties: false,
    ignoreMinAndMaxItems: true,
    format: false,
    customName: (_part, key) => (key === undefined ? undefined : pascal(key)),
  });
}

/** Each block is one type, named for its key; what a field says of itself stays as its comment. */
function forTypes(value) {
  if (Array.isArray(value)) return value.map(forTypes);
  if (typeof value !== 'object' || value === null) return value;
  if (typeof value.$ref === 'string') return { $ref: value.$ref };
  const entries = Object.entries(value).filter(
    ([key, inner]) => !(['$id', 'title'].includes(key) && typeof inner === 'string') && key !== 'allOf',
  );
  return Object.fromEntries(entries.map(([key, inner]) => [key, forTypes(inner)]));
}

function pascal(words) {
  return words.replace(/(?:^|[^a-zA-Z0-9]+)([a-z0-9])/g, (_, letter) => letter.toUpperCase());
}

const declarations = `/* Made by scripts/generate.mjs from schemas/. */
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

/** The schemas use no word that newer drafts read differently, and the code for this one is smaller. */
function validators(schemas) {
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
  for (const [index, kind] of kinds.entries()) ajv.addSchema({ $id: kind, ...files[index] });
  const code = smaller(standaloneCode.default(ajv, Object.fromEntries(kinds.map((kind) => [kind, kind]))));
  if (/\brequire\(/.test(code)) throw new Error('the validators need a library at run time');
  if (/\b(?:parentData|rootData)\b/.test(code)) throw new Error('the validators use what was taken away from them');
  return `/* Made by scripts/generate.mjs from schemas/. */\n${helpers}${code}`;
}

/** What the code says again and again, said once. */
const helpers = `
function add(all, instancePath, keyword, params = {}, propertyName = undefined) {
  (all ??= []).push({ instancePath, keyword, params, propertyName });
  return all;
}
function part(all, data, key, instancePath, validate) {
  if (data[key] === undefined || validate(data[key], { instancePath: instancePath + '/' + key })) return all;
  if (all === null) return validate.errors;
  for (const error of validate.errors) all.push(error);
  return all;
}
function count(all) {
  return all === null ? 0 : all.length;
}
`;

/**
 * The same code in a third of its size: without what each call and each error carries for keywords and outputs that
 * we do not have, and with the helpers in place of their text. A test compares its answers with those of the library.
 */
function smaller(code) {
  const text = String.raw`"(?:[^"\\]|\\.)*"`;
  return code
    .replace(/,parentData:\w+,parentDataProperty:(?:"[^"]*"|\w+),rootData/g, '')
    .replace(/, parentData, parentDataProperty, rootData=data/g, '')
    .replace(/,parentData,parentDataProperty,rootData/g, '')
    .replace(/schemaPath:"[^"]*",/g, '')
    .replace(
      new RegExp(
        String.raw`params:\{(?:type|pattern|allowedValues|comparison): (?:${text}|[\w.]+)(?:, limit: [-\d.]+)?\}`,
        'g',
      ),
      'params:{}',
    )
    .replace(
      /const (err\d+) = \{instancePath(?::([^{}]*?))?,keyword:("\w+"),params:(\{[^{}]*\}(?:,propertyName:\w+)?)\};if\(vErrors === null\)\{vErrors = \[\1\];\}else \{vErrors\.push\(\1\);\}errors\+\+;/g,
      (_all, _name, path = 'instancePath', keyword, params) =>
        `vErrors = add(vErrors,${path},${keyword}${params === '{}' ? '' : `,${params.replace('},propertyName:', '},')}`});errors++;`,
    )
    .replace(
      /if\(data(?:\.(\w+)|\["([^"]+)"\]) !== undefined\)\{if\(!\((validate\d+)\(data(?:\.\1|\["\2"\]), \{instancePath:instancePath\+"\/[^"]+"\}\)\)\)\{vErrors = vErrors === null \? \3\.errors : vErrors\.concat\(\3\.errors\);errors = vErrors\.length;\}\}/g,
      (_all, word, words, validate) =>
        `vErrors = part(vErrors,data,"${word ?? words}",instancePath,${validate});errors = count(vErrors);`,
    )
    .replace(/"\$ref":"[^"]*",?/g, '');
}

/** Names below which the names are keys of the file, not words of the schema. */
const keyed = new Set(['properties', '$defs']);
/**
 * Empty text is found before the validators run, and counting characters would need a library. `allOf` holds the rules
 * for other editors; here they are checked by the rules themselves, which say more.
 */
const words = new Set(['title', 'description', 'examples', '$id', '$schema', 'minLength', 'allOf']);

/** A short name, as the code repeats it. */
const partsId = 'p';

/**
 * The schemas without what only people read, and with equal values written once. The blocks and values of all three
 * are one schema of their own, so that the code holds each of them once.
 */
function lean(schemas) {
  const parts = {};
  const shared = new Map();
  const files = schemas.map((schema, index) => {
    const prefix = `#/$defs/${kinds[index]}-`;
    const text = JSON.stringify(strip(schema)).replaceAll('"#/$defs/', `"${partsId}${prefix}`);
    const { $defs, ...root } = JSON.parse(text);
    for (const [name, block] of Object.entries($defs)) parts[`${kinds[index]}-${name}`] = shareValues(block, shared);
    return shareValues(root, shared);
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

if (process.argv.includes('--force') || outOfDate()) await generate();
