import type { Rule } from '../../core/rule.ts';
import settingLeftAutomatic from './setting-left-automatic.ts';

export const exposureRules: readonly Rule[] = [settingLeftAutomatic];
