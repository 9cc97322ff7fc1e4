/** All rules, family by family. A new rule is its two files and one line in its family's index. */
import type { Rule } from '../core/rule.ts';
import { careRules } from './care/index.ts';
import { colourRules } from './colour/index.ts';
import { cutRules } from './cut/index.ts';
import { deliveryRules } from './delivery/index.ts';
import { exposureRules } from './exposure/index.ts';
import { framingRules } from './framing/index.ts';
import { logisticsRules } from './logistics/index.ts';
import { movementRules } from './movement/index.ts';
import { namesRules } from './names/index.ts';
import { opticsRules } from './optics/index.ts';
import { rightsRules } from './rights/index.ts';
import { takesRules } from './takes/index.ts';
import { timeRules } from './time/index.ts';

export const rules: readonly Rule[] = [
  ...timeRules,
  ...exposureRules,
  ...colourRules,
  ...opticsRules,
  ...framingRules,
  ...movementRules,
  ...cutRules,
  ...deliveryRules,
  ...logisticsRules,
  ...rightsRules,
  ...careRules,
  ...namesRules,
  ...takesRules,
];
