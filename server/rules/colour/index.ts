import type { Rule } from '../../core/rule.ts';
import whiteBalanceOffLamp from './white-balance-off-lamp.ts';

export const colourRules: readonly Rule[] = [whiteBalanceOffLamp];
