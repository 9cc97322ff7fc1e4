import type { Rule } from '../../core/rule.ts';
import exposureOff from './exposure-off.ts';
import settingLeftAutomatic from './setting-left-automatic.ts';

export const exposureRules: readonly Rule[] = [exposureOff, settingLeftAutomatic];
