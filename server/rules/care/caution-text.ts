/** How every care finding ends, and what stated precautions do to it. */
import type { Film } from '../../core/film.ts';
import type { Level } from '../../core/finding.ts';
import { listText, quoted } from '../../core/say.ts';

const reminder = 'This is a reminder, not a safety assessment:';

/** Who decides, by topic. */
const closings = {
  electric: `${reminder} local codes and a licensed electrician decide.`,
  fire: `${reminder} the safety sheet, local fire rules and a competent person decide.`,
  rigging: `${reminder} local rigging rules and a competent person decide.`,
  handling: `${reminder} local rules and a competent person decide.`,
  battery: `${reminder} the maker, the airline and local rules decide.`,
  flash: `${reminder} whoever shows the film tests it, local rules decide, and no limit takes all risk away.`,
  laser: `${reminder} local laser rules and a qualified laser safety person decide.`,
  optical: `${reminder} local rules and a person competent in optical radiation decide.`,
} as const;

const words: Readonly<Record<string, string>> = {
  'overhead-bond': 'a second, independent hold is fitted',
  'stands-weighted': 'stands are weighted',
  'cables-taped': 'cables are taped down',
  'exit-lit': 'the way out is lit',
  'drip-tray': 'a tray catches what drips',
  'mains-kept-dry': 'mains is kept dry',
  'non-slip-mat': 'a mat keeps it from slipping',
  'load-centred': 'the load is centred',
  'flame-kept-away': 'flames and sparks are kept away',
  'flame-watched': 'somebody watches the flame and does nothing else, lid and extinguisher in reach',
  'air-moving': 'air is kept moving',
  'charging-watched': 'charging is watched',
  'flash-warned': 'people are warned of the flashes',
  gloves: 'gloves are worn',
};

export interface Careful {
  /** `sheet` when a precaution answers it: whoever has written one has seen the danger, and ticks it off on the day. */
  readonly severity?: Level;
  readonly data: { readonly said: string; readonly closing: string };
}

/**
 * Is each of these words under `care.precautions`? A reminder of no more than them would only say back what is planned:
 * it is left to the sheet, which lists every stated precaution to be ticked off on the day.
 */
export function allSaid(film: Film, words: readonly string[]): boolean {
  return stillAsked(film, words).length === 0;
}

/**
 * Is at least half of it under `care.precautions`? Whoever has gone through most of it has seen the danger. What is left of
 * cautions at handling then stands on the sheet alone (common practice, no source); those of mains, fire and what hangs
 * ask for all.
 */
export function isMostlySaid(film: Film, words: readonly string[]): boolean {
  return stillAsked(film, words).length * 2 <= words.length;
}

/** Those that are not under `care.precautions`. */
export function stillAsked(film: Film, words: readonly string[]): string[] {
  const listed = new Set(film.care?.precautions.map((one) => one.value));
  return words.filter((word) => !listed.has(word));
}

/**
 * The end of a care message (`…{said} {closing}`) and its severity.
 * @param answers the words of `care.precautions` that answer this finding
 */
export function careful(film: Film, topic: keyof typeof closings, answers: readonly string[] = []): Careful {
  const listed = film.care?.precautions ?? [];
  const said = answers.filter((word) => listed.some((one) => one.value === word));
  if (said.length === 0) return { data: { said: '', closing: closings[topic] } };
  const list = listText(said.map((word) => `${words[word]} (${quoted(word)})`));
  return {
    severity: 'sheet',
    data: { said: ` You say that ${list}; nobody has checked it.`, closing: closings[topic] },
  };
}
