import type { Rule } from '../../core/rule.ts';
import settingNotInKit from './setting-not-in-kit.ts';

export const logisticsRules: readonly Rule[] = [settingNotInKit];
