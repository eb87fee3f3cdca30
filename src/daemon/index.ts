/**
 * The only room that introduces the others to each other: clock, files, loop, shutdown, and the pipeline that the live
 * run and `recheck` share. Proved by tests/journey.
 */
export { type AuditedBundle, auditBundle, bundleOf } from './bundling.ts';
export { type Daemon, type OpenRequest, runDaemon } from './daemon.ts';
export { enterAtFile } from './desk/at-file.ts';
export type { Desk } from './desk/desk.ts';
export { lookAt, type SignedShort } from './desk/look.ts';
export { createFieldEvents } from './field-events.ts';
export { historyFrom } from './history.ts';
export { pageAgain, pageOf } from './paging.ts';
export type { DaemonOptions } from './preparing.ts';
export {
  judgeAgain,
  type Recheck,
  recheckWindow,
  type StoredWindow,
  storedWindow,
  windowNames,
} from './replay.ts';
export { reportFrom, reportNamed } from './reporting.ts';
