import type { EnteredBy, StepAsked } from '../api/index.ts';
import type { GuideState } from '../guide/index.ts';
import type { Instant, Reason } from '../measure/index.ts';
import { canonicalText, plain } from '../record/index.ts';
import type { Book, Machine } from '../rulebook/index.ts';
import { decline } from './decline.ts';
import { DAEMON } from './guiding.ts';
import { PATIENCE, TOO_LONG } from './resuming.ts';
import type { Guide, WindowRun } from './window-run.ts';

export interface GuidedHands {
  readonly now: () => Instant;
  readonly settled: () => Promise<void>;
  /** The window that is open. */
  readonly current: () => WindowRun | undefined;
  readonly window: (id: string) => WindowRun | undefined;
  /** Guided windows that could not go on when the daemon began, as they stood. */
  readonly lost: ReadonlyMap<string, GuideState>;
  /** What the tag of a machine's revision shows now. */
  readonly revisionOf: (machine: Machine) => string | undefined;
  /** Ends the open window without a verdict. */
  readonly abandon: (why: Reason) => void;
}

/** What the daemon does for guided windows beside judging them. */
export interface Guided {
  guide(id: string): GuideState | undefined;
  step(id: string, asked: StepAsked, by: EnteredBy): Promise<GuideState>;
  follow(ear: (state: GuideState) => void): () => void;
  /** Somebody did something on the open window. */
  touched(): void;
  /** The open window goes on since now, after the daemon had been away. */
  resumed(): void;
  /** Something was read. */
  read(): void;
  /** Does what is due, and tells whoever follows; a few times a second. */
  tick(): void;
}

const guideOfRun = (run: WindowRun): Guide =>
  run.guide ?? decline({ code: 'guide-not-guided', params: { window: run.id } });

export const createGuided = (book: Book, hands: GuidedHands): Guided => {
  const followers = new Set<(state: GuideState) => void>();
  let told = '';
  /** Since when a window that goes on waits for people. */
  let waiting: Instant | undefined;
  /** Revisions to be entered again, by machine, as read last. */
  const owed = new Map<Machine, string>();

  const tell = (): void => {
    if (followers.size === 0) return;
    const state = hands.current()?.guide?.state();
    if (state === undefined) return;
    const now = canonicalText(plain(state));
    if (now === told) return;
    told = now;
    for (const ear of followers) ear(state);
  };

  return {
    guide(id) {
      const run = hands.window(id);
      return run === undefined ? hands.lost.get(id) : guideOfRun(run).state();
    },
    async step(id, asked, by) {
      const run = hands.window(id);
      if (run === undefined || run.closed())
        return decline({ code: 'guide-not-open', params: { window: id } });
      const guide = guideOfRun(run);
      guide.step(asked, by, hands.now());
      waiting = undefined;
      await hands.settled();
      return guide.state();
    },
    follow(ear) {
      followers.add(ear);
      const state = hands.current()?.guide?.state();
      if (state !== undefined) ear(state);
      return () => followers.delete(ear);
    },
    touched() {
      waiting = undefined;
    },
    resumed() {
      waiting = hands.now();
      for (const machine of book.machines) if (machine.revision !== undefined) owed.set(machine, '');
    },
    read() {
      for (const [machine, before] of owed) {
        const shown = hands.revisionOf(machine);
        if (shown === undefined) continue;
        owed.set(machine, shown);
        // Read twice alike: in the midst of a download words of two texts may stand side by side.
        if (shown !== before) continue;
        owed.delete(machine);
        const mark = {
          code: 'revision',
          at: hands.now(),
          machine: machine.index,
          text: shown,
          quality: 'tag',
        } as const;
        hands.current()?.mark(mark, DAEMON);
      }
    },
    tick() {
      const now = hands.now();
      hands.current()?.guide?.look(now);
      if (waiting !== undefined && now - waiting > PATIENCE) {
        waiting = undefined;
        hands.abandon(TOO_LONG);
      }
      tell();
    },
  };
};
