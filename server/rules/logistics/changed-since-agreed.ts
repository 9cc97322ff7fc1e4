import { seenChanges } from '../../compare/agreed.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText, listFirst, quoted } from '../../core/say.ts';

/** So many are listed: whoever asks again compares the rest. */
const mostSaid = 4;

export default defineRule({
  id: 'changed-since-agreed',
  family: 'logistics',
  summary: 'What the client agreed to has changed since, or can no longer be looked up.',
  severity: 'warning',
  sources: ['the spec at the revision that it names', 'what counts as seen: common practice, no source'],
  messages: {
    changed:
      '{who} agreed to this plan{when} as it was at {revision}, and since then it has changed: {changes}. Show them the plan again, then write the day and the revision that they agree to.',
    unknown:
      'Git knows no revision {revision}, so nothing is held against what {who} agreed to. Write the commit that holds it: `git log` lists them.',
    cutOff:
      'This copy of the repo has only the last commits, and {revision} is not among them, so nothing is held against what {who} agreed to. Fetch the whole history.',
    absent:
      'At {revision} this file was not there, or can’t be read, so nothing is held against what {who} agreed to. Write the commit that holds the plan as they saw it.',
  },
  film(film, { report }) {
    const { who, day, revision } = film.agreed ?? {};
    const earlier = revision && film.earlier(revision.value);
    if (!earlier) return;
    const data = { who: who ? quoted(who.value) : 'the client', revision: quoted(revision.value) };
    if (earlier.kind === 'unknown') {
      report({ message: earlier.isCutOff ? 'cutOff' : 'unknown', data, at: revision, severity: 'info' });
    } else if (earlier.kind === 'absent') {
      report({ message: 'absent', data, at: revision, severity: 'info' });
    } else {
      const changes = seenChanges(earlier.film, film);
      const when = day ? ` on ${dateText(day.value)}` : '';
      if (changes.length === 0) return;
      const said = listFirst(changes, mostSaid);
      report({ message: 'changed', data: { ...data, when, changes: said }, at: revision, excess: changes.length });
    }
  },
});
