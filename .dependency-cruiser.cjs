/** Which folder may import which: the house rules of DEVELOPERS.md, enforced. */
const core = '^server/(calc|core|rules|compute|features|views|formats|compare|hand-over)/';

/** The files of rules: those that have a page beside them. */
// eslint-disable-next-line @typescript-eslint/no-require-imports -- this file is no module
const { globSync } = require('tinyglobby');
const rules = globSync('server/rules/*/*.md', { cwd: __dirname }).map((page) => page.replace(/md$/, 'ts'));
const aRule = `^(${rules.join('|').replaceAll('.', '\\.')})$`;

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-circles',
      comment: 'Not even of types alone.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    { name: 'calc-stands-alone', severity: 'error', from: { path: '^server/calc/' }, to: { pathNot: '^server/calc/' } },
    {
      name: 'core-knows-no-editor',
      comment: 'The core runs wherever there is JavaScript: no protocol library, no editor, no Node.',
      severity: 'error',
      from: { path: core },
      to: { path: '(^|node_modules/)vscode', pathNot: 'vscode-languageserver-types' },
    },
    { name: 'core-knows-no-node', severity: 'error', from: { path: core }, to: { dependencyTypes: ['core'] } },
    {
      name: 'yaml-in-one-place',
      severity: 'error',
      from: { path: '^(server|client)/', pathNot: '^server/core/document/' },
      to: { path: 'node_modules/yaml/' },
    },
    {
      name: 'validators-in-one-place',
      severity: 'error',
      from: { path: '^(server|client)/', pathNot: '^server/core/schema/' },
      to: { path: '(node_modules/ajv/|^server/core/schema/generated/validate)' },
    },
    {
      name: 'rules-see-the-film-only',
      comment: 'A rule reads the resolved film and reports: it knows no text, no schema, no checker and no other rule.',
      severity: 'error',
      from: { path: '^server/rules/[^/]+/(?!index)' },
      to: {
        path: '^server/(core/(checker|check|schema|settings|accept|kits)|compute|features|views|formats|rules/index)',
      },
    },
    {
      name: 'no-rule-needs-another',
      comment: 'What two rules need goes into a file of its own, or into core/derived.',
      severity: 'error',
      from: { path: aRule },
      to: { path: aRule },
    },
    {
      name: 'core-below-the-rest',
      severity: 'error',
      from: { path: '^server/(core|calc)/' },
      to: { path: '^server/(rules|compute|features|views|formats|compare|hand-over|commands|[^/]+\\.ts$)' },
    },
    {
      name: 'compute-knows-no-film',
      comment:
        'A computation takes quantities and answers numbers: it needs the arithmetic and how quantities are written.',
      severity: 'error',
      from: { path: '^server/compute/' },
      to: { pathNot: '^server/(compute|calc)/|^server/core/(quantities/|(units|say|nearest)\\.ts$)' },
    },
    {
      name: 'client-makes-no-check',
      comment:
        'What a new kit and a new spec are asked for are pure features that the client bundles; checks are the server’s.',
      severity: 'error',
      from: { path: '^client/', pathNot: '^client/(panel|set-page)/' },
      to: {
        path: '^server/',
        pathNot:
          '^server/(features/(new-kit|region|country-here|file-name)|hand-over/kind-names|core/(paths|document/[^/]+)|browser/told)\\.ts$',
      },
    },
    {
      name: 'panel-paints-what-it-is-sent',
      comment: 'The page paints lit scenes itself; all else of the server that it knows are shapes of what it is sent.',
      severity: 'error',
      from: { path: '^client/panel/' },
      to: {
        path: '^server/',
        pathNot: '^server/(views/lit/paint|views/picture|film/reel|core/units|core/derived/lit/scene)\\.ts$',
      },
    },
    {
      name: 'set-page-reckons-as-the-checks-do',
      comment: 'The page for the set knows the plan as data, and the arithmetic and the words that the checks use.',
      severity: 'error',
      from: { path: '^client/set-page/' },
      to: { path: '^server/', pathNot: '^server/(calc/[^/]+|core/(paths|say)|views/set-page/plan)\\.ts$' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    exclude: { path: '^(dist|out|\\.cache)/' },
  },
};
