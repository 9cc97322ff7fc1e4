/** `shootspec begin --like SPEC`: a new film from an old one. */
import { dirname, join } from 'node:path';
import { dayTyped, type OldFilm, oldFilmOf, sizeTyped, specLike, stillOld } from '../features/spec-like.ts';
import { pathFrom } from '../node-host.ts';
import { placeFor, specFile, titleQuestion } from './begin-place.ts';
import { leadsOut, leftAlone } from './files.ts';
import { Questions, type Question } from './questions.ts';
import { checkedSpec } from './spec-file.ts';
import { UsageError } from './usage.ts';
import { writeNew } from './write.ts';

const example = 'shootspec begin --like music-box.shoot.yaml';

/** What to say of what was written. */
export async function beginLike(
  like: string,
  positionals: readonly string[],
  given: Readonly<Record<string, string | boolean | undefined>>,
): Promise<string> {
  const gear = ['kit', 'camera', 'sensor', 'light', 'region'].find((one) => given[one] !== undefined);
  if (gear) throw new UsageError(`--${gear} does not go with \`--like\`: gear and region are those of the old film.`);
  const { file, root, result, film } = await checkedSpec([like], example);
  const place = placeFor(positionals.length > 0 ? positionals : [dirname(file)]);
  if (place.root !== root)
    throw new UsageError(
      `The new film would lie in another repo than \`${like}\`, where the paths of its kits and papers lead nowhere. Choose a folder in that one.`,
    );
  const old = oldFilmOf(result)!;
  const questions = new Questions(given);
  try {
    const title = await questions.ask(titleQuestion(place));
    const text = specLike(result, { title, ...(await restOf(questions, old)) });
    if (text === undefined) throw new UsageError(`\`${like}\` could not be taken over.`);
    if (leadsOut(root, place.folder)) throw leftAlone(pathFrom(process.cwd(), place.folder));
    const path = pathFrom(process.cwd(), join(specFile(place.folder, title)));
    writeNew(path, text);
    const look = stillOld(film);
    const still = look.length > 0 ? `Still as in the old film: ${look.join('; ')}.\n` : '';
    return `Wrote ${path}.\n${still}\`shootspec check ${path}\` checks it.\n`;
  } finally {
    questions.end();
  }
}

/** What the old film says is what is usual. */
async function restOf(questions: Questions, { client, size, day }: OldFilm) {
  const ask = (question: Question<string> & { readonly usual: string | undefined }) =>
    question.usual === undefined ? Promise.resolve(undefined) : questions.ask(question);
  return {
    client: await ask({
      option: 'client',
      text: 'Who is it for?',
      usual: client,
      read: (typed) => (typed.trim() === '' ? { why: 'A name, or leave it as it is.' } : typed.trim()),
    }),
    size: await ask({
      option: 'size',
      text: 'How large is the product, wide x deep x high?',
      usual: size,
      read: (typed) => sizeTyped(typed) ?? { why: 'Wide x deep x high with a unit: 9 x 6 x 7 cm.' },
    }),
    day: await ask({
      option: 'day',
      text: 'What is the first day of shooting? All days of the plan move with it; those of papers stay.',
      usual: day,
      read: (typed) => dayTyped(typed) ?? { why: 'A day such as 2027-03-01.' },
    }),
  };
}
