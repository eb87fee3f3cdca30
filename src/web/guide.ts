import type { EnteredBy, PlanNow, QueryOf, StepAsked } from '../api/index.ts';
import type { GuideState } from '../guide/index.ts';
import { METHODS, type Method, type Stimulus } from '../judge/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { On } from './answering.ts';
import { interlockNamed } from './marks.ts';
import { Barred, refuse } from './refusal.ts';

/** What the routes of guided windows need of the daemon. */
export interface GuideBehind {
  readonly book: Book;
  plans(stimuli: readonly Stimulus[]): readonly PlanNow[];
  guide(id: string): GuideState | undefined;
  step(id: string, asked: StepAsked, by: EnteredBy): Promise<GuideState>;
}

type PlanQuery = QueryOf<'GET /api/plan'>;

const listed = (text: string | undefined): readonly string[] =>
  (text ?? '').split(',').flatMap((one) => (one.trim() === '' ? [] : [one.trim()]));

const methodNamed = (name: string | undefined): Method => {
  const found = METHODS.find((one) => one === (name ?? 'unstated'));
  if (found === undefined) throw new Barred(400, 'no-method', { name: name ?? '', known: METHODS });
  return found;
};

/** `interlocks=a,b&methods=x,y`: one method for each, or one for all; none named: not stated. */
const stimuliOf = (book: Book, { interlocks, methods }: PlanQuery): readonly Stimulus[] => {
  const named = listed(interlocks);
  if (named.length === 0) throw new Barred(400, 'interlocks-unnamed');
  const ways = listed(methods);
  if (ways.length > 1 && ways.length !== named.length) throw new Barred(400, 'methods-not-fitting');
  return named.map((name, index) => ({
    interlock: interlockNamed(book, name).id,
    method: methodNamed(ways.length > 1 ? ways[index] : ways[0]),
  }));
};

/** Plans, and the way through a guided window. */
export const guideRoutes = (on: On, behind: GuideBehind): void => {
  on('GET /api/plan', ({ query }) => behind.plans(stimuliOf(behind.book, query)));
  on(
    'GET /api/windows/:id/guide',
    ({ places: { id } }, reply) => behind.guide(id) ?? refuse(reply, 404, 'no-window', { window: id }),
  );
  on('POST /api/windows/:id/steps', ({ places, body, by }) => behind.step(places.id, body, by(body.by)));
};
