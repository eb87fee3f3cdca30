/**
 * The only room that introduces the others to each other: clock, files, loop, shutdown, and the pipeline that the live
 * run, `recheck` and an imported trace share. Proved by tests/journey.
 */
export { type Daemon, type DaemonOptions, type OpenRequest, runDaemon } from './daemon.ts';
export { judgeAgain, type Recheck, recheckWindow, type StoredWindow, windowsOf } from './replay.ts';
export { type LogFacts, reportOf } from './reporting.ts';
