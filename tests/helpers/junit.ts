/** The schema of JUnit reports as Jenkins reads them: tests/fixtures/schemas says where it is from. */
import { readFileSync } from 'node:fs';
import { validateXML } from 'xmllint-wasm';

const schema = {
  fileName: 'jenkins-junit.xsd',
  contents: readFileSync(new URL('../fixtures/schemas/jenkins-junit.xsd', import.meta.url), 'utf8'),
};

/** What it has against reports, by their names. */
export async function junitFaults(reports: Readonly<Record<string, string>>): Promise<string[]> {
  const xml = Object.entries(reports).map(([fileName, contents]) => ({ fileName, contents }));
  const { errors } = await validateXML({ xml, schema });
  return errors.map(({ message, loc }) => `${loc?.fileName ?? ''}: ${message}`);
}
