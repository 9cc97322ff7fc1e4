import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';
import { fits } from '../../core/resolve/kit.ts';

export default defineRule({
  id: 'gear-to-choose',
  family: 'names',
  summary: 'The kit has several cameras or lenses that could be meant, and none is named.',
  severity: 'error',
  sources: ['the format itself: gear may stay unnamed only where one alone can be meant'],
  messages: {
    camera:
      '{shot}: the kit has {names}; say with `use` which camera films. Until then nothing about its picture is checked.',
    lens: '{shot}: {names} fit the camera; say with `lens` which one is on it. Until then neither focus nor framing is checked.',
  },
  shot(shot, { film, report }) {
    const { camera } = shot;
    // With a kit that could not be read, the one that is meant may be in there.
    if (!film.kit.complete) return;
    const choice = open(shot, film);
    if (!choice) return;
    const { message, key, names } = choice;
    report({
      message,
      data: { shot: shot.name, names: listText(names.map(quoted)) },
      at: camera.fields.layers.at(-1)?.pairs[0]?.key ?? shot,
      fixes: (): FixIdea[] => names.slice(0, 3).map((name) => set(`Use \`${name}\``, [camera, key, name])),
    });
  },
});

/** What is left open: the camera first, for lenses depend on it. */
function open({ camera }: Shot, { kit }: Film) {
  const cameras = [...kit.cameras.keys()];
  if (!camera.fields.said('use') && cameras.length > 1) {
    return { message: 'camera', key: 'use', names: cameras } as const;
  }
  if (!camera.body || camera.fields.said('lens')) return undefined;
  const lenses = [...kit.lenses.values()].filter((lens) => fits(lens, camera.body?.name)).map((lens) => lens.name);
  return lenses.length > 1 ? ({ message: 'lens', key: 'lens', names: lenses } as const) : undefined;
}
