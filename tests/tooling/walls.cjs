const { MAY_IMPORT, PURE } = require('./rooms.cjs');

const anyOf = (names) => `(${names.join('|')})`;

module.exports = {
  forbidden: [
    ...Object.entries(MAY_IMPORT).map(([room, allowed]) => ({
      name: `${room}-imports-only-${allowed.join('-') || 'itself'}`,
      severity: 'error',
      from: { path: `^src/${room}/` },
      to: { path: '^src/', pathNot: `^src/${anyOf([room, ...allowed])}/` },
    })),
    {
      name: 'enter-a-room-by-its-door',
      comment:
        'Other rooms are imported through index.ts only; a language of the words is a door of its own, so that a page loads one alone.',
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: {
        path: '^src/([^/]+)/',
        pathNot: '^src/$1/|^src/[^/]+/index\\.ts$|^src/words/(en|es|de|fr)/index\\.ts$',
      },
    },
    {
      name: 'pure-rooms-touch-no-machine',
      comment: 'No node: builtin in the pure rooms: no files, sockets, clocks or randomness.',
      severity: 'error',
      from: { path: `^src/(${PURE.join('|')}|plant/model)/` },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'pure-rooms-take-few-packages',
      comment: 'Small, pure, kept libraries only.',
      severity: 'error',
      from: { path: `^src/(${PURE.join('|')}|plant/model)/` },
      to: {
        dependencyTypes: [
          'npm',
          'npm-dev',
          'npm-optional',
          'npm-peer',
          'npm-bundled',
          'npm-no-pkg',
          'npm-unknown',
        ],
        pathNot: 'node_modules/(yaml|zod|canonicalize|js-quantities)/',
      },
    },
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'no-orphans',
      severity: 'error',
      from: { orphan: true, pathNot: '(main|\\.worker|\\.client|\\.d)\\.(ts|js)$' },
      to: {},
    },
    { name: 'no-unresolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
    },
  },
};
