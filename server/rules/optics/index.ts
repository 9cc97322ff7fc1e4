import type { Rule } from '../../core/rule.ts';
import backdropEdgeInShot from './backdrop-edge-in-shot.ts';
import depthOfFieldShort from './depth-of-field-short.ts';
import nearerThanLensFocuses from './nearer-than-lens-focuses.ts';

export const opticsRules: readonly Rule[] = [depthOfFieldShort, nearerThanLensFocuses, backdropEdgeInShot];
