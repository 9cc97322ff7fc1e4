/** What the generator takes of the sources; bundled by scripts/generate.mjs, since Node alone does not read them. */
export { rules } from '../../server/rules/index.ts';
export { withRuleNames } from './manifest.ts';
export { manualPage } from './manual.ts';
export { fieldsPage, rulesPage } from './pages.ts';
export { withQuantities } from './quantity-fields.ts';
export { withRules } from './settings-schema.ts';
export { textsOf } from './texts.ts';
