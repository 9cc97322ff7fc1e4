import type { Related } from '../../core/finding.ts';
import type { Take } from '../../core/takes.ts';

/** Where another take stands, on this sheet or another. */
export function otherTake({ clips, shotName }: Take, message: string): Related {
  const { start, end, file } = clips[0] ?? shotName;
  return { start, end, message, ...(file !== undefined && { file }) };
}
