import type { Rule } from '../../core/rule.ts';
import codecLevelExceeded from './codec-level-exceeded.ts';

export const deliveryRules: readonly Rule[] = [codecLevelExceeded];
