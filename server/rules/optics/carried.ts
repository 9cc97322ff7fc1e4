import type { Support } from '../../core/film.ts';

/** Does it move with the one who carries it? */
export function isCarried({ standsOn, name }: Support): boolean {
  return standsOn === 'hand' || carried.test(name);
}

const carried = /gimbal|hand|shoulder|strap|cage|grip|monopod|drone/i;
