/** The fix that keeps clips which are not as planned: their takes say what the camera was really set to. */
import { type Fault, settingsOf } from '../../core/derived/recorded-clips.ts';
import { type FixIdea, set } from '../../core/rule.ts';

export function sayRecorded<F extends Fault>(
  what: string,
  faults: readonly F[],
  key: string,
  text: (fault: F) => string,
): FixIdea {
  return set(`Say that ${what} recorded`, ...faults.map((one) => [settingsOf(one.of.take), key, text(one)] as const));
}
