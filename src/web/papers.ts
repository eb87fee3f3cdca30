import type { AccountNow, EnteredNow, Entering, LogNow, RegisterItemNow, SigningNow } from '../api/index.ts';
import type { Account } from '../record/index.ts';
import type { On } from './answering.ts';
import { refuse } from './refusal.ts';

/** What the API needs of the daemon for signatures, corrections, register and accounts. */
export interface DeskBehind {
  /** `session`: the account that is signed in. */
  enter(request: Entering, session?: Account): Promise<EnteredNow>;
  log(): Promise<LogNow>;
  people(): Promise<readonly AccountNow[]>;
  register(): Promise<readonly RegisterItemNow[]>;
  signing(window: string): Promise<SigningNow | undefined>;
}

/** Passwords come in by these and go no further than the desk: no answer and no log line repeats what was sent. */
export const paperRoutes = (on: On, desk: DeskBehind): void => {
  on('GET /api/log', () => desk.log());
  on('GET /api/people', () => desk.people());
  on('GET /api/register', () => desk.register());
  on('GET /api/windows/:id/signing', async ({ places: { id } }, reply) => {
    const signing = await desk.signing(id);
    return signing ?? refuse(reply, 404, 'no-window-in-log', { window: id });
  });
  on('POST /api/entries', ({ body, request }) => desk.enter(body, request.signedIn?.account));
};
