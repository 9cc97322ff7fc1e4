import type { Sound } from '../../core/film.ts';

const words = new Set(['voice', 'narration', 'narrator', 'speech', 'speaker', 'commentary', 'talk']);

/** Is it somebody speaking? Its words say so, or the name of its track: `voice`, `opening-narration`. */
export function isVoice({ track, words: said }: Sound): boolean {
  if (said) return true;
  return track !== undefined && track.value.split('-').some((word) => words.has(word));
}
