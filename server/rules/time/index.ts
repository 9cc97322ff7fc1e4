import type { Rule } from '../../core/rule.ts';
import shutterOffHalfFrame from './shutter-off-half-frame.ts';

export const timeRules: readonly Rule[] = [shutterOffHalfFrame];
