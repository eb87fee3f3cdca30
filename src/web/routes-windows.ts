import type { EnteredBy, PlanTold, WindowNow } from '../api/index.ts';
import type { Precaution } from '../guide/index.ts';
import type { Mark, Method, Stimulus } from '../judge/index.ts';
import type { Instant } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { On } from './answering.ts';
import { interlockNamed, markOf } from './marks.ts';
import { refuse } from './refusal.ts';

interface Run {
  readonly id: string;
  show(from: number): WindowNow;
}

export interface WindowsBehind {
  readonly book: Book;
  open(request: {
    readonly stimuli: readonly Stimulus[];
    readonly people: readonly { readonly name: string; readonly role: string }[];
    readonly note: string;
    readonly revisions: Readonly<Record<string, string>>;
    readonly by: EnteredBy | undefined;
    readonly guided?: { readonly permit: string; readonly precautions: readonly Precaution[] };
  }): Promise<Run>;
  /** What the planner says of these interlocks, from all that has been read so far. */
  plan(interlocks: readonly number[]): readonly PlanTold[];
  window(id: string): Run | undefined;
  mark(id: string, mark: (at: Instant) => Mark, by: EnteredBy): Promise<number>;
  close(id: string, by: EnteredBy): Promise<Run>;
}

/** Test windows: opened, marked, closed, shown. */
export const windowRoutes = (on: On, behind: WindowsBehind): void => {
  const { book } = behind;
  on('POST /api/windows', async ({ body, maybeBy }) => {
    const stimuli = body.stimuli.map(({ interlock, method }) => ({
      interlock: interlockNamed(book, interlock).id,
      method: method as Method,
    }));
    const { people, note, revisions, permit, precautions } = body;
    const run = await behind.open({
      stimuli,
      people,
      note,
      revisions,
      by: maybeBy(undefined),
      ...(body.guided && { guided: { permit, precautions } }),
    });
    return { window: run.id, plan: behind.plan(stimuli.map((one) => one.interlock)) };
  });
  on('GET /api/windows/:id', ({ places: { id }, query }, reply) => {
    const run = behind.window(id);
    if (run !== undefined) return run.show(query.from);
    return refuse(reply, 404, 'no-window', { window: id });
  });
  on('POST /api/windows/:id/marks', async ({ places, body, by }) => {
    const who = by(body.by);
    return { entry: await behind.mark(places.id, markOf(book, body, who.name), who) };
  });
  on('POST /api/windows/:id/close', async ({ places, body, maybeBy }) =>
    (await behind.close(places.id, maybeBy(body.by) ?? { name: 'not stated' })).show(0),
  );
};
