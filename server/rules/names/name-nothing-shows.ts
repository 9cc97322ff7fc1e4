import type { Val } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { nearest } from '../../core/nearest.ts';
import { usesByRight } from '../../core/derived/rights.ts';
import { everythingShown } from '../../core/derived/shown.ts';

export default defineRule({
  id: 'name-nothing-shows',
  family: 'names',
  summary: 'The brief names something that no shot shows under this name, so nothing watches over it.',
  severity: 'info',
  sources: ['the format itself: what is shown is known by its name'],
  messages: {
    rights: '{name} needs a paper, but no shot says that it shows {name}: nobody will notice if it is seen.',
    rightsNear: '{name} needs a paper, but no shot shows {name}. Shots show {near}: is that the same thing?',
    mustNotNear: '{name} may not be shown, and no shot shows {name}. Shots show {near}: is that the same thing?',
  },
  film(film, { report }) {
    if (!film.brief || film.shots.size === 0) return;
    const shown = everythingShown(film);
    const named = new Set([...film.brief.mustShow, ...film.brief.needsRights].map((val) => val.value));
    const candidates = [...shown].filter((name) => !named.has(name));
    const near = (val: Val<string>) => nearest(val.value, candidates)?.word;
    const rename = (val: Val<string>, name: string): FixIdea[] => [
      { title: `Write \`${name}\``, edits: [{ start: val.start, end: val.end, text: name }] },
    ];
    // A paper of that name is there: a place, say, which no shot names. What is heard is watched over as such.
    const isWatched = ({ value }: Val<string>) =>
      shown.has(value) || film.rights.has(value) || usesByRight(film).has(value);
    for (const val of film.brief.needsRights.filter((one) => !isWatched(one))) {
      const like = near(val);
      const name = quoted(val.value);
      if (like === undefined) report({ message: 'rights', data: { name }, at: val });
      else
        report({ message: 'rightsNear', data: { name, near: quoted(like) }, at: val, fixes: () => rename(val, like) });
    }
    // That nothing shows what may not be shown is as it should be; only a likely slip is worth a word, and a part is none.
    const { parts } = film.product;
    for (const val of film.brief.mustNotShow.filter((one) => !shown.has(one.value) && !parts.has(one.value))) {
      const like = near(val);
      if (like === undefined) continue;
      const data = { name: quoted(val.value), near: quoted(like) };
      report({ message: 'mustNotNear', data, at: val, fixes: () => rename(val, like) });
    }
  },
});
