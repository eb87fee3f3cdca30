/**
 * The one table of who may import whom; the data walks from top to bottom.
 * The walls, the compiler projects and the tests of both are made from it.
 */
const ALL = [
  'measure',
  'words',
  'signal',
  'rulebook',
  'judge',
  'rehearse',
  'record',
  'guide',
  'report',
  'config',
  'api',
  'field',
  'store',
  'print',
  'web',
  'plant',
  'daemon',
];

const MAY_IMPORT = {
  measure: [],
  words: ['measure'],
  signal: ['measure'],
  rulebook: ['measure', 'signal'],
  judge: ['measure', 'signal', 'rulebook'],
  rehearse: ['measure', 'signal', 'rulebook', 'judge'],
  record: ['measure', 'signal', 'rulebook', 'judge'],
  guide: ['measure', 'signal', 'rulebook', 'judge', 'record'],
  report: ['measure', 'words', 'rulebook', 'judge', 'record'],
  config: ['measure', 'words', 'signal', 'rulebook', 'rehearse'],
  api: ['measure', 'rulebook', 'judge', 'record', 'guide', 'report'],
  field: ['measure', 'signal'],
  store: ['measure', 'record'],
  print: ['measure', 'words', 'rulebook', 'judge', 'record', 'report'],
  web: ['measure', 'words', 'rulebook', 'judge', 'record', 'guide', 'report', 'api', 'print'],
  /** In the browser; no other room imports it. */
  console: ['measure', 'words', 'rulebook', 'judge', 'guide', 'api'],
  plant: ['measure'],
  daemon: ALL.filter((room) => room !== 'daemon'),
  cli: ALL,
};

/** Rooms without clock, randomness or I/O. */
const PURE = [
  'measure',
  'words',
  'signal',
  'rulebook',
  'judge',
  'rehearse',
  'record',
  'guide',
  'report',
  'config',
  'api',
];

module.exports = { MAY_IMPORT, PURE };
