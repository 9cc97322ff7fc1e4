import { dayPlans } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'filmed-too-early',
  family: 'logistics',
  summary: 'A shot is filmed before one that it must come after.',
  severity: 'error',
  sources: ['`after` and `schedule` in the spec'],
  messages: {
    self: '{shot} must come after itself: name the shot that goes before it, or take `after` out.',
    circle:
      '{shot} must come after {before}, and {before} in turn after {shot}: one of them is first. Take one `after` of this circle out.',
    early:
      '{shot} is filmed {when}, {where} {before}, and must come after it: what {shot} changes is changed by then. {mend}.',
  },
  film(film, { report }) {
    const places = placesInWork(film);
    for (const shot of film.shots.values()) {
      for (const val of shot.after) {
        if (val.value === shot.name) report({ message: 'self', data: { shot: quoted(shot.name) }, at: val, shot });
        const [own, other] = [places.get(shot.name), places.get(val.value)];
        if (!own || !other || !isBefore(own, other)) continue;
        const data = { shot: quoted(shot.name), before: quoted(val.value) };
        if (isSameWork(own, other)) report({ message: 'circle', data, at: val, shot });
        else
          report({
            message: 'early',
            data: { ...data, ...wording(own, other), mend: mendText(own, other, places) },
            at: val,
            shot,
          });
      }
    }
  },
});

interface Place {
  readonly shot: Shot;
  /** Counted through all days. */
  readonly place: number;
  readonly day: string;
  readonly date: number | undefined;
  readonly setUp?: string;
  /** All that is filmed while that set-up stands. */
  readonly together: readonly Shot[];
}

/** When each shot is filmed: day by day, set-up by set-up. Nothing where no day is planned. */
function placesInWork(film: Film): ReadonlyMap<string, Place> {
  const places = new Map<string, Place>();
  if (film.schedule.length === 0) return places;
  for (const { day, called, works } of dayPlans(film)) {
    const name = day?.day ? dateText(day.day.value) : `day ${called}`;
    for (const { name: setUp, shots } of works)
      for (const shot of shots) {
        const date = day?.day?.value;
        places.set(shot.name, { shot, place: places.size, day: name, date, setUp, together: shots });
      }
  }
  return places;
}

/** Days count by their dates: one that stands in the wrong place of the list has a finding of its own. */
function isBefore(own: Place, other: Place): boolean {
  const [a, b] = [own.date, other.date];
  return a !== undefined && b !== undefined && a !== b ? a < b : own.place < other.place;
}

/** There shots are put in order by `after`, so that only a circle is left. */
function isSameWork(own: Place, other: Place): boolean {
  return own.day === other.day && own.setUp === other.setUp;
}

/** Where the set-up of the other one must itself come after this one's, no order of the two does. */
function mendText(own: Place, other: Place, places: ReadonlyMap<string, Place>): string {
  const first = `Film ${quoted(other.shot.name)} first`;
  if (own.setUp === undefined || own.setUp === other.setUp) return first;
  for (const shot of other.together) {
    const needed = shot.after.find(({ value }) => places.get(value)?.setUp === own.setUp);
    if (!needed) continue;
    const both = `${quoted(own.setUp)} and ${quoted(other.setUp ?? '')}`;
    return `No order of ${both} does, since ${quoted(shot.name)} must come after ${quoted(needed.value)}: build one of them a second time, as a set-up of its own`;
  }
  return first;
}

function wording(own: Place, other: Place): { when: string; where: string } {
  if (own.day !== other.day) return { when: `on ${own.day}`, where: 'an earlier day than' };
  const when = own.setUp === undefined ? 'without a set-up' : `with set-up ${quoted(own.setUp)}`;
  return { when, where: 'earlier that day than' };
}
