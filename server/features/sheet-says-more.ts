/** What a take sheet says that its kit should say: what lamps really give. */
import { type LampReading, lampReadings } from '../core/derived/measured-lamps.ts';
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import { num, quoted } from '../core/say.ts';
import type { Val } from '../core/film.ts';
import type { LightOutput, Share } from '../core/units.ts';
import type { Refactoring } from './refactor/refactoring.ts';

export function sheetChangesAt({ sheet, findings }: CheckResult, { start, end }: Range): Refactoring[] {
  if (!sheet) return [];
  const here = findings.filter((one) => one.rule === 'lamp-gives-otherwise' && one.start <= end && one.end >= start);
  const readings = here.length > 0 ? lampReadings(sheet.sheet, sheet.film) : [];
  return here.flatMap((finding) => {
    const own = readings.find(({ measured }) => measured.start === finding.start);
    return own ? corrected(readings.filter(({ output }) => output.start === own.output.start)) : [];
  });
}

/** Readings that differ by more than this are not about what the lamp gives. */
const agreeWithin: Share = 2 ** 0.4;

/** By the mean of all readings of the lamp. */
function corrected(readings: readonly LampReading[]): Refactoring[] {
  const shares = readings.map(({ share }) => share);
  const { output, lamp } = readings[0]!;
  if (output.file === undefined || Math.max(...shares) / Math.min(...shares) > agreeWithin) return [];
  const share = 2 ** (shares.reduce((sum, one) => sum + Math.log2(one), 0) / shares.length);
  const text = outputText(output, share);
  const title = `Set ${quoted(lamp.name)} in ${output.file} to ${num(share, 2)} of what it says: ${text}`;
  return [{ title, files: [{ path: output.file, edits: [{ start: output.start, end: output.end, text }] }] }];
}

function outputText({ value: output, text }: Val<LightOutput>, share: Share): string {
  const scaled = (value: number) => num(Number((value * share).toPrecision(2)), 6);
  switch (output.kind) {
    case 'lux':
      return `${scaled(output.lux)} lx${text.slice(text.indexOf(' at '))}`;
    case 'candela':
      return `${scaled(output.cd)} cd`;
    case 'lumens':
      return `${scaled(output.lm)} lm`;
  }
}
