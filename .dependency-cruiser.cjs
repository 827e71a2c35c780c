/** Imports go downward only; each rule says why in its comment. */
const LAYERS = [
  'log',
  'units',
  'model',
  'records',
  'scoring',
  'decisions',
  'replay',
  'intake',
  'store',
  'jobs',
  'people',
  'commands',
]

const downward = LAYERS.map((layer, i) => ({
  name: `lib/${layer} imports downward only`,
  comment: `lib/${layer} may import ${
    LAYERS.slice(0, i)
      .map((l) => `lib/${l}`)
      .join(', ') || 'nothing of ours'
  }.`,
  severity: 'error',
  from: { path: `^lib/${layer}/` },
  to: {
    path: `^(${[...LAYERS.slice(i + 1).map((l) => `lib/${l}`), 'app', 'seed', 'tests'].join('|')})/`,
    ...(layer === 'commands' ? { pathNot: '^seed/' } : {}),
  },
}))

module.exports = {
  forbidden: [
    ...downward,
    {
      name: 'model imports only units',
      comment:
        'The numeric core takes numbers and typed arrays; it knows no file, vehicle, database or library of others.',
      severity: 'error',
      from: { path: '^lib/model/' },
      to: { pathNot: '^lib/(model|units)/' },
    },
    {
      name: 'inner is private',
      comment: 'What lies in lib/x/inner/ is used by lib/x alone.',
      severity: 'error',
      from: { path: '^(?:lib/([^/]+)/|app/|seed/)' },
      to: { path: '^lib/([^/]+)/inner/', pathNot: '^lib/$1/inner/' },
    },
    {
      name: 'Prisma lives in the store',
      comment: 'Only lib/store talks to the database; pages and commands ask its files.',
      severity: 'error',
      from: { path: '^(app|lib|seed)/', pathNot: '^lib/store/' },
      to: { path: '(^prisma/client/|node_modules/(@prisma/|prisma/|pg/))' },
    },
    {
      name: 'few mint an organisation',
      comment:
        'Only people, jobs and commands say for whom something is read or written; others take an OrganisationId as a type.',
      severity: 'error',
      from: { path: '^(app|lib|seed)/', pathNot: '^lib/(people|jobs|commands)/' },
      to: { path: '^lib/store/organisation-id', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'React stays out of the core',
      comment: 'lib/ is usable without a browser; one file starts the web server.',
      severity: 'error',
      from: { path: '^lib/', pathNot: '^lib/commands/inner/web-process' },
      to: { path: 'node_modules/(react|react-dom|next)/', pathNot: '^$' },
    },
    {
      name: 'pages do no arithmetic',
      comment: 'Pages show what scoring, decisions and the store answer; the numeric core is below them.',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: '^lib/model/' },
    },
    {
      name: 'no cycles',
      comment: 'A cycle hides which of two files is the lower one.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(prisma/client|\\.next)/' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
}
