import type { Rule } from '../../core/rule.ts';
import lengthOff from './length-off.ts';
import recordingTooShort from './recording-too-short.ts';

export const cutRules: readonly Rule[] = [lengthOff, recordingTooShort];
