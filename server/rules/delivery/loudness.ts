/** Loudness that each kind of delivery takes: the standard, its target and how far off is accepted. */
import type { Deliverable, Film } from '../../core/film.ts';

export interface LoudnessTarget {
  readonly standard: string;
  readonly lufs: number;
  readonly toleranceLu: number;
  readonly truePeakDbtp: number;
}

/** EBU R 128 (2023): −23.0 LUFS ± 1.0 LU, true peak −1 dBTP. */
const europe: LoudnessTarget = { standard: 'EBU R 128', lufs: -23, toleranceLu: 1, truePeakDbtp: -1 };
/** ATSC A/85: −24 LKFS ± 2 dB, true peak −2 dBTP. */
const northAmerica: LoudnessTarget = { standard: 'ATSC A/85', lufs: -24, toleranceLu: 2, truePeakDbtp: -2 };
/** ARIB TR-B32: −24 LKFS; ± 1 LU and −1 dBTP from memory. */
const japan: LoudnessTarget = { standard: 'ARIB TR-B32', lufs: -24, toleranceLu: 1, truePeakDbtp: -1 };

/** The standard of the first country it is for, else (worldwide, or nothing said) of the film's region; EBU R 128 elsewhere. */
export function broadcastTarget({ territory }: Deliverable, { region }: Film): LoudnessTarget {
  const [said] = territory;
  const first = said === undefined || said === 'worldwide' ? region?.value.country : said;
  if (first === 'US' || first === 'CA') return northAmerica;
  return first === 'JP' ? japan : europe;
}

/** Web and apps turn to about −14 LUFS; −16 to −13 is left alone (a convention, no standard). */
export const webLoudness = { usual: -14, quietest: -16, loudest: -13 };
