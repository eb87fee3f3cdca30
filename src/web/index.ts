/**
 * HTTP API, live streams (server-sent events, WHATWG HTML) and the page: on the loopback address, and abroad with accounts.
 * Proved by tests/rooms/web and tests/journey.
 */
export type { Place } from './place.ts';
export { type Behind, type Served, serve } from './server.ts';
