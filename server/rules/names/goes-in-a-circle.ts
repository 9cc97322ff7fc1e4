import type { Film, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';

export default defineRule({
  id: 'goes-in-a-circle',
  family: 'names',
  summary: 'Deliverables or lamp places take over from each other in a circle, so nothing begins it.',
  severity: 'error',
  sources: ['the format itself: what is taken over must begin somewhere'],
  messages: {
    self: '{name} is `{key}` itself: name the one that it takes over, or take `{key}` out.',
    circle: '`{key}` goes in a circle: {chain}. Let one of them say everything itself.',
  },
  film(film, { report }) {
    for (const circle of [...circles('like', likes(film)), ...circles('moved-from', moves(film))]) {
      const { key, names, at } = circle;
      const data = { key, name: quoted(names[0]!), chain: [...names, names[0]!].map(quoted).join(' → ') };
      if (names.length === 1) report({ message: 'self', data, at });
      else report({ message: 'circle', data, at });
    }
  },
});

type Links = ReadonlyMap<string, Val<string> | undefined>;

function likes(film: Film): Links {
  return new Map([...film.deliverables.values()].map((one) => [one.name, one.like]));
}

function moves(film: Film): Links {
  return new Map([...film.lamps.values()].map((one) => [one.name, one.movedFrom]));
}

/** Each circle once, from the member that stands first. */
function circles(key: string, links: Links): { key: string; names: string[]; at: Val<string> }[] {
  // Each name is walked through once: it leads to a circle that is told already, to an end, or to a new circle.
  const done = new Set<string>();
  return [...links.keys()].flatMap((start) => {
    const names = new Set<string>();
    let here = start;
    while (links.get(here) && !done.has(here) && !names.has(here)) {
      names.add(here);
      here = links.get(here)!.value;
    }
    for (const name of names) done.add(name);
    if (!names.has(here)) return [];
    const circle = [...names].slice([...names].indexOf(here));
    return [{ key, names: circle, at: links.get(circle[0]!)! }];
  });
}
