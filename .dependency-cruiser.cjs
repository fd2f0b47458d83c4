// The arrows between the parts, as rules. tests/architecture holds one broken fixture for each of them.
const API = '^apps/api/src/';
const CAPABILITY = '^apps/api/src/capabilities/';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment: 'Files that import each other in a ring cannot be understood or tested one at a time.',
      severity: 'error',
      from: { path: '^(apps/api|packages|infra|tests|apps/web/src)/' },
      // Types are gone when the code runs: two files may describe each other's data.
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'formulation-stands-alone',
      comment: 'Pure computation: no I/O, no framework, nothing of ours. Only then can every part trust and share it.',
      severity: 'error',
      from: { path: '^packages/formulation/', pathNot: '\\.(test|bench)\\.ts$' },
      to: { pathNot: '^packages/formulation/' },
    },
    {
      name: 'formulation-tests-stay-inside',
      comment: 'Its tests may use the test tools and files, but nothing else of ours.',
      severity: 'error',
      from: { path: '^packages/formulation/' },
      to: { path: '^(apps|infra|packages/contracts|prisma|tests)/' },
    },
    {
      name: 'contracts-know-formulation-and-zod-only',
      comment: 'What crosses the wire is read by every app: it must not pull one of them in.',
      severity: 'error',
      from: { path: '^packages/contracts/', pathNot: '\\.(test|bench)\\.ts$' },
      to: { pathNot: ['^packages/(contracts|formulation)/', '(^|/)node_modules/zod/'] },
    },
    {
      name: 'apps-do-not-know-each-other',
      comment: 'They meet over the wire, in packages/contracts.',
      severity: 'error',
      from: { path: '^apps/([^/]+)/' },
      to: { path: '^apps/', pathNot: '^apps/$1/' },
    },
    {
      name: 'routes-ask-services-only',
      comment: 'Routes translate HTTP; what is decided stands in services, so that every door keeps the same rules.',
      severity: 'error',
      from: { path: [`${CAPABILITY}[^/]+/routes\\.ts$`, `${CAPABILITY}[^/]+/[^/]+/routes\\.ts$`] },
      to: { path: CAPABILITY, pathNot: [`${CAPABILITY}[^/]+/service\\.ts$`, `${CAPABILITY}[^/]+/[^/]+/service\\.ts$`, '-service\\.ts$'] },
    },
    {
      name: 'stores-and-rules-know-no-service',
      comment: 'The arrow goes routes -> service -> (rules, store), never back.',
      severity: 'error',
      from: { path: CAPABILITY, pathNot: '(routes|service|\\.test)\\.ts$' },
      to: { path: [`${CAPABILITY}[^/]+/(routes|service)\\.ts$`, `${CAPABILITY}[^/]+/[^/]+/(routes|service)\\.ts$`, '-service\\.ts$'] },
    },
    {
      name: 'only-stores-see-the-database',
      comment: 'One place sets the studio on a connection; code that opens its own connection would see every studio.',
      severity: 'error',
      from: { path: API, pathNot: [`${API}plugins/database(/|\\.ts$)`, '(^|/|-)store\\.ts$', '\\.test\\.ts$', '/testing/'] },
      to: { path: ['^prisma/generated/', '(^|/)node_modules/(@prisma/|pg/|@types/pg/|pg-pool/)'] },
    },
    {
      name: 'capabilities-meet-through-services',
      comment: 'The service is what a capability promises; its store and rules may change any day.',
      severity: 'error',
      from: { path: `${CAPABILITY}([^/]+)/` },
      to: { path: CAPABILITY, pathNot: [`${CAPABILITY}$1/`, `${CAPABILITY}[^/]+/service\\.ts$`] },
    },
    {
      name: 'fastify-at-the-edge-only',
      comment: 'Services and stores work without HTTP: a job or a test can call them.',
      severity: 'error',
      from: {
        path: API,
        pathNot: [
          `${API}(app|server)\\.ts$`,
          `${API}plugins/`,
          `${API}capabilities/[^/]+/routes\\.ts$`,
          `${API}capabilities/[^/]+/[^/]+/routes\\.ts$`,
          '\\.test\\.ts$',
          '/testing/',
        ],
      },
      to: { path: '(^|/)node_modules/(@fastify/|fastify/|fastify-[^/]+/)' },
    },
    {
      name: 'pages-bring-no-server-code',
      comment: 'Whatever a page imports is sent to the browser: no database, no launcher, no server packages.',
      severity: 'error',
      from: { path: '^apps/web/src/', pathNot: ['(^|/)server/', '\\.server\\.ts$', '(^|/)(hooks\\.server|\\+server)\\.ts$', '\\.test\\.ts$'] },
      to: { path: ['^(infra|prisma|tests)/', '(^|/)node_modules/(@prisma/|pg/|fastify/|@fastify/|@node-rs/|lucia/)', '(^|/)lib/server/'] },
    },
    {
      name: 'nothing-but-tests-imports-tests',
      comment: 'Test tools must not reach what is served.',
      severity: 'error',
      from: { path: '^(apps|packages)/', pathNot: ['\\.test\\.ts$', '/testing/'] },
      to: { path: ['^tests/', '^infra/test', '/testing/', '\\.test\\.ts$'] },
    },
    {
      name: 'no-unknown-imports',
      comment: 'An import that cannot be found is a typing mistake or a package missing from package.json.',
      severity: 'error',
      from: { pathNot: '^apps/web/' },
      to: { couldNotResolve: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: ['(^|/)(build|\\.svelte-kit|coverage)/', '^tests/architecture/fixtures/'] },
    // An import of a type is an import: a service that names FastifyRequest is tied to it all the same.
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types', 'svelte'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
