/** The schema of SARIF 2.1.0 by OASIS, as published (rtm.5), from the package that carries it. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import Ajv from 'ajv';

const file = createRequire(import.meta.url).resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json');
const { id, $schema, ...schema } = JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>;

/** What the schema calls itself. */
export const published = [id, $schema];

const valid = new Ajv({ strict: false, validateFormats: false, unicodeRegExp: false, allErrors: true }).compile(schema);

/** What it has against a log. */
export function sarifFaults(text: string): object[] {
  valid(JSON.parse(text));
  return valid.errors ?? [];
}
