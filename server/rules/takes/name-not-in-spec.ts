import type { Film, Val } from '../../core/film.ts';
import { isPlain, nearest } from '../../core/nearest.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { listFirst, quoted } from '../../core/say.ts';
import type { TakeSheet } from '../../core/takes.ts';

export default defineRule({
  id: 'name-not-in-spec',
  family: 'takes',
  summary: 'A take sheet names a shot, deliverable, lamp or camera that its spec does not have.',
  severity: 'error',
  sources: ['the format itself: a take sheet speaks of what its spec plans'],
  messages: {
    unknown: 'The spec has no {what} {name}, so what stands here counts for nothing. {known}.',
  },
  sheet(sheet, { film, report }) {
    for (const { what, name, known } of unknownNames(sheet, film)) {
      report({
        message: 'unknown',
        data: { what, name: quoted(name.text), known: advice(what, known) },
        at: name,
        fixes: instead(name, known),
      });
    }
  },
});

interface Unknown {
  readonly what: string;
  readonly name: Val<string>;
  readonly known: readonly string[];
}

function unknownNames(sheet: TakeSheet, film: Film): Unknown[] {
  const { kit } = film;
  const shots = [...sheet.takes, ...sheet.measured.values()].map(({ shotName }) => shotName);
  const lamps = [...sheet.measured.values()].flatMap((one) => [...one.lamps.values()].map(({ name }) => name));
  // A kit that is missing has a finding of its own in the spec, and may well have the camera.
  const cameras = kit.complete ? [sheet.use, ...sheet.takes.map(({ use }) => use)] : [];
  return [
    ...missing('shot', shots, film.shots),
    ...missing(
      'deliverable',
      sheet.masters.map(({ deliverableName }) => deliverableName),
      film.deliverables,
    ),
    ...missing('lamp place', lamps, film.lamps),
    ...missing(
      'camera',
      cameras.filter((one) => one !== undefined),
      kit.cameras,
    ),
  ];
}

/** Each name once for each place where it stands. */
function missing(what: string, names: readonly Val<string>[], known: ReadonlyMap<string, unknown>): Unknown[] {
  const unknown = names.filter(({ value }) => !known.has(value));
  const places = new Map(unknown.map((name) => [name.start, name]));
  return [...places.values()].map((name) => ({ what, name, known: [...known.keys()] }));
}

const mostNamed = 8;

function advice(what: string, known: readonly string[]): string {
  if (known.length === 0) return `There is no ${what} in it yet`;
  return `There ${known.length === 1 ? 'is' : 'are'} ${listFirst(known.map(quoted), mostNamed)}`;
}

/** The nearest name; where nothing is near, the only one that there is. */
function instead({ value, start, end }: Val<string>, known: readonly string[]): FixIdea[] {
  const meant = nearest(value, known)?.word ?? (known.length === 1 ? known[0] : undefined);
  if (meant === undefined || !isPlain(meant)) return [];
  return [{ title: `Write \`${meant}\``, edits: [{ start, end, text: meant }] }];
}
