import type { Film, Shot, Val } from '../../core/film.ts';
import { groupBy } from '../../core/group-by.ts';
import { once } from '../../core/memo.ts';
import { pathFault } from '../../core/paths.ts';
import { defineRule } from '../../core/rule.ts';
import { listFirst, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'file-not-there',
  family: 'names',
  summary: 'A file that the film is to be put together or drawn from is not there.',
  severity: 'warning',
  sources: ['common practice, no source'],
  messages: {
    part: '{shot}: {file} {fault}, so the film is put together without it. Put the file there, or name it as it is called.',
    picture:
      'The picture {file} of {name} {fault}, so that is drawn plain. Put the picture there, or name it as it is called.',
    sketch:
      'The sketch {file} of {shot} {fault}, so nothing is shown of it. Put the file there, or name it as it is called.',
    unusable: 'The sketch {file} of {shot} {fault}.',
    table:
      '{shots}: the conversion {file} {fault}, so what is recorded in {space} stays flat. Put the table there, or name it as it is called.',
  },
  film(film, { report }) {
    for (const { name, picture } of picturesOf(film)) {
      const fault = faultOf(picture, film.exists);
      if (fault) report({ message: 'picture', data: { name, file: quoted(picture.text), fault }, at: picture });
    }
    const parts = [...film.rights.values()].flatMap(({ name, media, owner }) => {
      const fault = media && faultOf(media, film.exists);
      // A sound of one's own is mostly still to be recorded.
      const severity = owner === 'own' ? ('info' as const) : undefined;
      return fault ? [{ name: quoted(name), file: quoted(media.text), fault, at: media, severity }] : [];
    });
    const cause = parts[0] && { start: parts[0].at.start, end: parts[0].at.end, as: 'parts' };
    for (const { name, at, file, fault, severity } of parts)
      report({ message: 'part', data: { shot: name, file, fault }, at, cause, severity });
  },
  shot(shot, { film, report }) {
    const { sketch } = shot;
    if (sketch) {
      const data = { shot: shot.name, file: quoted(sketch.text) };
      const fault = faultOf(sketch, film.exists);
      const found = fault ? undefined : film.sketch(sketch.value);
      // Sketches that are not here are one matter: their folder is elsewhere.
      const first = [...film.shots.values()].find((one) => one.sketch && faultOf(one.sketch, film.exists));
      if (fault) report({ message: 'sketch', data: { ...data, fault }, at: sketch, cause: first?.sketch });
      else if (typeof found === 'string') report({ message: 'unusable', data: { ...data, fault: found }, at: sketch });
    }
    const table = tableOf(shot);
    const fault = table && faultOf(table, film.exists);
    if (!fault) return;
    // The modes of a camera often share a file: it is missing once.
    const shots = shotsByTable(film).get(table.value)!;
    if (shots[0] !== shot) return;
    const names = shots.map(({ name }) => name);
    const space = shot.camera.colourSpace?.text ?? 'log';
    report({
      message: 'table',
      data: { shots: listFirst(names, 3), file: quoted(table.text), fault, space },
      at: table,
    });
  },
});

/** What is drawn of photographs, as messages name it. */
function picturesOf({ product }: Film): { name: string; picture: Val<string> }[] {
  const all = [
    { name: 'the product', picture: product.picture },
    ...[...product.parts.values()].map(({ name, picture }) => ({ name: quoted(name), picture })),
  ];
  return all.flatMap(({ name, picture }) => (picture ? [{ name, picture }] : []));
}

/** By file, all shots that are recorded in a mode which names it. */
const shotsByTable = once((film: Film) =>
  groupBy([...film.shots.values()], (shot) => {
    const table = tableOf(shot);
    return table ? [table.value] : [];
  }),
);

/** Where it is recorded in log: elsewhere the table does nothing. */
function tableOf({ camera: { mode, colourSpace } }: Shot): Val<string> | undefined {
  return colourSpace?.value === 'log' ? mode?.converts : undefined;
}

function faultOf({ value }: Val<string>, exists: (path: string) => boolean): string | undefined {
  const fault = pathFault(value);
  return fault ?? (exists(value) ? undefined : 'is not in this folder');
}
