/** Which folder may import which: the house rules of DEVELOPERS.md, enforced. */
const core = '^server/(calc|core|rules|compute|features|views|formats|compare)/';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
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
      name: 'core-below-the-rest',
      severity: 'error',
      from: { path: '^server/(core|calc)/' },
      to: { path: '^server/(rules|compute|features|views|formats|compare|commands|[^/]+\\.ts$)' },
    },
    {
      name: 'compute-knows-no-film',
      comment:
        'A computation takes quantities and answers numbers: it needs the arithmetic and how quantities are written.',
      severity: 'error',
      from: { path: '^server/compute/' },
      to: { pathNot: '^server/(compute|calc)/|^server/core/(units|say|nearest)\\.ts$' },
    },
    {
      name: 'client-makes-no-check',
      comment: 'Writing a new spec is a pure feature that the client bundles; checks are the server’s.',
      severity: 'error',
      from: { path: '^client/' },
      to: { path: '^server/', pathNot: '^server/(features/newSpec|core/document/[^/]+)\\.ts$' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    exclude: { path: '^(dist|out|\\.cache)/' },
  },
};
