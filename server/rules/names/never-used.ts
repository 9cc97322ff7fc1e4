import type { Film, LampPlace, Right, SetUp, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';
import { everythingShown, shownIn } from '../../core/derived/shown.ts';
import { nearest } from '../../core/nearest.ts';
import { strayNames } from './name-uses.ts';

export default defineRule({
  id: 'never-used',
  family: 'names',
  summary: 'A shot, lamp place, set-up or right is defined and then never used.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    shots:
      'Filmed but in no piece of the cut: {shot}. Take out of the plan what nobody wants, or accept this here and say what it is for.',
    lamp: '{name} is lit in no shot.{why}',
    setUp: '{name} has no shots: it costs time to build and gives nothing.',
    unplanned:
      '{name} is in the `order` of no day, so no day has time for {shots}. Put it into the order of the day when it is filmed.',
    right: '{name} covers nothing that is heard, seen or written in this film.',
  },
  film(film, { report }) {
    const left = unplanned(film);
    // What a piece shows that says nothing yet, nobody knows.
    if (film.cut.length > 0 && film.cut.every(({ shotName, footage, colour }) => shotName ?? footage ?? colour)) {
      const spare = [...film.shots.values()].filter(
        (shot) =>
          shot.pieces.length === 0 &&
          !isSlipOf(shot.name, film) &&
          !isWanted(shot, film) &&
          !(shot.setUp && left.has(shot.setUp)),
      );
      const cause = spare[0] && { start: spare[0].start, end: spare[0].end, as: 'shots' };
      for (const shot of spare)
        report({ message: 'shots', data: { shot: quoted(shot.name) }, at: shot, shot, cause, isUnused: true });
    }
    const filmed = new Set<string | undefined>();
    for (const { setUpName } of film.shots.values()) filmed.add(setUpName?.value);
    if (film.shots.size > 0) {
      for (const lamp of unlit(film, filmed))
        report({ message: 'lamp', data: { name: quoted(lamp.name), why: why(lamp) }, at: lamp, isUnused: true });
    }
    for (const one of film.setUps.values()) {
      if (!filmed.has(one.name) && !isSlipOf(one.name, film))
        report({ message: 'setUp', data: { name: quoted(one.name) }, at: one, isUnused: true });
    }
    for (const one of left) {
      const shots = [...film.shots.values()].filter((shot) => shot.setUp === one);
      if (shots.length === 0) continue;
      const data = { name: quoted(one.name), shots: listText(shots.map((shot) => quoted(shot.name))) };
      // What the cut needs and no day films will be missing from the film.
      const isCut = shots.some((shot) => shot.pieces.length > 0);
      report({ message: 'unplanned', data, at: one, ...(isCut && { severity: 'warning' as const }) });
    }
    for (const one of uncovering(film)) {
      if (!isSlipOf(one.name, film))
        report({ message: 'right', data: { name: quoted(one.name) }, at: one, severity: 'hint', isUnused: true });
    }
  },
});

/** Is a name written somewhere that is defined nowhere, and is this the one that was meant? That slip is said there. */
function isSlipOf(name: string, film: Film): boolean {
  return strayNames(film).some((stray) => nearest(stray, [name]) !== undefined);
}

/** Does it alone show something that must be shown? That it belongs into the cut is said there. */
function isWanted(shot: Shot, { brief, shots }: Film): boolean {
  const cut = [...shots.values()].filter(({ pieces }) => pieces.length > 0);
  return (brief?.mustShow ?? []).some(({ value }) => {
    const shows = (one: Shot) => shownIn(one).some((val) => val.value === value);
    return shows(shot) && !cut.some(shows);
  });
}

/** Set-ups that no day names, where every day says its order: they are never filmed. */
function unplanned({ schedule, setUps }: Film): ReadonlySet<SetUp> {
  if (schedule.length === 0 || schedule.some((day) => !day.order)) return new Set();
  const named = new Set(schedule.flatMap((day) => day.order?.map((val) => val.value) ?? []));
  return new Set([...setUps.values()].filter((one) => !named.has(one.name)));
}

/** Places that no shot lights; one that others are moved from is of use to them. */
function unlit(film: Film, filmed: ReadonlySet<string | undefined>): LampPlace[] {
  const dark = new Set(film.lamps.keys());
  for (const { lit } of film.shots.values()) {
    if (dark.size === 0) break;
    for (const { name } of lit) dark.delete(name);
  }
  // Those that only a set-up without shots lights come with it.
  const bases = new Set([
    ...[...film.lamps.values()].map((lamp) => lamp.movedFrom?.value),
    ...[...film.setUps.values()].flatMap((one) =>
      filmed.has(one.name) ? [] : one.fields.names('lit').map((val) => val.value),
    ),
  ]);
  return [...film.lamps.values()].filter(({ name }) => dark.has(name) && !bases.has(name) && !isSlipOf(name, film));
}

function why({ changes, movedFrom }: LampPlace): string {
  if (changes) return ' A lamp that changes during the take is lit only where `lit` names it.';
  return movedFrom ? ' A lamp placed again is lit only where `lit` names it.' : '';
}

/** Rights to what is heard or written that are about nothing in the film. What is seen, and where, a plan need not name. */
function uncovering(film: Film): Right[] {
  const { brief, music, sounds, titles, cut, shots } = film;
  const named = [
    music?.track,
    ...sounds.map((sound) => sound.track),
    ...titles.map((title) => title.font),
    ...cut.map((piece) => piece.footage),
    ...[...shots.values()].map((shot) => shot.backdrop?.footage),
    ...(brief?.needsRights ?? []),
    ...(brief?.mustShow ?? []),
  ];
  const covered = new Set([...named.flatMap((val) => val?.value ?? []), ...everythingShown(film)]);
  return [...film.rights.values()].filter(({ name, kind }) => {
    if (covered.has(name) || isSeen.has(kind?.value ?? '')) return false;
    // What is heard and names no track is told so, and that this may be it.
    const heard = kind?.value === 'music' ? [music] : kind?.value === 'sound' ? sounds : [];
    return !heard.some((one) => one && !one.track);
  });
}

const isSeen: ReadonlySet<string> = new Set(['place', 'mark', 'artwork', 'release']);
