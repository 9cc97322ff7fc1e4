/** `shootspec begin`: the questions of the editor's "New Shoot Spec", and the files that the answers make. */
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { kindOf, settingsPath } from '../core/paths.ts';
import { listText } from '../core/say.ts';
import { countryHere } from '../features/country-here.ts';
import {
  type CameraKind,
  firstKit,
  type KitAnswers,
  kitName,
  type LightKind,
  newKitText,
  sensorTyped,
  usualSensor,
} from '../features/new-kit.ts';
import { mainsHzOf, regionTyped } from '../features/region.ts';
import { firstFiles, type KitText } from '../first-files.ts';
import { pathFrom } from '../node-host.ts';
import { placeOf, readText } from './check-file.ts';
import { isThere, type Place, placeFor, specFile, titleQuestion } from './begin-place.ts';
import { expand, leadsOut, leftAlone } from './files.ts';
import { type Choice, oneOf, type Question, Questions } from './questions.ts';
import { parse, print, Refused, UsageError } from './usage.ts';
import { writeNew } from './write.ts';

export async function begin(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'begin');
  if (values.like !== undefined) {
    const { beginLike } = await import('./begin-like.ts');
    return print(await beginLike(values.like, positionals, values));
  }
  const only = (['client', 'size', 'day'] as const).find((one) => values[one] !== undefined);
  if (only) throw new UsageError(`--${only} goes with \`--like\`: a film that begins anew says it in its spec.`);
  const place = placeFor(positionals);
  // To describe gear is to choose none that there is.
  const describes = values.camera !== undefined || values.sensor !== undefined || values.light !== undefined;
  const questions = new Questions({ ...values, ...(describes && values.kit === undefined && { kit: 'own' }) });
  try {
    return print(write(await filesFor(questions, place), place));
  } finally {
    questions.end();
  }
}

/** Texts by their path from the root, in the order in which they are written. */
type Files = ReadonlyMap<string, string>;

async function filesFor(questions: Questions, place: Place): Promise<Files> {
  const { folder, root } = place;
  const title = await questions.ask(titleQuestion(place));
  const { kits, isNew } = await kitsFor(questions, place);
  const settingsFile = join(root, settingsPath);
  const settings = isThere(settingsFile) ? readText(settingsFile) : undefined;
  const asked = { title, kits, ...(settings === undefined ? { withSettings: true } : { settings }) };
  let made = questions.has('region') ? undefined : firstFiles(asked);
  if (made?.text === undefined) made = firstFiles({ ...asked, region: await questions.ask(regionQuestion()) });
  return new Map([
    ...(isNew ? kits.map(({ path, text }) => [path, text] as const) : []),
    ...(made.settings === undefined ? [] : [[settingsPath, made.settings] as const]),
    [pathFrom(root, specFile(folder, title)), made.text!],
  ]);
}

function regionQuestion(): Question<string> {
  return {
    option: 'region',
    text: 'Where do you film? A country code such as DE, or the mains: 50 Hz or 60 Hz.',
    usual: countryHere() ?? '50 Hz',
    read(typed) {
      const region = regionTyped(typed);
      if (mainsHzOf(region) !== undefined) return region;
      return { why: 'Two letters for the country, or 50 Hz or 60 Hz. With two kinds of mains, both: JP 60 Hz.' };
    },
  };
}

// -- the kit -----------------------------------------------------------------------------------------------------------

interface ChosenKits {
  readonly kits: readonly KitText[];
  readonly isNew: boolean;
}

/** What the settings name, or the only kit that there is, needs no question. */
async function kitsFor(questions: Questions, { root }: Place): Promise<ChosenKits> {
  const there = (await expand([root], () => undefined))
    .map((file) => pathFrom(root, file))
    .filter((path) => kindOf(path) === 'kit');
  const usual = placeOf(join(root, settingsPath))
    .checker.settings(settingsPath)
    .kits.filter((path) => there.includes(path));
  const known = usual.length > 0 ? usual : there;
  const read = (paths: readonly string[]) => paths.map((path) => ({ path, text: readText(join(root, path)) }));
  if (!questions.has('kit') && (usual.length > 0 || known.length === 1)) return { kits: read(known), isNew: false };
  const chosen = await questions.ask(kitQuestion(there));
  if (chosen === 'none') return { kits: [], isNew: false };
  if (chosen !== 'first' && chosen !== 'own') return { kits: read([chosen]), isNew: false };
  const answers = chosen === 'first' ? firstKit : await describedKit(questions);
  return { kits: [{ path: freeKitPath(root, answers), text: newKitText(answers) }], isNew: true };
}

function kitQuestion(there: readonly string[]): Question<string> {
  const isFirst = there.length === 0;
  const choices: Choice[] = [
    ...there.map((path) => ({ word: path, label: path })),
    ...(isFirst
      ? [{ word: 'first', label: 'A phone and one light panel, with ordinary numbers to write over later' }]
      : []),
    { word: 'own', label: `${isFirst ? 'My own' : 'Other'} gear: three questions` },
    { word: 'none', label: 'No kit for now' },
  ];
  return oneOf('kit', 'Which gear is it filmed with?', choices);
}

async function describedKit(questions: Questions): Promise<KitAnswers> {
  const camera = await questions.ask(
    oneOf<CameraKind>('camera', 'What do you film with?', [
      { word: 'phone', label: 'A phone' },
      { word: 'zoom', label: 'A camera with a zoom lens' },
      { word: 'prime', label: 'A camera with a lens that does not zoom' },
    ]),
  );
  const sensor = await questions.ask<string>({
    option: 'sensor',
    text: 'How large is its sensor, wide x high? The data sheet says it.',
    usual: usualSensor[camera],
    read: (typed) => sensorTyped(typed) ?? { why: 'Width x height in millimetres: 23.5 x 15.6 mm.' },
  });
  const light = await questions.ask(
    oneOf<LightKind>('light', 'What lights the product?', [
      { word: 'panel', label: 'A light panel' },
      { word: 'bulb', label: 'A lamp with an ordinary bulb' },
      { word: 'none', label: 'Daylight, no lamp' },
    ]),
  );
  return { camera, sensor, light };
}

function freeKitPath(root: string, answers: KitAnswers): string {
  for (let count = 1; ; count++) {
    const path = `kits/${kitName(answers)}${count > 1 ? `-${count}` : ''}.kit.yaml`;
    if (!isThere(join(root, path))) return path;
  }
}

// -- the files ---------------------------------------------------------------------------------------------------------

/** What to say of it. Nothing that is there is written over. */
function write(files: Files, { root }: Place): string {
  const named = (path: string) => pathFrom(process.cwd(), join(root, path));
  for (const [path, text] of files) {
    const file = join(root, path);
    makeFolder(dirname(file), named(path));
    if (leadsOut(root, dirname(file))) throw leftAlone(named(dirname(path)));
    writeNew(named(path), text);
  }
  const paths = [...files.keys()].map(named);
  return `Wrote ${listText(paths)}.\n\`shootspec check ${paths.at(-1)!}\` checks it; every number in it is there to be written over.\n`;
}

function makeFolder(folder: string, path: string): void {
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new Refused(path, 'written', error);
  }
}
