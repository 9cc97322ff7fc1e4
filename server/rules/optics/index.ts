import type { Rule } from '../../core/rule.ts';
import depthOfFieldShort from './depth-of-field-short.ts';
import nearerThanLensFocuses from './nearer-than-lens-focuses.ts';

export const opticsRules: readonly Rule[] = [depthOfFieldShort, nearerThanLensFocuses];
