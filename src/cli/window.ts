import {
  type Client,
  createClient,
  type MarkRequest,
  type Now,
  type OpenWindow,
  Refused,
  type WindowNow,
} from '../api/index.ts';
import { exitCodeOf, type Outcome } from '../measure/index.ts';
import { WINDOW_ROLES, type WindowRole } from '../record/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop, say } from './io.ts';
import { adviceLine, changingLine, findingLines, mostUrgent, planLines, shownOf } from './lines.ts';
import { methodsOf } from './methods.ts';
import { knownAs, type WhoOptions } from './password.ts';

export interface WindowOptions extends WhoOptions {
  readonly json: boolean;
  readonly daemon: string;
  readonly interlock: readonly string[];
  readonly method: readonly string[];
  readonly person: readonly string[];
  readonly note?: string;
  readonly revision: readonly string[];
  /** Also what is about nothing under test, where the command knows it. */
  readonly all?: boolean;
}

/** Signed in for as long as the work takes, where an account is named. */
const signedIn = async <T>(client: Client, who: WhoOptions, work: () => Promise<T>): Promise<T> => {
  if (who.as === undefined) return work();
  const { as, password } = await knownAs(who.as, who);
  await client.signIn(as, password);
  try {
    return await work();
  } finally {
    await client.signOut();
  }
};

/** Calls the daemon; what it refuses, and its absence, end the command in words. `who`: signs in before. */
export const asking = async <T>(
  base: string,
  ask: (client: Client) => Promise<T>,
  who: WhoOptions = {},
): Promise<T> => {
  const client = createClient(base.replace(/\/$/, ''), fetch);
  try {
    return await signedIn(client, who, () => ask(client));
  } catch (cause) {
    if (cause instanceof Stop) throw cause;
    if (cause instanceof Refused) {
      throw new Stop(cause.message, { exit: cause.status >= 500 ? EXIT.software : EXIT.usage, cause });
    }
    throw new Stop(
      `no daemon answers at ${base}; start one with "tripwitness run SITE", or name it with --daemon`,
      {
        exit: EXIT.unavailable,
        cause,
      },
    );
  }
};

const pair = (text: string, what: string): [string, string] => {
  const cut = text.indexOf('=');
  if (cut < 1) throw new Stop(`"${text}" is not ${what}`, { exit: EXIT.usage });
  return [text.slice(0, cut), text.slice(cut + 1)];
};

const roleOf = (text: string): WindowRole => {
  const found = WINDOW_ROLES.find((role) => role === text.trim());
  if (found !== undefined) return found;
  throw new Stop(`--person: there is no role "${text}"; there are: ${WINDOW_ROLES.join(', ')}`, {
    exit: EXIT.usage,
  });
};

/** `sensor,screen=NAME`: one person may do several things. */
const peopleOf = (one: string): { readonly role: WindowRole; readonly name: string }[] => {
  const [roles, name] = pair(one, 'ROLE=NAME');
  return roles.split(',').map((role) => ({ role: roleOf(role), name }));
};

export const requestOf = (now: Now, options: WindowOptions): OpenWindow => {
  const names = options.interlock.length > 0 ? options.interlock : now.interlocks.map((one) => one.name);
  const methodOf = methodsOf(options.method);
  return {
    stimuli: names.map((interlock) => ({ interlock, method: methodOf(interlock) })),
    people: options.person.flatMap(peopleOf),
    note: options.note ?? '',
    revisions: Object.fromEntries(options.revision.map((one) => pair(one, 'MACHINE=REVISION'))),
  };
};

export const outcomesOf = (shown: WindowNow): Outcome[] =>
  shown.findings.flatMap(({ finding }) => (finding.kind === 'window' ? [finding.verdict.outcome] : []));

const headOf = ({ window, standing, opened, demand }: WindowNow): string =>
  `${window}  ${demand ? 'demand, ' : ''}${standing}  opened ${opened.slice(0, 19)}Z`;

/** Where a guided window stands, in a line or two; nothing of another. */
const guideLines = async (client: Client, window: string): Promise<readonly string[]> => {
  const state = await client.guide(window).catch((cause: unknown) => {
    if (cause instanceof Refused && (cause.code === 'guide-not-guided' || cause.code === 'no-window'))
      return undefined;
    throw cause;
  });
  if (state === undefined) return [];
  const stages = state.interlocks.map(({ name, stage }) => `${name} ${stage}`).join(', ');
  const open = state.open.length === 0 ? 'nothing is open' : `${state.open.length} things are open`;
  return [`guided: ${stages}`, `${open}${state.current === '' ? '' : `; now: ${state.current}`}`];
};

const told = (shown: WindowNow, all: boolean): void => {
  const findings = shownOf(shown.findings, all);
  out([headOf(shown), ...findings.flatMap(findingLines)].join('\n'));
  const kept = shown.findings.length - findings.length;
  if (kept > 0) out(`  (${kept} more findings about what is not under test: --all)`);
};

/** Verdicts, and dangers that nobody must miss because a window was closed over them. */
const toldClosed = (shown: WindowNow): void => {
  const last = shown.findings.filter(
    ({ finding }) => finding.kind === 'window' || (finding.kind === 'contradiction' && finding.dangerous),
  );
  out([headOf(shown), ...last.flatMap(findingLines)].join('\n'));
};

const current = async (client: Client, window: string | undefined): Promise<string> => {
  const id = window ?? (await client.now()).window?.id;
  if (id === undefined) throw new Stop('no window is open on this daemon', { exit: EXIT.usage });
  return id;
};

/** Who closes it: the account, else the first of the people. */
const closedBy = ({ as, person }: WindowOptions): string | undefined =>
  as === undefined ? person[0]?.split('=')[1] : undefined;

export const openCommand = async (options: WindowOptions): Promise<number> => {
  const opened = await asking(
    options.daemon,
    async (client) => client.open(requestOf(await client.now(), options)),
    options,
  );
  if (options.json) json(opened);
  else out([`opened ${opened.window}`, ...planLines(opened.plan)].join('\n'));
  return EXIT.ok;
};

export const showCommand = async (window: string | undefined, options: WindowOptions): Promise<number> => {
  const { shown, guide } = await asking(
    options.daemon,
    async (client) => {
      const id = await current(client, window);
      return { shown: await client.show(id), guide: options.json ? [] : await guideLines(client, id) };
    },
    options,
  );
  if (options.json) json(shown);
  else told(shown, options.all === true);
  for (const line of guide) out(hung(line, '  ').join('\n'));
  for (const one of options.json ? [] : shown.advice) say(hung(adviceLine(one), '> ').join('\n'));
  return EXIT.ok;
};

export const closeCommand = async (window: string | undefined, options: WindowOptions): Promise<number> => {
  const shown = await asking(
    options.daemon,
    async (client) => client.close(await current(client, window), closedBy(options)),
    options,
  );
  if (options.json) json(shown);
  else toldClosed(shown);
  return exitCodeOf(outcomesOf(shown));
};

export const markCommand = async (mark: MarkRequest, options: WindowOptions): Promise<number> => {
  const entered = await asking(
    options.daemon,
    async (client) => client.mark(await current(client, undefined), mark),
    options,
  );
  if (options.json) json(entered);
  else out(`entered: ${mark.code}`);
  return EXIT.ok;
};

/** Opens a window, follows its trials live, closes it when each interlock has its trials or the time is over. */
export const proveCommand = async (
  options: WindowOptions & { readonly timeLimit: string; readonly trials: string },
): Promise<number> => {
  const limit = Number(options.timeLimit);
  const trials = Number(options.trials);
  if (!(limit > 0) || !(trials > 0))
    throw new Stop('--time-limit and --trials are numbers above 0', { exit: EXIT.usage });
  const work = async (client: Client): Promise<number> => {
    const request = requestOf(await client.now(), options);
    const { window, plan } = await client.open(request);
    const needed = `${trials} complete trial${trials === 1 ? '' : 's'}`;
    const opened = `opened ${window}; it closes when each interlock has ${needed}, or after ${limit} s`;
    say([...hung(opened, ''), ...planLines(plan)].join('\n'));
    const foot = changingLine(process.stderr);
    const done = new Map<string, number>();
    const until = performance.now() + limit * 1_000;
    let from = 0;
    const complete = (): boolean => request.stimuli.every((one) => (done.get(one.interlock) ?? 0) >= trials);
    while (!complete() && performance.now() < until) {
      const shown = await client.show(window, from);
      foot.above(shownOf(shown.findings, options.all === true).flatMap(findingLines));
      foot.set(mostUrgent(shown.advice));
      for (const one of shown.findings) {
        // What came before the window, and what was broken off, is no trial of it.
        if (one.finding.kind === 'trial' && !one.aside && one.finding.verdict.standing === 'complete')
          done.set(one.interlock, (done.get(one.interlock) ?? 0) + 1);
      }
      from += shown.findings.length;
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    foot.set(undefined);
    const shown = await client.close(window, closedBy(options));
    if (options.json) json(shown);
    else toldClosed(shown);
    return exitCodeOf(outcomesOf(shown));
  };
  return asking(options.daemon, work, options);
};
