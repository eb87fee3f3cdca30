/**
 * HTTP API, live stream (server-sent events, WHATWG HTML) and the page, on the loopback address only.
 * Proved by tests/journey.
 */
export { type Behind, type Served, serve } from './server.ts';
