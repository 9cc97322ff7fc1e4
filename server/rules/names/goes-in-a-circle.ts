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
  const done = new Set<string>();
  return [...links.keys()].flatMap((start) => {
    const names: string[] = [];
    for (let here = start; !names.includes(here); here = links.get(here)!.value) {
      if (!links.get(here) || done.has(here)) return [];
      names.push(here);
    }
    const last = links.get(names.at(-1)!)!.value;
    const circle = names.slice(names.indexOf(last));
    names.forEach((name) => done.add(name));
    return [{ key, names: circle, at: links.get(circle[0]!)! }];
  });
}
